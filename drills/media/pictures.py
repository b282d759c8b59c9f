"""Pictures by name: what a picture is called, and its bytes when somebody asks for them.

Names are readable, with chord and key in them, and end in a short hash of what is drawn and of how the
program draws, so that decks never overwrite each other's pictures and a corrected picture is a new one.
"""

from __future__ import annotations

import re
from functools import lru_cache
from hashlib import sha256

from drills.cards.card import PictureSpec
from drills.draw.neck import look_fingerprint, render_pair

_UNSAFE = re.compile(r"[^A-Za-z0-9.+()-]+")


class Pictures:
    """Names and draws neck pictures, light and dark."""

    def names(self, picture: PictureSpec, label: str) -> tuple[str, str]:
        """File names for the day's and the night's picture, without drawing either.

        Args:
            picture: what is shown.
            label: chord, key and grip in plain text, such as "Eb13#11 x-4-5-5-6-5".
        """
        words = _UNSAFE.sub("_", label.replace("#", "sharp").replace("/", "-")).strip("_")[:80]
        stem = f"{words}_{_digest(picture)}"
        return f"{stem}_day.png", f"{stem}_night.png"

    def render(self, picture: PictureSpec) -> tuple[bytes, bytes]:
        """The PNG bytes of both."""
        return render_pair(picture)


@lru_cache(maxsize=4096)
def _digest(picture: PictureSpec) -> str:
    return sha256(f"{look_fingerprint()} {picture!r}".encode()).hexdigest()[:10]
