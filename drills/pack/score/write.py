"""Voicings as a score: a staff in treble clef 8vb, a tablature staff, chord symbols with their grips.

Conventions: every pitch is a sounding pitch; the clef says that it is written an octave higher. One voicing
is one half note in a measure of its own, so that stems tell the layers apart: the upper layer is the first
voice, stem up, the lower one the second, stem down, a middle one the third; each in its layer's colour. A
bare layer is one voice. music21 writes notes, staves and measures; what it has no words for (the tuning of
the tablature, strings and frets of its notes, grips) is put in afterwards. Nothing comes from the clock or
from chance.
Source: MusicXML 4.0 (W3C Music Notation Community Group, 2021).
"""

from __future__ import annotations

import io
import logging
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain, groupby
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final
from xml.etree.ElementTree import Element, ElementTree, SubElement, indent

from drills.cards.identity import voicing_identity
from drills.cards.subject import Subject
from drills.errors import DrillsError
from drills.neck.instrument import Instrument
from drills.pack.files import refuse_foreign, whole_file
from drills.pack.score.harmony import harmony_element
from drills.theory.chord import FOURTHS
from drills.theory.naming import chord_of
from drills.theory.pitch import LETTERS, Pitch
from drills.theory.signature import fitting_signature, signed
from drills.theory.voicing import Role

if TYPE_CHECKING:
    from music21 import stream

SOFTWARE: Final = "layered-voicing drills"
MIDI_MARK: Final = b"layered-voicing drills"

MEASURES_A_LINE: Final = 4
_HALF_NOTE: Final = 2.0
_BEATS_A_MINUTE: Final = 60

_VOICES: Final[dict[Role, int]] = {"upper": 1, "single": 1, "lower": 2, "middle": 3}
# The layers' colours of the neck, the upper one's darkened for white paper (3.6:1 instead of 2.2:1).
_COLOURS: Final[dict[Role, str]] = {
    "lower": "#0072B2",
    "upper": "#AB7600",
    "middle": "#C2405E",
    "single": "#000000",
}
_STEMS: Final = {1: "up", 2: "down", 3: "down"}

