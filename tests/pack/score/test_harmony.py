"""Chord symbols and fret diagrams say in MusicXML what the chord and the grip are.

Outside check: the tones of each kind as the MusicXML 4.0 documentation lists them (kind-value; from memory),
with degrees added, altered and taken away as it says (degree-alter; from memory), sound the chord.
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
    "dominant-ninth": {0, 4, 7, 10, 14},
    "major-ninth": {0, 4, 7, 11, 14},
    "minor-ninth": {0, 3, 7, 10, 14},
    "dominant-11th": {0, 4, 7, 10, 14, 17},
    "major-11th": {0, 4, 7, 11, 14, 17},
    "minor-11th": {0, 3, 7, 10, 14, 17},
    "dominant-13th": {0, 4, 7, 10, 14, 17, 21},
    "major-13th": {0, 4, 7, 11, 14, 17, 21},
    "minor-13th": {0, 3, 7, 10, 14, 17, 21},
    "suspended-second": {0, 2, 7},
    "suspended-fourth": {0, 5, 7},
    "power": {0, 7},
}
NATURAL = {1: 0, 2: 2, 3: 4, 4: 5, 5: 7, 6: 9, 7: 10, 9: 14, 11: 17, 13: 21}
"""Semitones of the degrees that are added: major and perfect, and a minor seventh."""
SYMBOLS = (
    "C Cm C5 Caug Cdim C6 Cm6 C6/9 C7 Cmaj7 Cm7 Cm7b5 Cdim7 Cm(maj7) C9 Cmaj9 Cm9 Cm9b5 Cm11 C13 Cmaj13 Cm13 "
    "C13#11 Cmaj9#11 C7b9 C7#9 C7b5 C7#5 C7b9b13 C7alt C7sus4 C9sus4 C13sus4 Csus4 Csus2 Cm9(maj7) C7(no3) "
    "C13b9 C7#9b13 C7b9#11b13 C7#9#5 C(add9) Cm6/9 Cm(maj9) Cmaj7#11 Cmaj7#5 Cdim9 C11"
).split()


def sounded(harmony: Element) -> set[int]:
    """What a program that plays the symbol would play, in semitones over the root."""
    tones = set(KINDS[harmony.findtext("kind", "")])
    for degree in harmony.findall("degree"):
        number, alter = int(degree.findtext("degree-value", "")), int(degree.findtext("degree-alter", ""))
        if degree.findtext("degree-type") == "add":
            tones.add(NATURAL[number] + alter)
            continue
        (own,) = {tone for tone in tones if number_of(tone) == number}
        tones.remove(own)
        if degree.findtext("degree-type") == "alter":
            assert alter
            tones.add(own + alter)
    assert len({tone % 12 for tone in tones}) == len(tones)
    return {tone % 12 for tone in tones}


def number_of(tone: int) -> int:
    """The degree that a kind's tone is, thirds upon thirds; of seconds, fourths and sixths it has no two."""
    return {0: 1, 2: 2, 3: 3, 4: 3, 5: 4, 6: 5, 7: 5, 8: 5, 9: 6, 10: 7, 11: 7, 14: 9, 17: 11, 21: 13}[tone]


def read(harmony: Element) -> str:
    """What a program prints that goes by the standard: the kind's text, then the degrees it may print."""
    kind = harmony.find("kind")
    assert kind is not None
    text = kind.get("text", "")
    for degree in harmony.findall("degree"):
        if degree.get("print-object") != "no":
            sign = {"-1": "♭", "0": "", "1": "♯"}[degree.findtext("degree-alter", "")]
            text += f"{sign}{degree.findtext('degree-value')}"
    return text


def read_by_texts(harmony: Element) -> str:
    """What a program prints that knows the texts of kinds and degrees, but not what is not to be printed."""
    kind = harmony.find("kind")
    assert kind is not None
    text = kind.get("text", "")
    for degree in harmony.findall("degree"):
        value = degree.find("degree-value")
        assert value is not None
        sign = {"-1": "♭", "0": "", "1": "♯"}[degree.findtext("degree-alter", "")]
        text += sign + value.get("text", value.text or "")
    return text


@pytest.mark.parametrize("symbol", "C9sus4 C13sus4 C7sus4 C6/9 Cm6/9 C(add9) C7(no3) C13".split())
def test_degrees_that_the_kind_has_said_have_no_text_of_their_own(symbol: str) -> None:
    """So that nobody reads 13sus4(7913) (degree-value's text, MusicXML 4.0, from memory)."""
    chord = read_chord(symbol)
    assert read_by_texts(harmony_element(chord, GRIP)) == chord.symbol.shown


@pytest.mark.parametrize("symbol", SYMBOLS)
def test_kind_and_degrees_sound_the_chord(symbol: str) -> None:
    """Nothing more, nothing less."""
    chord = read_chord(symbol)
    harmony = harmony_element(chord, GRIP)
    assert sounded(harmony) == {each.semitones for each in chord.degrees}
    assert read(harmony) == chord.symbol.shown


@pytest.mark.parametrize(
    ("symbol", "kind", "count"),
    [
        ("Cm11", "minor-11th", 0),
        ("Cmaj9", "major-ninth", 0),
        ("Cm13", "minor-13th", 0),
        ("C13#11", "dominant-13th", 1),
        ("C13", "dominant-ninth", 1),  # a dominant-13th has an eleventh, which rubs
        ("C7b9", "dominant", 1),
        ("Cm9b5", "half-diminished", 1),
        ("C9sus4", "suspended-fourth", 2),
        ("C5", "power", 0),
        ("C7(no3)", "dominant", 1),  # a power chord is no more than root and fifth
    ],
)
def test_the_kind_that_says_most_is_taken(symbol: str, kind: str, count: int) -> None:
    """So that a program which knows kinds alone comes near, and no symbol is a string of degrees."""
    harmony = harmony_element(read_chord(symbol), GRIP)
    assert harmony.findtext("kind") == kind
    assert len(harmony.findall("degree")) == count


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


def test_a_frame_is_as_long_as_its_grip() -> None:
    """Six frets where five are too few; open strings alone need no more than five."""
    frame = frame_element(
        Grip((None, 7, None, 12, 9, None), (0, 1, 0, 4, 2, 0), 91.9, 3, 1, is_long_reach=True)
    )
    assert (frame.findtext("first-fret"), frame.findtext("frame-frets")) == ("7", "6")
    frame = frame_element(Grip((None, 5, 6, 6, 6, 9), (0, 1, 2, 2, 2, 4), 91.9, 3, 1, is_long_reach=True))
    assert (frame.findtext("first-fret"), frame.findtext("frame-frets")) == ("5", "5")
    frame = frame_element(Grip((None, 2, 4, 4, 4, 6), (0, 1, 2, 2, 2, 4), 91.9, 3, 1, is_long_reach=True))
    assert (frame.findtext("first-fret"), frame.findtext("frame-frets")) == ("2", "5")
    frame = frame_element(Grip((0, 0, 0, 0, 0, 0), (0,) * 6, 0.0, 0, 0, is_long_reach=False))
    assert (frame.find("first-fret"), frame.findtext("frame-frets")) == (None, "5")
    assert {note.findtext("fret") for note in frame.findall("frame-note")} == {"0"}
