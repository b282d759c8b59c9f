"""Voicings as people write them: notes, degrees, frets."""

from __future__ import annotations

from itertools import accumulate, pairwise

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from drills.errors import DrillsError
from drills.theory.degree import KNOWN, Degree, read_degree
from drills.theory.pitch import NoteName, read_note_name
from drills.theory.text import MOST_FRETS, STANDARD_OPEN_MIDI, Written, read_voicing
from drills.theory.voicing import DEFAULT_SIZES, MOST_NOTES, Voicing

SEVEN_STRINGS = (35, *STANDARD_OPEN_MIDI)


def written(text: str, root: str = "", open_midi: tuple[int, ...] = STANDARD_OPEN_MIDI) -> Written:
    """A voicing read, with or without a root."""
    return read_voicing(text, root=read_note_name(root) if root else None, open_midi=open_midi)


# text, root, form, MIDI notes, sizes
READ = """
Bb2 F3 Db4 | Eb4 Ab4 C5  |    | notes   | 46 53 61 63 68 72 | 3 3
Bb2 F3 Db4 / Eb4 Ab4 C5  |    | notes   | 46 53 61 63 68 72 | 3 3
B♭2 F3 D♭4 E♭4 A♭4 C5    |    | notes   | 46 53 61 63 68 72 | 3 3
Bb2, F3, Db4             |    | notes   | 46 53 61          | 3
C4                       |    | notes   | 60                | 1
G4 C4 E4                 |    | notes   | 60 64 67          | 3
C G E                    |    | notes   | 48 55 64          | 3
C G E'                   |    | notes   | 48 55 76          | 3
C3 G E                   |    | notes   | 48 55 64          | 3
E                        |    | notes   | 40                | 1
Fx B𝄫                    |    | notes   | 43 45             | 2
1 5 b3 | 11 b7 9         | Gb | degrees | 42 49 57 59 64 68 | 3 3
1 5 ♭3 / 11 ♭7 9         | F♯ | degrees | 42 49 57 59 64 68 | 3 3
1 5' b3                  | C  | degrees | 48 67 75          | 3
1 3 5 b7                 | E  | degrees | 40 44 47 50       | 2 2
1 3 | 5 b7 9             | E  | degrees | 40 44 47 50 54    | 2 3
1 2 3 4 5 6              | E  | degrees | 40 42 44 45 47 49 | 3 3
1 3 5 b7 9 #11 13        | E  | degrees | 40 44 47 50 54 58 61 | 3 4
1 | 5 | 3 5              | E  | degrees | 40 47 56 59       | 1 1 2
x32010                   |    | frets   | 48 52 55 60 64    | 2 3
x32010                   | C  | frets   | 48 52 55 60 64    | 2 3
X 3 2 0 1 0              | C  | frets   | 48 52 55 60 64    | 2 3
8 10 8 8 8 8             |    | frets   | 48 55 58 63 67 72 | 3 3
x 8 11 | 8 9 8           |    | frets   | 53 61 63 68 72    | 2 3
x 4 5 / 5 6 5            | Eb | frets   | 49 55 60 65 69    | 2 3
x x x x x 12             |    | frets   | 76                | 1
x0x00x                   |    | frets   | 45 55 59          | 3
"""
ROWS = [[word.strip() for word in line.rsplit(" |", 4)] for line in READ.strip().splitlines()]


@pytest.mark.parametrize(
    ("text", "root", "form", "midi", "sizes"),
    ROWS,
    ids=[f"{r[0]} over {r[1]}" if r[1] else r[0] for r in ROWS],
)
def test_a_voicing_is_read_in_three_forms(text: str, root: str, form: str, midi: str, sizes: str) -> None:
    """Notes, degrees over a root, frets; with bars or without."""
    found = written(text, root)
    assert found.form == form
    assert " ".join(map(str, found.midi)) == midi
    assert " ".join(map(str, found.sizes)) == sizes


