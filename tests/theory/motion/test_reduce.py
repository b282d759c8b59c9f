"""Less of a voicing: what is left out, and the law that what is left is part of the whole."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.errors import DrillsError
from drills.theory.motion.reduce import reduce
from drills.theory.naming import Named, name_notes
from drills.theory.voicing import DEFAULT_SIZES

Read: TypeAlias = Callable[..., Named]


def forms(named: Named) -> dict[str, str]:
    """Each smaller form by what was done."""
    return {moved.move: moved.named.sounding.voicing.text for moved in reduce(named)}


def test_six_notes_have_three_smaller_forms(read: Read) -> None:
    """Without the lowest, the top four, without the fifth; chord and root stay."""
    moved = reduce(read("1 5 b3 | 11 b7 9", "Bb"))
    assert {each.move: each.named.sounding.voicing.text for each in moved} == {
        "without the lowest note": "5 b3 | 11 b7 9",
        "the top four notes": "b3 | 11 b7 9",
        "without the fifth": "1 b3' | 11 b7 9",
    }
    assert {each.named.chord_plain for each in moved} == {"Bbm11"}
    assert moved[0].words == "without the lowest note: B♭ left out"
    assert [(old and old.plain, new) for old, new in moved[0].changed] == [("Bb2", None)]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        pytest.param(
            "b7 3 | 13 9 #11", {"without the lowest note": "3 | 6 9 #11"}, id="top four is the same"
        ),
        pytest.param(
            "1 b5 b7 | b3 11", {"without the lowest note": "b5 b7 | b3 11"}, id="an altered fifth stays"
        ),
        pytest.param(
            "1 3 5",
            {"without the lowest note": "3 5", "without the fifth": "1 3"},
            id="a triad has no top four",
        ),
        pytest.param("5 1 3", {"without the lowest note": "1 3"}, id="the lowest is the fifth"),
        pytest.param("b7 | 3 13", {"without the lowest note": "3 6"}, id="a sixth without its seventh"),
    ],
)
def test_a_form_that_says_the_same_is_told_once(read: Read, text: str, expected: dict[str, str]) -> None:
    """Each form once, under the first of its names."""
    assert forms(read(text, "C")) == expected


@pytest.mark.parametrize(
    ("text", "words"), [("C3", "one note cannot be reduced"), ("C3 E3", "2 notes cannot be reduced")]
)
def test_a_note_or_two_cannot_be_reduced(read: Read, text: str, words: str) -> None:
    """Two notes are the fewest that are left."""
    with pytest.raises(DrillsError, match=f"{words}; reduce a voicing of three notes or more"):
        reduce(read(text))


@given(st.sets(st.integers(40, 84), min_size=3, max_size=8))
def test_what_is_left_is_part_of_the_whole(midi: set[int]) -> None:
    """Every smaller form is a proper subset, over the same root."""
    start = name_notes(tuple(sorted(midi)), DEFAULT_SIZES[len(midi)])
    moved = reduce(start)
    assert moved
    for each in moved:
        assert set(each.named.sounding.midi) < midi
        assert each.named.root == start.root
        assert {old.midi for old, _ in each.changed if old} == midi - set(each.named.sounding.midi)
