"""File names that people can read and no system stumbles over.

Names hold chord and key and end in a short hash of what the file holds and of how the program makes it, so
that decks never overwrite each other's files and a corrected one is a new file.
"""

from __future__ import annotations

import re
from hashlib import sha256

from drills.theory.pitch import plain_signs

_UNSAFE = re.compile(r"[^A-Za-z0-9.+()-]+")


def short_hash(content: str) -> str:
    """Ten hexadecimal digits for what a file holds."""
    return sha256(content.encode()).hexdigest()[:10]


def file_stem(label: str, content_hash: str) -> str:
    """A file's name without its ending.

    Args:
        label: chord, key and grip in plain text.
        content_hash: sets apart what the label does not.

    >>> file_stem("Eb13#11 x-4-5-5-6-5", "0f1e2d3c4b")
    'Eb13sharp11_x-4-5-5-6-5_0f1e2d3c4b'
    """
    plain = plain_signs(label).replace("#", "sharp").replace("/", "-")
    words = _UNSAFE.sub("_", plain).strip("_")[:80]
    return f"{words}_{content_hash}"