def test_several_words_count_as_one_text() -> None:
    """Nobody must quote in a shell."""
    assert read_voicing(["x", "3", "2", "0", "1", "0"]) == read_voicing("x32010")
    assert read_voicing(["Bb2 F3", "Db4"]) == read_voicing("Bb2 F3 Db4")


def test_what_was_written_is_kept() -> None:
    """Spelling, degrees or frets, and whether the octave is fixed."""
    notes = written("Cb4 Eb4")
    assert notes.spelled == (NoteName(0, -1), NoteName(2, -1))
    assert (notes.degrees, notes.frets, notes.is_fixed) == (None, None, True)
    assert not written("C G").is_fixed
    degrees = written("1 4", "C")
    assert degrees.degrees == (read_degree("1"), read_degree("4"))
    assert (degrees.spelled, degrees.frets, degrees.is_fixed) == (None, None, False)
    frets = written("x32010")
    assert frets.frets == (None, 3, 2, 0, 1, 0)
    assert (frets.spelled, frets.degrees, frets.is_fixed) == (None, None, True)


def test_frets_follow_the_tuning() -> None:
    """As many as strings, in the order of the strings; degrees and bare notes start at the lowest one."""
    assert written("2 x 1 2 x x x", open_midi=SEVEN_STRINGS).midi == (37, 46, 52)
    assert written("2x12xxx", open_midi=SEVEN_STRINGS).midi == (37, 46, 52)
    assert written("1", "C", SEVEN_STRINGS).midi == (36,)
    assert written("C", open_midi=SEVEN_STRINGS).midi == (36,)


WRONG = """
                   |    | there is no voicing here | write notes
 | |               |    | there is no voicing here | write notes
C7                 |    | 'C7' is a chord symbol | `drills spell C7` shows what the chord holds
B♭9                |    | 'B♭9' is a chord symbol | `drills spell Bb9`
C-7                |    | 'C-7' is a chord symbol | `drills spell Cm7`
Cm7                | C  | 'Cm7' is a chord symbol | `drills spell Cm7`
C/E                |    | 'C/E' is a chord symbol | `drills spell C/E`
Bb13#11            |    | 'Bb13#11' is a chord symbol | a voicing needs its notes
1 5 b3             |    | '1 5 b3' looks like degrees without a root | give the root, as in --root C
1 5 3              |    | '1 5 3' looks like degrees without a root | or one fret for each of the 6 strings
8 10 12            |    | 3 frets do not fit 6 strings | write 6, low string first
x 3 2 0 1          | C  | 5 frets do not fit 6 strings | write 6, low string first
C3 G3 H3           |    | cannot read 'H3' in a voicing | write notes (C3 G3 E4)
C3 5 b7            | C  | 'C3 5 b7' mixes notes, degrees and frets | write notes (C3 G3 E4)
c3 g3              |    | cannot read 'c3' in a voicing | write notes
C3 G3 ||  E4       |    | a layer is empty | at least one note on each side
| C3 G3            |    | a layer is empty | at least one note
x | 3 2 0 1 0      |    | a layer is empty | at least one note
C3 | G3 | C4 | E4  |    | 4 layers are too many | use at most three layers
C3 D3 E3 F3 G3 | A3 |   | a layer of 5 notes is too large | put a bar
C E G C E G C E G  |    | 9 notes are too many | write at most 8
1 3 5 1 3 5 1 3 5  | C  | 9 notes are too many | write at most 8
G4 | C4            |    | the notes of the layers cross | write the layers from low to high
C3 G99             |    | G99 is out of range | use octaves from C-1 to G9
C''''''''          |    | C11 is out of range | use octaves
1''''''''          | C  | C11 is out of range | use octaves
xxxxxx             |    | no string is played | write a fret for at least one string
x 3 2 0 1 25       |    | fret 25 is on no neck | use frets 0 to 24
"""
WRONG_ROWS = [[word.strip() for word in line.rsplit(" | ", 3)] for line in WRONG[1:].splitlines()]


