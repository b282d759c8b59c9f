"""The staves of a score, as music21 writes them: notes, clefs, signatures, measures and titles."""

from __future__ import annotations

import logging
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any, Final
from xml.etree.ElementTree import Element

from drills.cards.subject import Subject
from drills.pack.score.sheet import HALF_NOTE, Sheet, clef_name
from drills.theory.pitch import LETTERS, Pitch
from drills.theory.signature import fitting_signature, signed
from drills.theory.voicing import Role

if TYPE_CHECKING:
    from music21 import stream

MEASURES_A_LINE: Final = 4

_VOICES: Final[dict[Role, int]] = {"upper": 1, "single": 1, "lower": 2, "middle": 3}
# The layers' colours of the neck, the upper one's darkened for white paper (3.6:1 instead of 2.2:1).
_COLOURS: Final[dict[Role, str]] = {
    "lower": "#0072B2",
    "upper": "#AB7600",
    "middle": "#C2405E",
    "single": "#000000",
}
_STEMS: Final = {1: "up", 2: "down", 3: "down"}


def staves_of(sheet: Sheet) -> Element:
    """The score without what music21 has no words for."""
    from music21 import layout, metadata, stream
    from music21.musicxml.m21ToXml import ScoreExporter

    logging.getLogger("music21").setLevel(logging.ERROR)
    staff, tablature = stream.PartStaff(id="staff"), stream.PartStaff(id="tablature")
    staff.partName = "Guitar"
    for upper, lower in _measures(sheet):
        staff.append(upper)
        tablature.append(lower)
    score: stream.Score = stream.Score()
    score.metadata = metadata.Metadata(title=sheet.title)
    for each in (staff, tablature, layout.StaffGroup([staff, tablature], symbol="bracket")):
        score.insert(0, each)
    root: Element = ScoreExporter(score, makeNotation=False).parse()
    return root


def _measures(sheet: Sheet) -> Iterator[tuple[stream.Measure, stream.Measure]]:
    """A measure of each staff for every voicing, a line of the page for every four."""
    from music21 import clef, layout, meter

    number, clef_now = 0, ""
    for group in sheet.groups:
        for place, subject in enumerate(group):
            number += 1
            upper, lower = _measure(subject, number)
            if place == 0:
                upper.insert(0, _title(subject))
                if clef_name(group) != clef_now:
                    clef_now = clef_name(group)
                    upper.insert(0, getattr(clef, clef_now)())
            if number == 1:
                upper.insert(0, meter.TimeSignature("2/4"))
                lower.insert(0, clef.TabClef())
            elif place % MEASURES_A_LINE == 0:
                upper.insert(0, layout.SystemLayout(isNew=True))
            if place == len(group) - 1:
                upper.rightBarline = "double"
            yield upper, lower


def _measure(subject: Subject, number: int) -> tuple[stream.Measure, stream.Measure]:
    """A voicing on both staves; the tablature has no stems."""
    from music21 import key, stream

    upper, lower = stream.Measure(number=number), stream.Measure(number=number)
    fifths = fitting_signature((*subject.sounding.names, subject.root))
    upper.keySignature = key.KeySignature(fifths)
    _sound(upper, subject, fifths)
    fretted = _chord(subject.sounding.pitches, fifths)
    fretted.stemDirection = "noStem"
    lower.append(fretted)
    return upper, lower


def _title(subject: Subject) -> Any:
    """What a voicing is called, above its first measure."""
    from music21 import expressions

    called = ": ".join(part for part in (subject.nickname, subject.voicing.shown) if part)
    title: Any = expressions.TextExpression(called)
    title.placement = "above"
    title.style.fontWeight = "bold"
    return title


def _sound(measure: stream.Measure, subject: Subject, fifths: int) -> None:
    """One voice for each layer."""
    from music21 import stream

    for layer in sorted(subject.layers, key=lambda layer: _VOICES[layer.role]):
        number = _VOICES[layer.role]
        notes = _chord(subject.sounding.pitches[layer.places], fifths)
        notes.stemDirection = _STEMS[number] if len(subject.layers) > 1 else "unspecified"
        for each in notes.notes:
            each.style.color = _COLOURS[layer.role]
        voice: stream.Voice = stream.Voice(id=str(number))
        voice.append(notes)
        measure.insert(0, voice)


def _chord(pitches: Sequence[Pitch], fifths: int) -> Any:
    from music21 import chord

    return chord.Chord([_pitch(each, fifths) for each in pitches], quarterLength=HALF_NOTE)


def _pitch(each: Pitch, fifths: int) -> Any:
    """A pitch that shows its sign where the signature does not give it.

    music21 could work that out, in four times the time of all the rest.
    """
    from music21 import pitch

    made = pitch.Pitch(LETTERS[each.name.letter], octave=each.octave)
    is_signed = each.name.alter_semitones != signed(each.name.letter, fifths)
    if each.name.alter_semitones or is_signed:
        made.accidental = pitch.Accidental(each.name.alter_semitones)
        made.accidental.displayStatus = is_signed
    return made
