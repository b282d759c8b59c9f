"""The score inside a compressed MusicXML file, of which no more is unpacked than may be read.

Source: MusicXML 4.0, its compressed form: a zip file, deflated or stored, whose container names the score
(W3C Music Notation Community Group, 2021), from memory.
"""

from __future__ import annotations

import io
import re
import struct
import zipfile
import zlib
from typing import Final
from xml.sax.saxutils import unescape

from drills.pack.score.unreadable import too_much, unreadable

_CONTAINER: Final = "META-INF/container.xml"
_MOST_CONTAINER_BYTES: Final = 100_000
_ROOT_FILE: Final = re.compile(rb"""<rootfile\s[^>]*?full-path\s*=\s*["']([^"']+)""")
_ENDINGS: Final = (".xml", ".musicxml")
_LOCKED: Final = 0x1
"""The flag of an entry that has a password."""


def unpacked(data: bytes, most_bytes: int) -> bytes:
    """The score of a compressed file.

    Raises:
        DrillsError: it is no such file, it is broken, or it holds no score or one that is too large.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as package:
            return _read(package, _score_in(package), most_bytes)
    except (zipfile.BadZipFile, zlib.error, EOFError, OSError, struct.error, ValueError):
        mend = "copy or export it again; a score that is not compressed ends in .musicxml"
        raise unreadable("MusicXML", "as a compressed file it is broken or cut off", mend=mend) from None


def _score_in(package: zipfile.ZipFile) -> zipfile.ZipInfo:
    """The entry that the container names, or the first that may be a score."""
    entries = {each.filename: each for each in package.infolist()}
    container = entries.pop(_CONTAINER, None)
    named = _ROOT_FILE.search(_read(package, container, _MOST_CONTAINER_BYTES)) if container else None
    name = unescape(named[1].decode(errors="replace")) if named else ""
    scores = (
        each for each in entries if each.lower().endswith(_ENDINGS) and not each.startswith("META-INF/")
    )
    entry = entries.get(name) or entries.get(next(scores, ""))
    if entry is None:
        raise unreadable("MusicXML", "no score inside")
    return entry


def _read(package: zipfile.ZipFile, entry: zipfile.ZipInfo, most_bytes: int) -> bytes:
    if entry.flag_bits & _LOCKED:
        raise unreadable("MusicXML", "a password locks it", mend="export it without one")
    if entry.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
        raise unreadable("MusicXML", "it is compressed in another way than such files are")
    with package.open(entry) as file:
        data = file.read(most_bytes + 1)  # what it says of its size need not be true
    if len(data) > most_bytes:
        raise too_much(f"{entry.filename[:40]!r} in it is over {most_bytes / 1e6:.1f} MB")
    return data