@pytest.mark.parametrize(
    ("text", "root", "what", "mend"), WRONG_ROWS, ids=[row[0] or "nothing" for row in WRONG_ROWS]
)
def test_a_text_that_is_no_voicing_gets_a_hint(text: str, root: str, what: str, mend: str) -> None:
    """What is wrong, where, and what to write instead."""
    with pytest.raises(DrillsError) as caught:
        read_voicing(text, root=read_note_name(root) if root else None, where="VOICING")
    assert what in caught.value.what
    assert mend in caught.value.mend
    assert caught.value.where == "VOICING"


tokens = st.sampled_from(
    [*KNOWN, "x", "X", "0", "12", "25", "99", "8", "C", "Eb4", "F#", "Gx2", "C-7", "B9", "|", "/", "'", "1''"]
)
texts = st.lists(tokens | st.text(max_size=3), max_size=12).map(" ".join) | st.text(max_size=30)
roots = st.none() | st.builds(NoteName, st.integers(0, 6), st.integers(-2, 2))


@given(texts, roots, st.sampled_from([STANDARD_OPEN_MIDI, SEVEN_STRINGS]))
@example("1 1 1 1 1 1 1 1 1", NoteName(0), STANDARD_OPEN_MIDI)
@example("C" + "9" * 5000, None, STANDARD_OPEN_MIDI)
@example("٣ ٣ ٣ ٣ ٣ ٣", None, STANDARD_OPEN_MIDI)
def test_no_text_is_too_odd_for_the_reader(
    text: str, root: NoteName | None, open_midi: tuple[int, ...]
) -> None:
    """A voicing that makes sense, or an error of ours."""
    try:
        found = read_voicing(text, root=root, open_midi=open_midi)
    except DrillsError:
        return
    assert list(found.midi) == sorted(found.midi)
    assert 0 <= found.midi[0] <= found.midi[-1] <= 127
    assert sum(found.sizes) == len(found.midi) <= MOST_NOTES
    assert found.frets is None or all(fret is None or 0 <= fret <= MOST_FRETS for fret in found.frets)


@st.composite
def voicings(draw: st.DrawFn) -> Voicing:
    """Voicings without unisons, in the layers they fall into or in other ones, no wider than MIDI allows."""
    words = draw(st.lists(st.sampled_from(KNOWN), min_size=1, max_size=7))
    degrees = tuple(read_degree(word) for word in words)
    lifts = draw(st.lists(st.integers(0, 1), min_size=len(degrees), max_size=len(degrees)))
    split = [(1, 2), (2, 1)] if len(degrees) == 3 else []
    sizes = draw(st.sampled_from([DEFAULT_SIZES[len(degrees)], *split]))
    heights = tuple(accumulate(gaps_of(degrees, lifts), initial=0))
    assume(heights[-1] <= 72)
    return Voicing(degrees, heights, sizes)


def gaps_of(degrees: tuple[Degree, ...], lifts: list[int]) -> list[int]:
    """From each degree to the nearest next one above it, and so many octaves more."""
    places = [each.semitones for each in degrees]
    nearest = [(high - low - 1) % 12 + 1 for low, high in pairwise(places)]
    return [gap + 12 * lift for gap, lift in zip(nearest, lifts[1:], strict=True)]


@given(voicings(), roots.filter(lambda root: root is not None))
def test_a_voicing_reads_back_from_its_text(voicing: Voicing, root: NoteName) -> None:
    """Plain or shown, degrees, heights and layers come back."""
    for text in (voicing.text, voicing.shown):
        found = read_voicing(text, root=root)
        assert found.degrees == voicing.degrees
        assert tuple(midi - found.midi[0] for midi in found.midi) == voicing.heights_semitones
        assert found.sizes == voicing.sizes
