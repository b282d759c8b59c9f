"""Chord symbols read, and roots as charts spell them."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from drills.errors import DrillsError
from drills.theory.chord import FOURTHS, Chord, chart_name, habit_root, read_chord, read_suffix
from drills.theory.pitch import read_note_name
from drills.theory.symbol import Quality

# as typed, plain form, degrees (common practice, no source)
WRITINGS = """
C                | C            | 1 3 5
CM               | C            | 1 3 5
Cmajor           | C            | 1 3 5
C-               | Cm           | 1 b3 5
Cmi              | Cm           | 1 b3 5
C−7              | Cm7          | 1 b3 5 b7
C–9              | Cm9          | 1 b3 5 b7 9
C minor 7        | Cm7          | 1 b3 5 b7
Cmin7            | Cm7          | 1 b3 5 b7
CMIN7            | Cm7          | 1 b3 5 b7
Cm7              | Cm7          | 1 b3 5 b7
CM7              | Cmaj7        | 1 3 5 7
Cma7             | Cmaj7        | 1 3 5 7
CMaj7            | Cmaj7        | 1 3 5 7
CMAJ7            | Cmaj7        | 1 3 5 7
Cj7              | Cmaj7        | 1 3 5 7
C^7              | Cmaj7        | 1 3 5 7
CΔ               | Cmaj7        | 1 3 5 7
C△9♯11           | Cmaj9#11     | 1 3 5 7 9 #11
C^#11            | Cmaj7#11     | 1 3 5 7 #11
Cmaj9(#11)       | Cmaj9#11     | 1 3 5 7 9 #11
Cmaj11           | Cmaj9(add11) | 1 3 5 7 9 11
C13              | C13          | 1 3 5 b7 9 13
C13(#11)         | C13#11       | 1 3 5 b7 9 #11 13
C7(b9,b13)       | C7b9b13      | 1 3 5 b7 b9 b13
C7 b9 #9         | C7b9#9       | 1 3 5 b7 b9 #9
C7-9             | C7b9         | 1 3 5 b7 b9
C7+9             | C7#9         | 1 3 5 b7 #9
C7flat9          | C7b9         | 1 3 5 b7 b9
C7 sharp 11      | C7#11        | 1 3 5 b7 #11
C+               | Caug         | 1 3 #5
Caug7            | C7#5         | 1 3 #5 b7
C7+              | C7#5         | 1 3 #5 b7
C7aug            | C7#5         | 1 3 #5 b7
Cdom7            | C7           | 1 3 5 b7
C7alt            | C7alt        | 1 3 b7 b9 #9 #11 b13
Calt             | C7alt        | 1 3 b7 b9 #9 #11 b13
C11              | C9sus4       | 1 4 5 b7 9
C9sus            | C9sus4       | 1 4 5 b7 9
C7sus            | C7sus4       | 1 4 5 b7
C7 suspended 4   | C7sus4       | 1 4 5 b7
Csus2            | Csus2        | 1 5 9
C2               | Csus2        | 1 5 9
C4               | Csus4        | 1 4 5
C5               | C5           | 1 5
C6               | C6           | 1 3 5 6
C69              | C6/9         | 1 3 5 6 9
C6/9             | C6/9         | 1 3 5 6 9
C6add9           | C6/9         | 1 3 5 6 9
Cm6              | Cm6          | 1 b3 5 6
Cø               | Cm7b5        | 1 b3 b5 b7
Cø7              | Cm7b5        | 1 b3 b5 b7
Ch7              | Cm7b5        | 1 b3 b5 b7
Chalf-dim        | Cm7b5        | 1 b3 b5 b7
Cm7b5            | Cm7b5        | 1 b3 b5 b7
Cø11             | Cm11b5       | 1 b3 b5 b7 9 11
C°               | Cdim         | 1 b3 b5
Cº7              | Cdim7        | 1 b3 b5 bb7
Co7              | Cdim7        | 1 b3 b5 bb7
Cdim7            | Cdim7        | 1 b3 b5 bb7
C°(△7)           | Cdim(maj7)   | 1 b3 b5 7
Cm(maj7)         | Cm(maj7)     | 1 b3 5 7
CmM7             | Cm(maj7)     | 1 b3 5 7
C-△9             | Cm9(maj7)    | 1 b3 5 7 9
Cm9(maj7)        | Cm9(maj7)    | 1 b3 5 7 9
Cmmaj9           | Cm9(maj7)    | 1 b3 5 7 9
Cm11             | Cm11         | 1 b3 5 b7 9 11
Cm13             | Cm13         | 1 b3 5 b7 9 11 13
Cadd9            | C(add9)      | 1 3 5 9
Cadd2            | C(add9)      | 1 3 5 9
Cadd4            | C(add11)     | 1 3 5 11
Cmadd9           | Cm(add9)     | 1 b3 5 9
CMadd9           | C(add9)      | 1 3 5 9
Csus24           | Csus4(add9)  | 1 4 5 9
C dominant 7     | C7           | 1 3 5 b7
C9(add11)        | C9(add11)    | 1 3 5 b7 9 11
C7(13)           | C13          | 1 3 5 b7 13
C7(no3)          | C7(no3)      | 1 5 b7
C7omit5          | C7           | 1 3 b7
C7no1            | C7           | 3 5 b7
C(b5)            | C(b5)        | 1 3 b5
C(1,b9)          | C(1,b9)      | 1 b9
F♯m7♭5           | F#m7b5       | 1 b3 b5 b7
B♭7              | Bb7          | 1 3 5 b7
E♭♭              | Ebb          | 1 3 5
"""
ROWS = [[word.strip() for word in line.split("|")] for line in WRITINGS.strip().splitlines()]


@pytest.mark.parametrize(("typed", "plain", "degrees"), ROWS, ids=[row[0] for row in ROWS])
def test_a_symbol_is_read_in_any_usual_writing(typed: str, plain: str, degrees: str) -> None:
    """One plain form, one set of degrees."""
    chord = read_chord(typed)
    assert chord.plain == plain
    assert " ".join(each.plain for each in chord.degrees) == degrees
    assert read_chord(chord.plain).symbol == read_chord(chord.shown).symbol == chord.symbol


@pytest.mark.parametrize(
    ("typed", "plain", "shown"),
    [
        ("Cmaj7/G", "Cmaj7/G", "C△7/G"),
        ("Gø / D♭", "Gm7b5/Db", "Gø7/D♭"),
        ("C6/9/E", "C6/9/E", "C6/9/E"),
        ("C/C", "C", "C"),
        ("C#/D♭", "C#", "C♯"),
    ],
)
def test_another_bass_is_written_after_a_slash(typed: str, plain: str, shown: str) -> None:
    """The root itself is no other bass, whatever its spelling."""
    chord = read_chord(typed)
    assert (chord.plain, chord.shown) == (plain, shown)


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("", "cannot read the chord ''"),
        ("H7", "cannot read the chord 'H7'"),
        ("dm7", "cannot read the chord 'dm7'"),
        ("C7x", "cannot read the chord 'C7x' from 'x' on"),
        ("Cmaj7 please", "from 'please' on"),
        ("C7b12", "from 'b12' on"),
        ("C(add8)", "from '8' on"),
        ("C7(15)", "from '15)' on"),
        ("C(7)", "from '7)' on"),
        ("C(1,b8)", "no degree 'b8'"),
    ],
)
def test_a_text_that_is_no_chord_is_refused(text: str, fault: str) -> None:
    """The message says from where on, and how chords are written."""
    with pytest.raises(DrillsError) as caught:
        read_chord(text, where="chord")
    assert fault in caught.value.what
    assert caught.value.where == "chord"
    assert caught.value.mend


def test_a_suffix_needs_no_root() -> None:
    """A recipe names the kind of chord alone; nothing is a major triad."""
    assert [each.plain for each in read_suffix("")] == ["1", "3", "5"]
    assert read_suffix("13♯11") == read_chord("C13#11").degrees
    with pytest.raises(DrillsError, match="chord: cannot read the chord 'qq'"):
        read_suffix("qq", where="chord")


@given(st.text(max_size=12) | st.from_regex(r"[A-G][b#]?[-+mMajdisugdnoø°△0-9b#()/, ]{0,12}", fullmatch=True))
@example("C" + "9" * 5000)
@example("C(1,b)")
@example("C/")
def test_no_text_is_too_odd_for_the_reader(text: str) -> None:
    """A chord that reads again, or an error of ours."""
    try:
        chord = read_chord(text)
    except DrillsError:
        return
    assert read_chord(chord.plain).root == chord.root
    assert read_chord(chord.plain).symbol == chord.symbol


# How charts spell the twelve roots, from C upwards (DESIGN of the project; common practice, no source).
HABITS = {
    "major": "C Db D Eb E F Gb G Ab A Bb B",
    "dominant": "C Db D Eb E F F# G Ab A Bb B",
    "sus": "C Db D Eb E F F# G Ab A Bb B",
    "augmented": "C Db D Eb E F F# G Ab A Bb B",
    "minor": "C C# D Eb E F F# G G# A Bb B",
    "half-diminished": "C C# D Eb E F F# G G# A Bb B",
    "diminished": "C C# D Eb E F F# G G# A Bb B",
}


@pytest.mark.parametrize(("quality", "roots"), HABITS.items())
def test_roots_are_spelled_as_charts_spell_them(quality: Quality, roots: str) -> None:
    """By the kind of chord, in any octave."""
    assert [habit_root(each, quality).plain for each in range(12)] == roots.split()
    assert habit_root(-1, quality) == habit_root(11, quality)


def test_fourths_go_through_all_keys() -> None:
    """Each root is a fourth above the one before it, and none comes twice."""
    assert sorted(FOURTHS) == list(range(12))
    assert all((high - low) % 12 == 5 for low, high in pairwise(FOURTHS))


@pytest.mark.parametrize(
    ("typed", "quality", "written"),
    [
        ("D#", "major", "D#"),
        ("Cb", "major", "Cb"),
        ("G#", "major", "G#"),
        ("E#", "major", "F"),
        ("Fb", "minor", "E"),
        ("B#", "major", "C"),
        ("Bbb", "major", "A"),
        ("C##", "minor", "D"),
        ("F##", "minor", "G"),
        ("Abb", "minor", "G"),
    ],
)
def test_a_chord_tone_alone_is_written_plainly(typed: str, quality: Quality, written: str) -> None:
    """Degree-true, but for names that charts do not use."""
    assert chart_name(read_note_name(typed), quality).plain == written


def test_notes_of_a_chord_are_spelled_degree_true() -> None:
    """A♭m has C♭, E♭7♭9 has F♭."""
    assert [note.plain for note in read_chord("Abm7").notes] == ["Ab", "Cb", "Eb", "Gb"]
    assert [note.plain for note in read_chord("Eb7b9").notes] == ["Eb", "G", "Bb", "Db", "Fb"]


def test_chords_are_values() -> None:
    """Equal by root, degrees and bass."""
    assert read_chord("CΔ7") == read_chord("Cmaj7") == Chord(read_note_name("C"), read_suffix("maj7"))
    assert read_chord("C#") != read_chord("Db")
