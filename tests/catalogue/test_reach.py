"""Reach: the same grips as the search note by note, for every key at once."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.catalogue.chord_type import chord_type
from drills.catalogue.entry import Entry
from drills.catalogue.patterns import CANNOT, OPEN, Patterns
from drills.catalogue.setup import Setup
from drills.catalogue.table import Table, build_tables
from drills.neck.grip import Grip
from drills.neck.hand import SMALL_HAND, USUAL_HAND, Hand, hold
from drills.neck.instrument import Instrument
from drills.neck.search import find_in_key, roots_by_fourths
from drills.neck.tuning import TUNINGS
from drills.theory.clash import low_intervals

SETUPS = {
    "standard": Setup(),
    "standard, small hand": Setup(hand=SMALL_HAND),
    "capo at 3": Setup(Instrument(capo=3)),
    "drop D": Setup(Instrument(TUNINGS["drop D"])),
    "DADGAD, capo at 7, 24 frets, short scale": Setup(Instrument(TUNINGS["DADGAD"], 7, 24, 610.0)),
    "a hand without reach": Setup(hand=Hand(max_stretch_mm=40.0, max_frets_apart=1)),
    "seven strings": Setup(Instrument(TUNINGS["seven strings"])),
    "eight strings": Setup(Instrument(TUNINGS["eight strings"])),
    "strings 5 to 2": Setup(strings=(1, 2, 3, 4)),
}


_KINDS = ("13#11", "m9b5", "6/9")


@lru_cache(maxsize=64)
def table(setup_name: str, kind: str) -> Table:
    """A chord type's catalogue."""
    return build_tables([chord_type(kind)], SETUPS[setup_name])[0]


def check(entry: Entry) -> None:
    """What the search note by note finds in twelve keys is what the catalogue says."""
    setup = entry.setup
    found = {
        root: [
            place
            for place in find_in_key(entry.voicing, root, setup.instrument, setup.hand).places
            if setup.strings is None or place.grip.strings == setup.strings
        ]
        for root in roots_by_fourths(entry.symbol.quality)
    }
    reached = tuple(root.pitch_class for root, places in found.items() if places)
    assert entry.key_classes == reached
    assert entry.keys == len(reached)
    best = next((places[0] for places in found.values() if places), None)
    assert entry.place == best
    assert entry.stretch_mm == (None if best is None else pytest.approx(best.grip.stretch_mm, abs=5e-4))
    muddy = len(low_intervals(best.sounding.midi)) if best else 0
    assert dict(entry.why)["low intervals"] == -8 * muddy
    for root, places in found.items():
        assert entry.place_over(root) == (places[0] if places else None)


@pytest.mark.parametrize("setup", SETUPS)
@settings(max_examples=30)
@given(data=st.data())
def test_every_voicing_is_held_where_the_search_holds_it(setup: str, data: st.DataObject) -> None:
    """Whatever chord, voicing, tuning, capo and hand: same keys, same best grip."""
    kind = data.draw(st.sampled_from(_KINDS))
    found = table(setup, kind)
    row = data.draw(st.integers(0, len(found.columns) - 1))
    check(found.entry(row))


@pytest.mark.slow
@pytest.mark.parametrize(("setup", "kind"), [("standard", "9b13"), ("standard, small hand", "9b13")])
def test_all_voicings_of_one_type_are_held_where_the_search_holds_them(setup: str, kind: str) -> None:
    """All of them, in all twelve keys."""
    found = table(setup, kind)
    for row in range(len(found.columns)):
        check(found.entry(row))


@given(
    setup=st.sampled_from(sorted(set(SETUPS) - {"strings 5 to 2"})),
    frets=st.lists(st.one_of(st.none(), st.just(OPEN), st.integers(0, 5)), min_size=4, max_size=6),
)
def test_a_pattern_is_held_where_the_hand_holds_it(setup: str, frets: list[int | None]) -> None:
    """At every fret: the same answer, and barres that ask as much."""
    used = {string: fret for string, fret in enumerate(frets) if fret is not None}
    fretted = [fret for fret in used.values() if fret != OPEN]
    if not used:
        return
    lowest = min(fretted, default=0)
    pattern = tuple(fret if fret == OPEN else fret - lowest for fret in used.values())
    instrument, hand = SETUPS[setup].instrument, SETUPS[setup].hand
    strain = Patterns(SETUPS[setup]).strain_by_fret(tuple(used), pattern)
    for low in range(1, instrument.highest_fret + 1):
        here = tuple(
            None if fret is None else 0 if fret == OPEN else low + fret - lowest
            for fret in (*frets, *[None] * (len(instrument.open_midi) - len(frets)))
        )
        held = hold(here, instrument, hand)
        assert strain[low] == (held.barre_strain if isinstance(held, Grip) else CANNOT)


def test_a_pattern_is_worked_out_once() -> None:
    """Sets of strings on which it looks alike share the answer."""
    patterns = Patterns(Setup())
    assert patterns.strain_by_fret((0, 1, 2, 3), (0, 1, 2, 3)) is patterns.strain_by_fret(
        (5, 3, 1, 0)[::-1], (0, 1, 2, 3)
    )


def test_a_hand_that_is_too_small_holds_a_pattern_nowhere() -> None:
    """Nor does one on a neck that ends too early."""
    patterns = Patterns(SETUPS["a hand without reach"])
    assert set(patterns.strain_by_fret((0, 1, 2, 3), (0, 5, 0, 0))) == {CANNOT}
    assert set(patterns.strain_by_fret((0, 1, 2, 3), (OPEN,) * 4)) == {0}


def test_voicings_shared_by_two_types_are_held_alike() -> None:
    """Types built together or apart have the same tables."""
    together = build_tables([chord_type("9"), chord_type("13")], Setup())
    for both, name in zip(together, ("9", "13"), strict=True):
        alone = table("standard", name)
        assert all(
            np.array_equal(getattr(both.columns, column), getattr(alone.columns, column))
            for column in ("tones", "keys", "stretch_um", "points", "lowest_midi", "string_set")
        )


def test_no_types_give_no_tables() -> None:
    """Nothing asked, nothing found."""
    assert build_tables([], Setup(hand=USUAL_HAND)) == ()
