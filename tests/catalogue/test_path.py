"""The smoothest way is found exactly, and the next best ways too."""

from __future__ import annotations

from itertools import pairwise, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.catalogue.path import smoothest
from drills.neck.grip import Grip
from drills.neck.search import Place, find_in_key
from drills.theory.clash import low_intervals
from drills.theory.naming import name_notes
from drills.theory.pitch import read_note_name
from drills.theory.text import read_voicing


def places(degrees: str, key: str) -> tuple[Place, ...]:
    """Every place of a voicing in a key."""
    root = read_note_name(key)
    written = read_voicing(degrees, root=root)
    named = name_notes(written.midi, written.sizes, root=root, degrees=written.degrees)
    return find_in_key(named.sounding.voicing, root).places


TWO = places("b3 b7 | 9 5 1", "D") + places("b7 b3 | 9 5", "D")
FIVE = places("b7 3 | b13 b9 #11", "G") + places("3 b7 | #9 b13 1", "G")
ONE = places("3 6 | 9 5 1", "C")
ALL = (*TWO, *FIVE, *ONE)


def move_cost(one: Place, other: Place) -> float:
    """The cost of one move, written another way: a loop over the voices from the top."""
    frets = 0
    if one.grip.lowest_fret and other.grip.lowest_fret:
        frets = abs(one.grip.lowest_fret - other.grip.lowest_fret)
    highest_first = list(reversed(one.sounding.midi)), list(reversed(other.sounding.midi))
    semitones = sum(abs(a - b) for a, b in zip(*highest_first, strict=False))
    return frets + semitones / 2 + abs(len(highest_first[0]) - len(highest_first[1]))


def grip_cost(place: Place) -> float:
    """What a grip costs by itself."""
    grip: Grip = place.grip
    trouble = grip.barre_strain / 2 + 3 * grip.is_long_reach + 2 * (grip.highest_fret > 12)
    return trouble + grip.skipped_strings + len(low_intervals(place.sounding.midi))


def whole_cost(way: tuple[Place, ...]) -> float:
    """The cost of a way."""
    return sum(map(grip_cost, way)) + sum(move_cost(one, other) for one, other in pairwise(way))


def test_home_by_half_steps_is_the_smoothest() -> None:
    """Dm9 G7♭9♯11♭13 C6/9 under one hand: ii–V–I on strings 5 to 1 (common practice, no source)."""
    best = smoothest((TWO, FIVE, ONE))[0]
    assert [place.grip.text for place in best.places] == ["x 8 10 9 10 10", "x 8 9 8 9 9", "x 7 7 7 8 8"]
    assert best.cost == 7.5


@given(
    choices=st.lists(st.lists(st.sampled_from(ALL), min_size=1, max_size=5), min_size=1, max_size=4),
    limit=st.integers(1, 6),
)
@settings(max_examples=60)
def test_brute_force_agrees(choices: list[list[Place]], limit: int) -> None:
    """Every way tried one by one has no better costs, and as many ways come back as there are."""
    ways = smoothest(choices, limit=limit)
    every = sorted(round(whole_cost(way), 3) for way in product(*choices))
    assert [way.cost for way in ways] == every[:limit]
    for way in ways:
        assert way.cost == pytest.approx(whole_cost(way.places), abs=0.001)
        assert all(place in offered for place, offered in zip(way.places, choices, strict=True))


def test_a_choice_may_bring_a_cost_of_its_own() -> None:
    """What is said to cost more is gone round where another way is cheaper."""
    plain = smoothest((TWO, FIVE, ONE), limit=1)[0]
    dear = [
        [100.0 if place == plain.places[0] else 0.0 for place in TWO],
        [0.0] * len(FIVE),
        [0.0] * len(ONE),
    ]
    other = smoothest((TWO, FIVE, ONE), limit=1, extra=dear)[0]
    assert other.places[0] != plain.places[0]
    assert other.cost >= plain.cost


def test_a_single_chord_is_a_way_of_one_place() -> None:
    """The easiest place by itself."""
    (way,) = smoothest((ONE,), limit=1)
    assert len(way.places) == 1
    assert way.cost == min(grip_cost(place) for place in ONE)


def test_the_same_choices_may_come_twice() -> None:
    """A chord that returns costs nothing to stay on."""
    way = smoothest((ONE, ONE, ONE), limit=4)[0]
    assert len(set(way.places)) == 1
