"""Where along the neck a pattern of frets can be held, and how much its barres ask of the hand.

A pattern is a grip's frets over the lowest fretted one, OPEN for an open string. Distances shrink up the
neck while everything else stays the same, so whatever way of fingering a pattern works at a fret works
above it too: it is enough to ask for the ways at the end of the neck, and how far down each of them goes.
What the hand may do is said in `drills.neck.hand` alone. Strings matter to it only where one finger could
lie on several of them: whether they are neighbours, whether one between them is not played, and whether a
lower note is on their treble side.
Patterns that agree in this share one answer, and most do.
"""

from __future__ import annotations

from itertools import combinations

from drills.catalogue.setup import Setup
from drills.neck.grip import Frets, Grip
from drills.neck.hand import fingerings

CANNOT = 255
"""Stands for no grip, where strain is told."""

OPEN = -1
"""Stands for an open string in a pattern."""


class Patterns:
    """The patterns asked about so far, for one instrument and one hand."""

    def __init__(self, setup: Setup) -> None:
        hand = setup.hand
        self._instrument, self._hand = setup.instrument, hand
        self._positions_mm = setup.instrument.positions_mm
        self._last_fret = setup.instrument.highest_fret
        limits_mm = (0.0, hand.max_neighbour_mm, hand.max_two_apart_mm, hand.max_stretch_mm)
        apart = range(self._last_fret + 1)
        self._first_fret = [[self._first_within_mm(each, limit) for each in apart] for limit in limits_mm]
        self._strains: dict[tuple[int, ...], tuple[int, ...]] = {}

    def strain_by_fret(self, strings: tuple[int, ...], pattern: tuple[int, ...]) -> tuple[int, ...]:
        """The barre strain of a pattern's best way with its lowest fretted note at each fret, 0 the nut.

        CANNOT stands for no way. With all strings open nothing is held, wherever the hand is.
        """
        fretted = sorted(zip(pattern, strings, strict=True))
        key = _as_the_hand_sees_it(fretted)
        known = self._strains.get(key)
        if known is None:
            known = self._strains[key] = self._strain_by_fret(fretted)
        return known

    def _strain_by_fret(self, notes: list[tuple[int, int]]) -> tuple[int, ...]:
        apart = notes[-1][0]
        if apart == OPEN:
            return (0,) * (self._last_fret + 1)
        strain = [CANNOT] * (self._last_fret + 1)
        last = self._last_fret - apart
        first = max(self._first_fret[-1][apart], self._first_allowed(apart))
        if first > last:
            return tuple(strain)
        fretted = [(last + fret, string) for fret, string in notes if fret != OPEN]
        frets = _frets_of([(0, string) for fret, string in notes if fret == OPEN] + fretted)
        ways = sorted(fingerings(fretted, frets, self._positions_mm, self._hand))
        over_lowest = [fret - last for fret, _ in fretted]
        end = last + 1  # frets from here on have their best way
        for _, barres, _, fingers in ways:
            start = max(first, self._lowest_fret_of(fingers, over_lowest))
            if start < end:
                asked = Grip(frets, fingers, 0.0, apart, barres, is_long_reach=False).barre_strain
                strain[start:end] = [asked] * (end - start)
                end = start
        return tuple(strain)

    def _lowest_fret_of(self, fingers: tuple[int, ...], over_lowest: list[int]) -> int:
        """The lowest fret of a pattern at which a way of fingering it still works."""
        held = sorted(set(zip(fingers, over_lowest, strict=True)))
        starts = (
            self._first_fret[finger - other][fret - low] - low
            for (other, low), (finger, fret) in combinations(held, 2)
        )
        return max(starts, default=1)

    def _first_within_mm(self, apart_frets: int, limit_mm: float) -> int:
        """The lowest fret from which so many frets stay within a limit."""
        positions = self._positions_mm
        lows = range(len(positions) - 1 - apart_frets, -1, -1)
        too_wide = (low for low in lows if positions[low + apart_frets] - positions[low] > limit_mm)
        return max(1, next(too_wide, 0) + 1)

    def _first_allowed(self, apart_frets: int) -> int:
        """The lowest fret from which the hand allows so many frets apart; beyond the neck if none does."""
        frets = range(1, self._last_fret + 1)
        capo = self._instrument.capo
        allowed = (fret for fret in frets if apart_frets <= self._hand.frets_apart_from(fret + capo))
        return next(allowed, self._last_fret + 1)


def _as_the_hand_sees_it(notes: list[tuple[int, int]]) -> tuple[int, ...]:
    """For each fretted note its fret, and where a barre could begin or go on, what lies in its way.

    Args:
        notes: (fret over the lowest, string), by fret, then string.
    """
    key = []
    played = {string for _, string in notes}
    highest_string = highest_below = last_fret = last_string = -2
    for (fret, string), (next_fret, _) in zip(notes, [*notes[1:], (-2, 0)], strict=True):
        if fret != last_fret:
            highest_below = highest_string
        if fret != OPEN:
            has_lower_on_treble_side = fret == next_fret and highest_below > string
            is_neighbour = is_over_silent = False
            if fret == last_fret:
                is_neighbour = string == last_string + 1
                is_over_silent = not played.issuperset(range(last_string + 1, string))
            key.append(fret << 3 | is_over_silent << 2 | has_lower_on_treble_side << 1 | is_neighbour)
        highest_string = max(highest_string, string)
        last_fret, last_string = fret, string
    return tuple(key)


def _frets_of(notes: list[tuple[int, int]]) -> Frets:
    """Frets with a place for every string up to the last one used."""
    by_string: dict[int, int] = {string: fret for fret, string in notes}
    return tuple(by_string.get(string) for string in range(max(by_string) + 1))
