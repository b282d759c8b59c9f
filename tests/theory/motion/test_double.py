"""Doubling: one note more, the same as one that is there, on top."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.errors import DrillsError
from drills.theory.degree import degree, read_degree
from drills.theory.motion.double import double
from drills.theory.naming import Named, name_notes
from drills.theory.voicing import DEFAULT_SIZES

Read: TypeAlias = Callable[..., Named]


@pytest.mark.parametrize(
    ("text", "wanted", "expected", "words"),
    [
        pytest.param("C3 E3 G3", "1", "1 3 5 1", "C4 added on top: the 1 an octave up", id="the root"),
        pytest.param("C3 G3 E4", "1", "1 5 3 1", "C5 added on top: the 1 two octaves up", id="two octaves"),
        pytest.param(
            "C2 G3 E4 | B4 D5 F#5",
            "1",
            "1 5' 3 | 7 9 #11 1",
            "C6 added on top: the 1 4 octaves up",
            id="far up",
        ),
        pytest.param(
            "C3 E3 C4 G4", "1", "1 3 | 1 5 1", "C5 added on top: the 1 an octave up", id="there twice"
        ),
        pytest.param(
            "C3 | E3 G3 B3 D4",
            "3",
            "1 | 3 5 7 9 | 3",
            "E4 added on top: the 3 an octave up",
            id="a full layer",
        ),
        pytest.param(
            "C3 E3 F#3 B3", "b5", "1 3 | #11 7 #11", "F♯4 added on top: the ♯11 an octave up", id="♭5 is ♯11"
        ),
    ],
)
def test_a_note_is_doubled_on_top(read: Read, text: str, wanted: str, expected: str, words: str) -> None:
    """The first octave above all others, in the highest layer that has room."""
    moved = double(read(text), read_degree(wanted))
    assert moved.named.sounding.voicing.text == expected
    assert moved.words == words
    ((old, new),) = moved.changed
    assert old is None
    assert new == moved.named.sounding.pitches[-1]


@given(st.sets(st.integers(40, 80), min_size=1, max_size=7), st.data())
def test_one_pitch_is_added_in_octaves_with_another(midi: set[int], data: st.DataObject) -> None:
    """All notes stay, and the new one lies whole octaves above one of them."""
    start = name_notes(tuple(sorted(midi)), DEFAULT_SIZES[len(midi)])
    wanted = data.draw(st.sampled_from(start.reading.degrees))
    after = double(start, wanted).named
    *others, top = after.sounding.midi
    assert others == sorted(midi)
    assert after.reading.degrees[-1] in start.reading.degrees
    assert any((top - note) % 12 == 0 for note in midi)
    assert top - others[-1] <= 12


def test_a_degree_that_is_not_there_is_refused(read: Read) -> None:
    """The error lists what could be doubled."""
    with pytest.raises(DrillsError, match="C7 has no 9 to double; its degrees are 1 3 5 b7"):
        double(read("1 3 5 b7", "C"), degree("9"))


def test_there_must_be_room(read: Read) -> None:
    """Eight notes, or three full layers, are the most."""
    with pytest.raises(DrillsError, match="8 notes leave no room to double one; reduce it first"):
        double(read("C2 E2 G2 B2 | D3 F#3 A3 C4"), degree("1"))
    with pytest.raises(DrillsError, match="4 layers are too many"):
        double(read("C2 | E2 | G2 B2 D3 F#3"), degree("1"))