_MOST_LEDGER_LINES: Final = 7
_TREBLE_LINES: Final = (30, 38)
"""The outer lines of the treble clef 8vb, E3 and F4 as they sound, in letters above C of octave -1."""
_BASS_LINES: Final = (25, 33)
"""The outer lines of the bass clef, G2 and A3."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """What goes onto a score.

    Attributes:
        title: of the deck.
        subjects: the voicings, each in its keys.
        instrument: what they are played on.
    """

    title: str
    subjects: tuple[Subject, ...]
    instrument: Instrument

    @property
    def groups(self) -> Iterator[tuple[Subject, ...]]:
        """One voicing after another, its keys by fourths."""
        for _, group in groupby(self.subjects, voicing_identity):
            yield tuple(sorted(group, key=lambda each: FOURTHS.index(each.root.pitch_class)))


def check_notation(sheet: Sheet, musicxml: Path, midi: Path) -> None:
    """Raises before anything is written.

    Raises:
        DrillsError: a voicing is too wide for a staff, or one of the places is taken.
    """
    refuse_foreign(musicxml, _is_our_xml)
    refuse_foreign(midi, _is_our_midi)
    for subject in sheet.subjects:
        _check_range(subject)


def write_musicxml(sheet: Sheet, path: Path) -> None:
    """Writes the score to `path`, whole or not at all.

    Raises:
        DrillsError: a voicing is too wide for a staff, or the place is taken or cannot be written.
    """
    refuse_foreign(path, _is_our_xml)
    for subject in sheet.subjects:
        _check_range(subject)
    root = _exported(sheet)
    _complete(root, sheet)
    indent(root, " ")
    text = io.BytesIO()
    ElementTree(root).write(text, encoding="utf-8", xml_declaration=True)
    with whole_file(path) as file:
        file.write(text.getvalue())


def write_midi(sheet: Sheet, path: Path) -> None:
    """Writes the chords one after another, two seconds each, as a MIDI file.

    Raises:
        DrillsError: the place is taken or cannot be written.
    """
    from music21 import chord, instrument, midi, stream, tempo

    refuse_foreign(path, _is_our_midi)
    guitar = instrument.AcousticGuitar()
    guitar.partName = SOFTWARE  # the track's name, by which we know a file of ours
    part: stream.Part = stream.Part([guitar])
    part.append(tempo.MetronomeMark(number=_BEATS_A_MINUTE))
    for subject in chain.from_iterable(sheet.groups):
        part.append(chord.Chord(list(subject.sounding.midi), quarterLength=_HALF_NOTE))
    with whole_file(path) as file:
        file.write(midi.translate.music21ObjectToMidiFile(part).writestr())


def ledger_lines(pitch: Pitch, lines: tuple[int, int]) -> int:
    """How many ledger lines a note needs beyond the outer lines of a clef."""
    place = pitch.octave * 7 + pitch.name.letter + 7
    return max(0, (lines[0] - place) // 2, (place - lines[1]) // 2)


def _check_range(subject: Subject) -> None:
    most = min(_most_ledger_lines([subject], lines) for lines in (_TREBLE_LINES, _BASS_LINES))
    if most > _MOST_LEDGER_LINES:
        notes = " ".join(pitch.plain for pitch in subject.sounding.pitches)
        what = f"{notes} would need {most} ledger lines, more than a staff can show well"
        raise DrillsError(what, where="notation", mend="bring its layers closer together")


def _most_ledger_lines(group: Sequence[Subject], lines: tuple[int, int]) -> int:
    return max(ledger_lines(pitch, lines) for subject in group for pitch in subject.sounding.pitches)


# --- what music21 writes ---------------------------------------------------------------------------


def _exported(sheet: Sheet) -> Element:
    from music21 import clef, expressions, key, layout, metadata, meter, stream
    from music21.musicxml.m21ToXml import ScoreExporter

    logging.getLogger("music21").setLevel(logging.ERROR)
    staff, tablature = stream.PartStaff(id="staff"), stream.PartStaff(id="tablature")
    staff.partName = "Guitar"
    number, clef_name = 0, ""
    for group in sheet.groups:
        for place, subject in enumerate(group):
            number += 1
            upper, lower = stream.Measure(number=number), stream.Measure(number=number)
            if place == 0:
                upper.insert(0, expressions.RehearsalMark(_called(subject)))
                if _clef_name(group) != clef_name:
                    clef_name = _clef_name(group)
                    upper.insert(0, getattr(clef, clef_name)())
            if number == 1:
                upper.insert(0, meter.TimeSignature("2/4"))
                lower.insert(0, clef.TabClef())
            elif place % MEASURES_A_LINE == 0:
                upper.insert(0, layout.SystemLayout(isNew=True))
            fifths = fitting_signature((*subject.sounding.names, subject.root))
            upper.keySignature = key.KeySignature(fifths)
            _sound(upper, subject, fifths)
            lower.append(_chord(subject.sounding.pitches, fifths))
            if place == len(group) - 1:
                upper.rightBarline = "double"
            staff.append(upper)
            tablature.append(lower)
    score: stream.Score = stream.Score()
    score.metadata = metadata.Metadata(title=sheet.title)
    score.insert(0, staff)
    score.insert(0, tablature)
    score.insert(0, layout.StaffGroup([staff, tablature], symbol="bracket"))
    root: Element = ScoreExporter(score, makeNotation=False).parse()
    return root


def _clef_name(group: Sequence[Subject]) -> str:
    """The clef under which a voicing needs fewer ledger lines in all its keys; the treble one if in doubt."""
    is_low = _most_ledger_lines(group, _BASS_LINES) < _most_ledger_lines(group, _TREBLE_LINES)
    return "BassClef" if is_low else "Treble8vbClef"


def _called(subject: Subject) -> str:
    degrees = subject.voicing.shown
    return f"{subject.nickname}: {degrees}" if subject.nickname else degrees


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

    return chord.Chord([_pitch(each, fifths) for each in pitches], quarterLength=_HALF_NOTE)


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


# --- what is put in afterwards ---------------------------------------------------------------------


def _complete(root: Element, sheet: Sheet) -> None:
    """Fixed stamps, the tuning, and for each measure its symbol, its strings and its frets."""
    _sign(root)
    part = _found(root, "part")
    for each in (_found(root, "part-list/score-part"), part):
        each.set("id", "P1")
    subjects = [subject for group in sheet.groups for subject in group]
    measures = part.findall("measure")
    _found(measures[0], "attributes").append(_staff_details(sheet.instrument))
    for measure, subject in zip(measures, subjects, strict=True):
        notes = measure.findall("note")
        _add_frets([note for note in notes if note.findtext("staff") == "2"], subject)
        chord = subject.chord or chord_of(subject.reading, subject.root)
        symbol = harmony_element(chord, subject.grip)
        SubElement(symbol, "staff").text = "1"
        measure.insert(list(measure).index(notes[0]), symbol)


def _sign(root: Element) -> None:
    """Our own name, and no date: the same deck is the same file."""
    identification = _found(root, "identification")
    for creator in identification.findall("creator"):
        identification.remove(creator)
    encoding = _found(identification, "encoding")
    encoding.remove(_found(encoding, "encoding-date"))
    _found(encoding, "software").text = SOFTWARE


def _staff_details(instrument: Instrument) -> Element:
    """The strings of the tablature: line 1 is the lowest, the lowest string."""
    details = Element("staff-details", {"number": "2"})
    SubElement(details, "staff-lines").text = str(len(instrument.open_midi))
    for line, pitch in enumerate(instrument.tuning.open_pitches, start=1):
        tuning = SubElement(details, "staff-tuning", {"line": str(line)})
        SubElement(tuning, "tuning-step").text = LETTERS[pitch.name.letter]
        if pitch.name.alter_semitones:
            SubElement(tuning, "tuning-alter").text = str(pitch.name.alter_semitones)
        SubElement(tuning, "tuning-octave").text = str(pitch.octave)
    if instrument.capo:
        SubElement(details, "capo").text = str(instrument.capo)
    return details


def _add_frets(notes: list[Element], subject: Subject) -> None:
    """String and fret of each note, low to high."""
    strings = len(subject.grip.frets)
    for note, string in zip(notes, _strings_by_note(subject), strict=True):
        technical = SubElement(_notations(note), "technical")
        SubElement(technical, "string").text = str(strings - string)
        SubElement(technical, "fret").text = str(subject.grip.frets[string])


def _notations(note: Element) -> Element:
    """The place for signs at a note; only lyrics, play and listen may follow it."""
    found = note.find("notations")
    return found if found is not None else SubElement(note, "notations")


def _strings_by_note(subject: Subject) -> list[int]:
    open_midi = subject.instrument.open_midi
    return sorted(
        subject.grip.strings, key=lambda string: open_midi[string] + (subject.grip.frets[string] or 0)
    )


def _found(element: Element, path: str) -> Element:
    found = element.find(path)
    if found is None:
        raise ValueError(f"no {path} in what music21 wrote")
    return found


def _is_our_xml(path: Path) -> bool:
    with path.open("rb") as file:
        return f"<software>{SOFTWARE}</software>".encode() in file.read(2000)


def _is_our_midi(path: Path) -> bool:
    with path.open("rb") as file:
        return MIDI_MARK in file.read(200)
