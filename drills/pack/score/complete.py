"""What a score gets that music21 has no words for: tuning, strings, frets and grips; and fixed stamps.

Source: MusicXML 4.0, elements staff-details, technical and harmony (W3C Music Notation Community Group,
2021).
"""

from __future__ import annotations

from typing import Final
from xml.etree.ElementTree import Element, SubElement

from drills.cards.subject import Subject
from drills.neck.instrument import Instrument
from drills.pack.score.harmony import harmony_element
from drills.pack.score.sheet import Sheet
from drills.theory.naming import chord_of
from drills.theory.pitch import LETTERS

SOFTWARE: Final = "layered-voicing drills"


def complete(root: Element, sheet: Sheet) -> None:
    """Fixed stamps, the tuning, and for each measure its symbol, its strings and its frets."""
    _sign(root)
    part = _found(root, "part")
    for each in (_found(root, "part-list/score-part"), part):
        each.set("id", "P1")
    subjects = [subject for group in sheet.groups for subject in group]
    measures = part.findall("measure")
    attributes = _found(measures[0], "attributes")
    attributes.append(_staff_details(sheet.instrument))
    _found(attributes, "time").set("print-object", "no")  # a list of chords has no metre
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
