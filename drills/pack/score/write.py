"""Voicings as a score: a staff in treble clef 8vb, a tablature staff, chord symbols with their grips.

Conventions: every pitch is a sounding pitch; the clef says that it is written an octave higher. One voicing
is one half note in a measure of its own, so that stems tell the layers apart: the upper layer is the first
voice, stem up, the lower one the second, stem down, a middle one the third; each in its layer's colour. A
bare layer is one voice. Nothing comes from the clock or from chance.
Source: MusicXML 4.0 (W3C Music Notation Community Group, 2021).
"""

from __future__ import annotations

import io
from itertools import chain
from pathlib import Path
from xml.etree.ElementTree import ElementTree, indent

from drills.pack.files import refuse_foreign, whole_file
from drills.pack.score.complete import SOFTWARE, complete
from drills.pack.score.sheet import Sheet, check_range
from drills.pack.score.staves import staves_of
from drills.pack.score.tracks import midi_file


def check_notation(sheet: Sheet, musicxml: Path, midi: Path) -> None:
    """Raises before anything is written.

    Raises:
        DrillsError: a voicing is too wide for a staff, or one of the places is taken.
    """
    refuse_foreign(musicxml, _is_our_xml)
    refuse_foreign(midi, _is_our_midi)
    for subject in sheet.subjects:
        check_range(subject)


def write_musicxml(sheet: Sheet, path: Path) -> None:
    """Writes the score to `path`, whole or not at all.

    Raises:
        DrillsError: a voicing is too wide for a staff, or the place is taken or cannot be written.
    """
    refuse_foreign(path, _is_our_xml)
    for subject in sheet.subjects:
        check_range(subject)
    root = staves_of(sheet)
    complete(root, sheet)
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
    refuse_foreign(path, _is_our_midi)
    chords = [subject.sounding.midi for subject in chain.from_iterable(sheet.groups)]
    data = midi_file(chords, SOFTWARE)  # the track's name, by which we know a file of ours
    with whole_file(path) as file:
        file.write(data)


def _is_our_xml(path: Path) -> bool:
    with path.open("rb") as file:
        return f"<software>{SOFTWARE}</software>".encode() in file.read(2000)


def _is_our_midi(path: Path) -> bool:
    with path.open("rb") as file:
        return SOFTWARE.encode() in file.read(200)
