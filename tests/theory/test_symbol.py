"""From degrees to a chord symbol."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.theory.chord import read_suffix
from drills.theory.degree import KNOWN, Degree, read_degree
from drills.theory.reading import degrees_over
from drills.theory.symbol import meant, symbol

# degrees, plain, shown, quality (common practice, no source)
SYMBOLS = """
1 3 5             |              |            | major
1 b3 5            | m            | m          | minor
1 3 #5            | aug          | +          | augmented
1 b3 b5           | dim          | °          | diminished
1 3 b5            | (b5)         | (♭5)       | major
1 b3 #5           | m(#5)        | m(♯5)      | minor
1 5               | 5            | 5          | major
1 9 5             | sus2         | sus2       | sus
1 4 5             | sus4         | sus4       | sus
1 11 5            | sus4         | sus4       | sus
1 4 5 9           | sus4(add9)   | sus4(add9) | sus
1 3 5 9           | (add9)       | (add9)     | major
1 b3 5 9          | m(add9)      | m(add9)    | minor
1 3 5 6           | 6            | 6          | major
1 3 6 9           | 6/9          | 6/9        | major
1 b3 5 6          | m6           | m6         | minor
1 b3 6 9          | m6/9         | m6/9       | minor
1 3 5 7           | maj7         | △7         | major
1 3 7 9           | maj9         | △9         | major
1 3 7 13          | maj13        | △13        | major
7 3 13 9 #11      | maj13#11     | △13♯11     | major
1 3 #5 7          | maj7#5       | △7♯5       | major
1 3 5 7 #11       | maj7#11      | △7♯11      | major
1 4 5 7           | maj7sus4     | △7sus4     | sus
1 3 5 b7          | 7            | 7          | dominant
1 3 b7 9          | 9            | 9          | dominant
1 3 b7 13         | 13           | 13         | dominant
b7 3 13 9 #11     | 13#11        | 13♯11      | dominant
1 3 b7 b9 b13     | 7b9b13       | 7♭9♭13     | dominant
b7 3 b13 b9 #11   | 7b9#11b13    | 7♭9♯11♭13  | dominant
1 3 b7 13 b9      | 13b9         | 13♭9       | dominant
1 3 #5 b7         | 7#5          | 7♯5        | dominant
1 3 b5 b7         | 7b5          | 7♭5        | dominant
1 3 b7 b9 #9 #11 b13 | 7alt      | 7alt       | dominant
3 b7 b9 #9 #11 b13 | 7alt        | 7alt       | dominant
1 3 5 b7 9 11     | 9(add11)     | 9(add11)   | dominant
1 5 b7            | 7(no3)       | 7(no3)     | dominant
1 4 5 b7          | 7sus4        | 7sus4      | sus
1 4 5 b7 9        | 9sus4        | 9sus4      | sus
1 4 b7 9 13       | 13sus4       | 13sus4     | sus
1 4 5 b7 b9       | 7sus4b9      | 7sus4♭9    | sus
1 4 b7 3          | 7sus4(add3)  | 7sus4(add3) | sus
1 b3 5 b7         | m7           | m7         | minor
1 b3 b7 9         | m9           | m9         | minor
1 5 b3 11 b7 9    | m11          | m11        | minor
1 5 b3 4 b7 9     | m11          | m11        | minor
1 b3 b7 13        | m13          | m13        | minor
1 b3 5 7          | m(maj7)      | m△7        | minor
1 b3 5 7 9        | m9(maj7)     | m△9        | minor
1 b3 b5 b7        | m7b5         | ø7         | half-diminished
1 b3 b5 b7 9 11   | m11b5        | ø11        | half-diminished
1 b3 b5 b7 b13    | m7b5b13      | ø7♭13      | half-diminished
1 b3 b5 bb7       | dim7         | °7         | diminished
1 b3 b5 6         | dim7         | °7         | diminished
1 b3 b5 bb7 7     | dim7(add7)   | °7(add7)   | diminished
1 b3 b5 7         | dim(maj7)    | °(△7)      | diminished
1                 | (1)          | (1)        | major
1 b9              | (1,b9)       | (1,♭9)     | major
b9 #11            | (1,b9,#11)   | (1,♭9,♯11) | major
"""
ROWS = [[word.strip() for word in line.split("|")] for line in SYMBOLS.strip().splitlines()]


def degrees(text: str) -> tuple[Degree, ...]:
    """Degrees from one text."""
    return tuple(read_degree(word) for word in text.split())


@pytest.mark.parametrize(("text", "plain", "shown", "quality"), ROWS, ids=[row[0] for row in ROWS])
def test_degrees_have_one_symbol(text: str, plain: str, shown: str, quality: str) -> None:
    """Plain, shown, and what decides how the root is spelled."""
    found = symbol(degrees(text))
    assert (found.plain, found.shown, found.quality) == (plain, shown, quality)
    assert found.is_chord != plain.startswith("(1")


# typed degrees that contradict each other: what each is meant to be
MEANT = """
1 3 5 #5 b7  | 1 3 5 b13 b7   | 7b13
1 3 b5 5     | 1 3 #11 5      | (add#11)
1 b3 3 b7    | 1 #9 3 b7      | 7#9
1 b3 #9 5    | 1 b3 b3 5      | m
1 b3 4 5     | 1 b3 11 5      | m(add11)
1 11 5 b7    | 1 4 5 b7       | 7sus4
1 3 #5 b13   | 1 3 #5 #5      | aug
1 b3 b5 #11  | 1 b3 b5 b5     | dim
1 3 6 b7     | 1 3 13 b7      | 13
1 3 5 13     | 1 3 5 6        | 6
1 3 5 bb7    | 1 3 5 6        | 6
1 b3 b5 13 7 | 1 b3 b5 bb7 7  | dim7(add7)
"""
MEANT_ROWS = [[word.strip() for word in line.split("|")] for line in MEANT.strip().splitlines()]


@pytest.mark.parametrize(("typed", "words", "plain"), MEANT_ROWS, ids=[row[0] for row in MEANT_ROWS])
def test_degrees_that_contradict_each_other_are_understood(typed: str, words: str, plain: str) -> None:
    """A chord has one third and one fifth; what cannot be that is a tension."""
    assert meant(degrees(typed)) == degrees(words)
    assert symbol(degrees(typed)).plain == plain


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("1 3 b7 9 b9", "9(addb9)"),
        ("1 3 b7 13 b13", "13(addb13)"),
        ("1 b3 b7 11 #11", "m11(add#11)"),
        ("1 3 b7 7", "7(add7)"),
    ],
)
def test_a_natural_and_an_altered_tension_are_both_said(text: str, plain: str) -> None:
    """A symbol like 9♭9 would lose the 9 in reading."""
    assert symbol(degrees(text)).plain == plain
    assert {each.semitones for each in degrees(text)} <= {each.semitones for each in read_suffix(plain)}


@pytest.mark.parametrize("size", range(1, 9))
def test_every_set_of_notes_over_a_root_has_a_symbol_that_reads_back(size: int) -> None:
    """All sets: the symbol holds every note that sounds, adds only silent 5, 9 and 11, and is stable."""
    for notes in combinations(range(12), size):
        found = symbol(degrees_over(notes, 0))
        read = read_suffix(found.plain)
        added = {each.semitones for each in read} - set(notes)
        silent = {0, 2, 7, 5} if found.plain.startswith("m13") else {0, 2, 7}
        assert set(notes) <= {each.semitones for each in read}, found.plain
        assert added <= silent, found.plain
        assert symbol(read).plain == found.plain


@given(st.sets(st.sampled_from(KNOWN), min_size=1).map(lambda words: tuple(read_degree(w) for w in words)))
def test_any_degrees_have_a_symbol_that_reads(some: tuple[Degree, ...]) -> None:
    """However odd the choice, and each tone keeps its pitch."""
    found = symbol(some)
    assert {each.semitones for each in some} <= {each.semitones for each in read_suffix(found.plain)}
    assert [each.semitones for each in meant(some)] == [each.semitones for each in some]
