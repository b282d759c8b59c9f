"""What a move tells: pairs of notes, and two moves told as one."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.theory.motion.moved import (
    NotePair,
    changes,
    in_turn,
    layer_words,
    named_sounding,
    pairs_words,
    voices_of,
)
from drills.theory.naming import Named, name_notes
from drills.theory.pitch import read_pitch
from drills.theory.voicing import DEFAULT_SIZES

Read: TypeAlias = Callable[..., Named]


def pairs(text: str) -> tuple[NotePair, ...]:
    """Pairs written as "C3>E3 G3> >B3"."""
    split = (word.partition(">") for word in text.split())
    return tuple(
        (read_pitch(old) if old else None, read_pitch(new) if new else None) for old, _, new in split
    )


@pytest.mark.parametrize(
    ("first", "second", "both"),
    [
        pytest.param("C3>D3", "D3>E3", "C3>E3", id="on and on"),
        pytest.param("C3>D3", "D3>C3", "", id="there and back"),
        pytest.param("C3>D3", "G3>A3", "C3>D3 G3>A3", id="side by side"),
        pytest.param("C3>", "G3>A3", "C3> G3>A3", id="left out"),
        pytest.param(">C5", "C5>D5", ">D5", id="added and moved"),
        pytest.param(">C5", "C5>", "", id="added and left out"),
        pytest.param("C3>D3", "D3>", "C3>", id="moved and left out"),
        pytest.param("", ">C5", ">C5", id="added later"),
        pytest.param("C3>C4", "C4>C3 G3>", "G3>", id="an octave up and down"),
    ],
)
def test_two_moves_are_told_as_one(first: str, second: str, both: str) -> None:
    """The first voicing against the last."""
    assert in_turn(pairs(first), pairs(second)) == pairs(both)


def test_pairs_are_told_in_words() -> None:
    """A new name, an octave, a note gone, a note come."""
    told = pairs_words(pairs("C3>D3 E3>E4 G4>G2 B3> >F#4"))
    assert told == "C → D, E an octave up, G 2 octaves down, B left out, F♯ added"


def test_what_went_stands_beside_what_came(read: Read) -> None:
    """Notes that cannot be followed are paired from low to high; those in both did not change."""
    before, after = read("C3 G3 E4 | B4 D5"), read("C3 E3 A3 | B4 D5 F#5")
    assert changes(before, after, ()) == pairs("G3>E3 E4>A3 >F#5")


@given(st.sets(st.integers(40, 84), min_size=1, max_size=8))
def test_a_sounding_voicing_keeps_its_name(midi: set[int]) -> None:
    """A card's voicing over its root is named with the degrees it has."""
    named = name_notes(tuple(sorted(midi)), DEFAULT_SIZES[len(midi)])
    again = named_sounding(named.sounding)
    assert again.sounding == named.sounding
    assert again.chord_plain == named.chord_plain
    assert [voice.place for voice in voices_of(again)] == list(range(len(midi)))


def test_layers_are_told_in_full(read: Read) -> None:
    """Structure, root, spacing, inversion; stacks have no inversion to tell, intervals nothing at all."""
    named = read("C3 F3 Bb3 | E4 A4 | C5 E5 G5")
    assert [layer_words(named, layer) for layer in named.layers] == [
        "C quartal stack, close",
        "perfect fourth",
        "C major triad, close, root position",
    ]
