"""Clashes with their mends, and thirds too low."""

from __future__ import annotations

import pytest

from drills.theory.clash import Clash, clashes, low_intervals
from drills.theory.pitch import NoteName
from drills.theory.reading import read_over
from drills.theory.symbol import symbol
from drills.theory.text import read_voicing

# voicing over C: clash, against, mend (DESIGN of the project; the avoid-note rule of Nettles and Graf, The
# Chord Scale Theory and Jazz Harmony, 1997, from memory; mends are common practice, no source)
CLASHING = """
1 3 5 7 11      | 11 3 #11
1 11 3 b7       | 11 3 #11
1 #9 3 b7       | #9 3 exchange them
1 7 1 3         |
7 1' 3 5        | 1 7 13
7 3 5 1'        | 1 7 13
1 3 b13 5 b7    | b13 5 leave out 5
1 3 5 7 b9      | b9 1 9
1 b3 5 b7 b9    | b9 1 9
b7 b3 b9 5      | b9 1 9
1 3 5 b9        | b9 1 9
1 3 #11 5' 7    | #11 5 exchange them
"""
CLEAN = """
1 3 b7 b9
b9 1 3 b7
1 4 5 b7 b9
1 4 b7 3
1 5 b3 11 b7 9
1 3 b7 #9
1 3 5 #11 7
7 1 3 5
1 3 b13 b7
1 9 5
"""
CLASH_ROWS = [[word.strip() for word in line.split("|")] for line in CLASHING.strip().splitlines()]


def clashes_of(text: str) -> tuple[Clash, ...]:
    """The clashes of degrees over C."""
    written = read_voicing(text, root=NoteName(0))
    assert written.degrees is not None
    heights = tuple(midi - written.midi[0] for midi in written.midi)
    return clashes(written.degrees, heights, symbol(written.degrees).quality)


@pytest.mark.parametrize(("text", "expected"), CLASH_ROWS, ids=[row[0] for row in CLASH_ROWS])
def test_a_clash_is_told_with_its_mend(text: str, expected: str) -> None:
    """Which note, against which, and what to do."""
    found = [f"{each.degree} {each.against} {each.mend}" for each in clashes_of(text)]
    assert found == ([expected] if expected else [])


@pytest.mark.parametrize("text", CLEAN.strip().splitlines())
def test_these_are_no_clashes(text: str) -> None:
    """♭9 in a dominant, 3 above the 4 of a sus chord, ♯9 above 3, and neighbours a half step apart."""
    assert clashes_of(text) == ()


def test_several_clashes_come_in_a_fixed_order() -> None:
    """As in the table of the design."""
    assert [each.degree for each in clashes_of("7 b9 1' 3 11 5 b13")] == ["11", "1", "b13", "b9"]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("1 3 5 7 11", "11 rubs against 3: 11 → ♯11"),
        ("1 #9 3 b7", "♯9 rubs against 3: exchange them"),
        ("1 3 5 7 b9", "♭9 rubs against 1: ♭9 → 9"),
        ("1 3 b13 5 b7", "♭13 rubs against 5: leave out 5"),
    ],
)
def test_a_clash_can_be_said_in_words(text: str, words: str) -> None:
    """With printed signs."""
    assert clashes_of(text)[0].words == words


def test_a_clash_speaks_of_degrees_as_typed() -> None:
    """A ♯5 beside a 5 rubs like a ♭13, a ♭3 below a 3 like a ♯9; the typed word is told."""
    for text, expected in (("1 3 5 #5 b7", ("#5", "5")), ("1 b3 3 5 b7", ("b3", "3"))):
        written = read_voicing(text, root=NoteName(0))
        heights = tuple(midi - written.midi[0] for midi in written.midi)
        (rub,) = read_over(heights, 0, written.degrees).clashes
        assert (rub.degree, rub.against) == expected


@pytest.mark.parametrize(
    ("midi", "low"),
    [
        ((36, 40, 60), ((36, 40),)),
        ((46, 50, 60), ()),
        ((45, 49, 53), ((45, 49),)),
        ((36, 40, 43), ((36, 40), (40, 43))),
        ((33, 40), ((33, 40),)),
        ((34, 41), ()),
        ((28, 40), ()),
        ((60,), ()),
    ],
    ids=str,
)
def test_low_intervals_are_found_between_neighbours(
    midi: tuple[int, ...], low: tuple[tuple[int, int], ...]
) -> None:
    """Below the limit of their interval; an octave has none."""
    assert low_intervals(midi) == low
