"""Chord symbols and fret diagrams say in MusicXML what the chord and the grip are.

Outside check: the degrees of each kind as the MusicXML 4.0 documentation lists them (kind-value; from
memory), with degrees added and taken away, sound the chord.
"""

from __future__ import annotations

from xml.etree.ElementTree import Element

import pytest

from drills.neck.grip import Grip
from drills.pack.score.harmony import frame_element, harmony_element
from drills.theory.chord import read_chord

GRIP = Grip((None, 4, 5, 5, 6, 5), (None, 1, 2, 2, 4, 2), 56.0, 2, 1, is_long_reach=False)
KINDS = {
    "major": {0, 4, 7},
    "minor": {0, 3, 7},
    "augmented": {0, 4, 8},
    "diminished": {0, 3, 6},
    "dominant": {0, 4, 7, 10},
    "major-seventh": {0, 4, 7, 11},
    "minor-seventh": {0, 3, 7, 10},
    "diminished-seventh": {0, 3, 6, 9},
    "augmented-seventh": {0, 4, 8, 10},
    "half-diminished": {0, 3, 6, 10},
    "major-minor": {0, 3, 7, 11},
    "major-sixth": {0, 4, 7, 9},
    "minor-sixth": {0, 3, 7, 9},
    "suspended-fourth": {0, 5, 7},
    "power": {0, 7},
    "other": {0},
}
NATURAL = {1: 0, 2: 2, 3: 4, 4: 5, 5: 7, 6: 9, 7: 10, 9: 2, 11: 5, 13: 9}
SYMBOLS = (
    "C Cm C5 Caug Cdim C6 Cm6 C6/9 C7 Cmaj7 Cm7 Cm7b5 Cdim7 Cm(maj7) C9 Cmaj9 Cm9 Cm9b5 Cm11 C13 Cmaj13 Cm13 "
    "C13#11 Cmaj9#11 C7b9 C7#9 C7b5 C7#5 C7b9b13 C7alt C7sus4 C9sus4 C13sus4 Csus4 Csus2 Cm9(maj7) C7(no3)"
).split()


def sounded(harmony: Element) -> set[int]:
    """What a program that plays the symbol would play, in semitones over the root."""
    kind = harmony.findtext("kind", "")
    tones = set(KINDS[kind])
    for degree in harmony.findall("degree"):
        number, alter = int(degree.findtext("degree-value", "")), int(degree.findtext("degree-alter", ""))
        semitones = (NATURAL[number] + alter) % 12
        if degree.findtext("degree-type") == "add":
            assert semitones not in tones
            tones.add(semitones)
        else:
            gone = {tone for tone in KINDS[kind] if tone in {NATURAL[number], NATURAL[number] - 1}}
            tones -= {semitones} if semitones in tones else gone
    return tones


@pytest.mark.parametrize("symbol", SYMBOLS)
def test_kind_and_degrees_sound_the_chord(symbol: str) -> None:
    """Nothing more, nothing less."""
    chord = read_chord(symbol)
    harmony = harmony_element(chord, GRIP)
    assert sounded(harmony) == {each.semitones for each in chord.degrees}
    kind = harmony.find("kind")
    assert kind is not None
    assert kind.get("text") == chord.symbol.shown


def test_root_and_bass_are_spelled() -> None:
    """The bass stands after the kind, as the schema wants it."""
    harmony = harmony_element(read_chord("Ebmaj7/Bb"), GRIP)
    assert [child.tag for child in harmony][:3] == ["root", "kind", "bass"]
    assert (harmony.findtext("root/root-step"), harmony.findtext("root/root-alter")) == ("E", "-1")
    assert (harmony.findtext("bass/bass-step"), harmony.findtext("bass/bass-alter")) == ("B", "-1")


def test_a_frame_shows_strings_frets_fingers_and_barres() -> None:
    """Strings are numbered from the highest; a barre begins on its lowest string and ends on its highest."""
    frame = frame_element(GRIP)
    assert frame.findtext("first-fret") == "4"
    rows = [
        (note.findtext("string"), note.findtext("fret"), note.findtext("fingering"), _barre(note))
        for note in frame.findall("frame-note")
    ]
    assert rows == [
        ("5", "4", "1", None),
        ("4", "5", "2", "start"),
        ("3", "5", "2", None),
        ("2", "6", "4", None),
        ("1", "5", "2", "stop"),
    ]


def _barre(note: Element) -> str | None:
    barre = note.find("barre")
    return None if barre is None else barre.get("type")


def test_a_frame_near_the_nut_begins_there() -> None:
    """Open strings have no finger."""
    frame = frame_element(Grip((0, 2, 5, 2, 3, 2), (0, 1, 4, 1, 2, 1), 91.9, 3, 1, is_long_reach=False))
    assert frame.find("first-fret") is None
    assert frame.findtext("frame-frets") == "5"
    first = frame.find("frame-note")
    assert first is not None
    assert (first.findtext("fret"), first.find("fingering")) == ("0", None)
