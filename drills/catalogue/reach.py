"""In which keys voicings can be held, and the best grip in each: all of them at once.

On a set of strings a voicing is a pattern: its frets over the lowest of them. Few patterns serve many
voicings, and a pattern serves every key, moved along the neck (see patterns.py). With open strings it
lies in one place and is asked about there.

Conventions: a shape is the gaps of a voicing, free of key. A grip is packed in one number whose order is
that of Grip.rank, and then that of the string sets, which is how find_in_key breaks ties.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from drills.catalogue.patterns import CANNOT, OPEN, Patterns
from drills.catalogue.setup import Setup

NOWHERE = np.iinfo(np.int64).max
"""Stands for no grip."""

_LONG, _HIGH, _SKIPPED, _STRAIN, _STRETCH, _LOWEST, _SET, _MIDI = (1, 1, 3, 4, 20, 5, 7, 7)
"""Bits of a packed grip, the weightiest first; the stretch is in micrometres, as exact as Grip.rank."""

Ints = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Packed:
    """What packed grips say; meaningless where there is none.

    Attributes:
        stretch_um: between the outer fretted notes, in micrometres.
        string_set: which of Setup.string_sets.
        lowest_midi: the lowest note.
    """

    stretch_um: Ints
    string_set: Ints
    lowest_midi: Ints


def unpack(packed: Ints) -> Packed:
    """Takes packed grips apart."""
    stretch_um = packed >> (_LOWEST + _SET + _MIDI) & (1 << _STRETCH) - 1
    return Packed(stretch_um, packed >> _MIDI & (1 << _SET) - 1, packed & (1 << _MIDI) - 1)


def best_grips(gaps: npt.NDArray[np.integer], setup: Setup) -> Ints:
    """The best grip of each shape on each lowest note.

    Args:
        gaps: shape (shapes, notes less one), semitones.
        setup: whose grips count.

    Returns:
        Packed grips, shape (shapes, 12): column n holds the best one whose lowest note has pitch class n.
    """
    heights = np.concatenate(
        [np.zeros((len(gaps), 1), np.int64), gaps.cumsum(axis=1, dtype=np.int64)], axis=1
    )
    best = np.full((len(gaps), 12), NOWHERE, dtype=np.int64)
    patterns = Patterns(setup)
    for number, strings in enumerate(setup.string_sets(heights.shape[1])):
        _Search(patterns, setup, number, strings).improve(best, heights)
    return best


class _Search:
    """The search on one set of strings."""

    def __init__(self, patterns: Patterns, setup: Setup, number: int, strings: tuple[int, ...]) -> None:
        instrument = setup.instrument
        self._patterns = patterns
        self._setup = setup
        self._strings = strings
        self._open = np.array([instrument.open_midi[string] for string in strings], dtype=np.int64)
        self._number = number
        self._skipped = strings[-1] - strings[0] + 1 - len(strings)
        self._highest_fret = instrument.highest_fret
        positions_mm = np.array(instrument.positions_mm)
        stretch_mm = positions_mm[:, np.newaxis] - positions_mm
        self._stretch_um = np.rint(stretch_mm * 1000).astype(np.int64)
        self._most_apart = setup.hand.frets_apart_from(self._highest_fret + instrument.capo)
        self._is_long_reach = stretch_mm > setup.hand.long_reach_mm

    def improve(self, best: Ints, heights: Ints) -> None:
        """Lets better grips on these strings take the place of those known."""
        over_open = heights - self._open
        lowest = over_open.min(axis=1)
        frets = over_open - lowest[:, np.newaxis]
        lowest_midi = -lowest  # where the lowest fret is an open string
        self._improve_closed(best, frets, lowest_midi)
        self._improve_open(best, frets, lowest_midi)

    def _improve_closed(self, best: Ints, patterns: Ints, lowest_midi: Ints) -> None:
        """Patterns without an open string, at every fret."""
        rows = np.flatnonzero(patterns.max(axis=1) <= self._most_apart)
        strain, which = self._strains(patterns[rows])
        apart, midi_at_nut = patterns[rows].max(axis=1), lowest_midi[rows]
        for fret in range(1, self._highest_fret + 1):
            here = np.flatnonzero(strain[which, fret] != CANNOT)
            low = np.full(len(here), fret)
            packed = self._pack(low, low + apart[here], strain[which[here], fret], midi_at_nut[here] + fret)
            _keep_better(best, rows[here], packed)

    def _improve_open(self, best: Ints, frets: Ints, lowest_midi: Ints) -> None:
        """Patterns whose lowest fret is an open string; they lie in one place."""
        high = frets.max(axis=1)
        low = np.where(frets > 0, frets, high[:, np.newaxis]).min(axis=1)
        rows = np.flatnonzero((high <= self._highest_fret) & (high - low <= self._most_apart))
        low, high, frets = low[rows], high[rows], frets[rows]
        strain, which = self._strains(np.where(frets > 0, frets - low[:, np.newaxis], OPEN))
        counts = strain[which, low]
        held = counts != CANNOT
        packed = self._pack(low[held], high[held], counts[held], lowest_midi[rows[held]])
        _keep_better(best, rows[held], packed)

    def _strains(self, patterns: Ints) -> tuple[Ints, Ints]:
        """The strain by fret of each distinct pattern, and which of them each row is."""
        known, which = _distinct(patterns)
        strain = [self._patterns.strain_by_fret(self._strings, tuple(each)) for each in known.tolist()]
        return np.array(strain, dtype=np.int64).reshape(len(known), self._highest_fret + 1), which

    def _pack(self, low: Ints, high: Ints, strain: Ints, midi: Ints) -> Ints:
        stretch_um = self._stretch_um[high, low]
        packed: Ints = self._is_long_reach[high, low].astype(np.int64)
        fields = (
            (high > 12, _HIGH),
            (self._skipped, _SKIPPED),
            (strain, _STRAIN),
            (stretch_um, _STRETCH),
            (low, _LOWEST),
            (self._number, _SET),
            (midi, _MIDI),
        )
        for value, bits in fields:
            packed = packed << bits | value
        return packed


def _keep_better(best: Ints, rows: Ints, packed: Ints) -> None:
    """Each row once: a better grip on its lowest note takes the place of the one known."""
    lowest = (packed & (1 << _MIDI) - 1) % 12
    best[rows, lowest] = np.minimum(best[rows, lowest], packed)


def _distinct(rows: Ints) -> tuple[Ints, Ints]:
    """The distinct rows, and which of them each row is."""
    code = np.zeros(len(rows), dtype=np.int64)
    for place in range(rows.shape[1]):
        code = code << 5 | (rows[:, place] - OPEN)
    _, first, which = np.unique(code, return_index=True, return_inverse=True)
    return rows[first], which
