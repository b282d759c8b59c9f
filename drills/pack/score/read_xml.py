"""What begins together in a MusicXML file.

Conventions: pitches are sounding pitches, those of transposing instruments too. What is tied over, graced or
without a pitch is not struck.
Source: MusicXML 4.0, elements transpose, tie and grace, and its compressed form (W3C Music Notation
Community Group, 2021).
"""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from drills.pack.score.heard import Beginning, HeardNote
from drills.theory.pitch import LETTERS, NoteName

if TYPE_CHECKING:
    from music21 import stream


def unpacked(data: bytes, most_bytes: int) -> bytes:
    """The score inside a compressed file.

    Raises:
        ValueError: it holds no score, or one that is too large.
        zipfile.BadZipFile: it is no compressed file.
    """
    with zipfile.ZipFile(io.BytesIO(data)) as package:
        names = (each for each in package.namelist() if not each.startswith("META-INF/"))
        name = next((each for each in names if each.lower().endswith((".xml", ".musicxml"))), None)
        if name is None:
            raise ValueError("no score inside")
        if package.getinfo(name).file_size > most_bytes:
            raise ValueError("the score inside is too large")
        return package.read(name)


def beginnings(data: bytes) -> Iterator[Beginning]:
    """What begins together, in time order.

    Raises:
        Exception: whatever the parsers of music21 meet.
    """
    from music21 import converter, harmony, note, stream

    score: stream.Stream[Any] = converter.parseData(data, format="musicxml").toSoundingPitch()
    found: dict[float, Beginning] = {}
    for turn, part in enumerate(score.getElementsByClass(stream.Part) or [score]):
        for each in part.recurse().getElementsByClass(note.NotRest):
            offset = float(each.getOffsetInHierarchy(part))
            begun = found.get(offset) or Beginning(_where(each))
            if isinstance(each, harmony.ChordSymbol):
                begun.root = _root(each) or begun.root
            elif _is_struck(each):
                voice = (turn, str(each.activeSite.id) if isinstance(each.activeSite, stream.Voice) else "")
                begun.notes += [HeardNote(round(pitch.ps), _name(pitch), voice) for pitch in each.pitches]
            found[offset] = begun
    yield from (found[offset] for offset in sorted(found))


def _is_struck(each: Any) -> bool:
    """Whether it has pitches that are struck here: no percussion, no grace note, no note tied over."""
    is_begun = each.tie is None or each.tie.type == "start"
    return bool(each.pitches) and is_begun and not each.duration.isGrace


def _root(symbol: Any) -> NoteName | None:
    from music21 import harmony

    return None if isinstance(symbol, harmony.NoChord) or symbol.root() is None else _name(symbol.root())


def _name(pitch: Any) -> NoteName:
    """The spelling of a pitch; a triple sign, which we do not know, gives way to a plainer name."""
    plain = pitch if abs(pitch.alter) <= 2 else pitch.simplifyEnharmonic()
    return NoteName(LETTERS.index(plain.step), round(plain.alter))


def _where(each: Any) -> str:
    beat = float(each.beat)
    return f"measure {each.measureNumber}" + ("" if beat == 1 else f", beat {beat:g}")
