"""A picture in a file of its own: it bears our mark, and is never written over a picture that does not.

The mark is a text chunk with the keyword Software, behind the header (W3C, PNG Specification, chunk tEXt).
"""

from __future__ import annotations

from pathlib import Path
from zlib import crc32

from drills.pack.files import refuse_foreign, whole_file

_HEADER_BYTES = 33
"""The signature of a PNG file and its first chunk, IHDR."""

_NAMED_TEXT = b"tEXtSoftware\0layered-voicing drills"
_MARK = (len(_NAMED_TEXT) - len("tEXt")).to_bytes(4) + _NAMED_TEXT + crc32(_NAMED_TEXT).to_bytes(4)


def write_picture(path: Path, png: bytes) -> None:
    """Writes a PNG picture; one that this program wrote earlier is replaced.

    Raises:
        DrillsError: something else is there, which stays, or the file cannot be written.
    """
    refuse_foreign(path, _is_ours)
    with whole_file(path) as file:
        file.write(png[:_HEADER_BYTES] + _MARK + png[_HEADER_BYTES:])


def _is_ours(path: Path) -> bool:
    with path.open("rb") as file:
        return file.read(_HEADER_BYTES + len(_MARK)).endswith(_MARK)
