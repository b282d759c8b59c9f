"""What begins together in a MusicXML file.

Conventions: pitches are sounding pitches, those of transposing instruments too. What is tied over, graced or
without a pitch is not struck.
Source: MusicXML 4.0, elements transpose, tie and grace (W3C Music Notation Community Group, 2021).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from drills.pack.score.heard import Beginning, HeardNote
from drills.pack.score.read_tree import tree
from drills.theory.pitch import LETTERS, NoteName

if TYPE_CHECKING:
    from music21 import stream


def beginnings(data: bytes, most_measures: int, most_notes: int) -> Iterator[Beginning]:
    """What begins together, in time order.

    Raises:
        DrillsError: it is no score, or more than that.
        Exception: whatever music21 meets.
    """
    from music21 import harmony, note, stream
    from music21.musicxml.xmlToM21 import MusicXMLImporter

    importer = MusicXMLImporter()
    score: stream.Score = importer.stream  # parts of two staves are put there, wherever else a score would go
    importer.xmlRootToScore(tree(data, most_measures, most_notes), score)
    score.toSoundingPitch(inPlace=True)
    found: dict[float, Beginning] = {}
    for turn, part in enumerate(score.getElementsByClass(stream.Part)):
        for each in part.recurse().getElementsByClass(note.NotRest):
            offset = float(each.getOffsetInHierarchy(part))
            begun = found.get(offset) or Beginning(_where(each))
            if isinstance(each, harmony.ChordSymbol):
                begun.root = _name(each.root())
            elif _is_struck(each):
                voice = (turn, str(each.activeSite.id) if isinstance(each.activeSite, stream.Voice) else "")
                begun.notes += [HeardNote(round(pitch.ps), _name(pitch), voice) for pitch in each.pitches]
            found[offset] = begun
    yield from (found[offset] for offset in sorted(found))


def _is_struck(each: Any) -> bool:
    """Whether it has pitches that are struck here: no percussion, no grace note, no note tied over."""
    is_begun = each.tie is None or each.tie.type == "start"
    return bool(each.pitches) and is_begun and not each.duration.isGrace


def _name(pitch: Any) -> NoteName:
    """The spelling of a pitch; a triple sign, which we do not know, gives way to a plainer name."""
    plain = pitch if abs(pitch.alter) <= 2 else pitch.simplifyEnharmonic()
    return NoteName(LETTERS.index(plain.step), round(plain.alter))


def _where(each: Any) -> str:
    beat = float(each.beat)
    return f"measure {each.measureNumber}" + ("" if beat == 1 else f", beat {beat:g}")
