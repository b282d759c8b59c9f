"""Every layered voicing that makes a chord: each order of each set of its tones, and each split in layers.

Conventions: a row is a voicing; its notes are places in the chord type's tones, low to high, padded
with -1. Neighbouring notes lie 1 to 12 semitones apart, so the order of the tones fixes the heights,
and a tone that follows itself lies an octave above.

numpy goes through a set of tones in one step: tests/bench/bench_catalogue.py shows what that gains
over the same enumeration note by note.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, permutations
from math import factorial

import numpy as np
import numpy.typing as npt

from drills.catalogue.chord_type import ChordType
from drills.catalogue.layers import layer_numbers
from drills.theory.clash import clashes
from drills.theory.degree import Degree
from drills.theory.layer_pattern import WIDEST_GAP_SEMITONES
from drills.theory.symbol import Quality

LAYER_PAIRS = ((1, 3), (2, 2), (2, 3), (3, 2), (3, 3), (3, 4))
"""Notes in the lower and the upper layer."""

NOTES = tuple(sorted({lower + upper for lower, upper in LAYER_PAIRS}))
MOST_NOTES = max(NOTES)
_HIGHEST = (MOST_NOTES - 1) * WIDEST_GAP_SEMITONES

Ints = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Rows:
    """Voicings of one chord type.

    Attributes:
        tones: places in the type's tones, shape (voicings, 7), -1 after the last note.
        gaps: semitones from each note to the next, shape (voicings, 6), 0 after the last.
        pair: places in LAYER_PAIRS.
        lower, upper: numbers of the layers' names.
    """

    tones: npt.NDArray[np.int8]
    gaps: npt.NDArray[np.int8]
    pair: npt.NDArray[np.int8]
    lower: npt.NDArray[np.int16]
    upper: npt.NDArray[np.int16]


def enumerate_rows(kind: ChordType, *, repeats: int = 0) -> Rows:
    """Every voicing of a chord type, in a fixed order: by layer pair, then by tones.

    Args:
        kind: the chord type.
        repeats: 1 to let one tone sound twice as well.
    """
    parts = [part for size in NOTES for part in _of_size(kind, size, repeats)]
    pair = np.concatenate([np.full(len(tones), place, np.int8) for place, tones, *_ in parts])
    tones = np.concatenate([_padded(tones, MOST_NOTES, -1) for _, tones, *_ in parts])
    gaps = np.concatenate([_padded(gaps, MOST_NOTES - 1, 0) for _, _, gaps, *_ in parts])
    lower = np.concatenate([lower for *_, lower, _ in parts])
    upper = np.concatenate([upper for *_, upper in parts])
    order = np.lexsort((*(tones[:, note] for note in reversed(range(MOST_NOTES))), pair))
    return Rows(tones[order], gaps[order], pair[order], lower[order], upper[order])


_Part = tuple[int, Ints, Ints, npt.NDArray[np.int16], npt.NDArray[np.int16]]


def _of_size(kind: ChordType, size: int, repeats: int) -> Iterator[_Part]:
    """The voicings with so many notes: for each layer pair its place, tones, gaps, lower, upper."""
    tones = _sound(kind, _orders(kind, size, repeats))
    semitones = np.array([each.semitones for each in kind.tones], dtype=np.int64)[tones]
    gaps = (np.diff(semitones, axis=1) - 1) % 12 + 1
    for place, (below, above) in enumerate(LAYER_PAIRS):
        if below + above != size:
            continue
        lower = layer_numbers(gaps[:, : below - 1])
        upper = layer_numbers(gaps[:, below:])
        named = (lower > 0) & (upper > 0)
        yield place, tones[named], gaps[named], lower[named], upper[named]


def _padded(rows: Ints, width: int, filler: int) -> npt.NDArray[np.int8]:
    padded = np.full((len(rows), width), filler, dtype=np.int8)
    padded[:, : rows.shape[1]] = rows
    return padded


def _orders(kind: ChordType, size: int, repeats: int) -> Ints:
    """Every order of every set of tones that makes the chord, clashes or not."""
    apart = _never_together(kind)
    found = [np.empty((0, size), dtype=np.int64)]
    sets = combinations(range(len(kind.tones)), size)
    found += [np.array(held)[_permutations(size)] for held in sets if _can_sound(kind, held, apart)]
    if repeats:
        for held in combinations(range(len(kind.tones)), size - 1):
            if _can_sound(kind, held, apart):
                found += [
                    np.array((*held, twice))[_permutations_of_twins(size, held.index(twice))]
                    for twice in held
                ]
    return np.concatenate(found)


def _can_sound(kind: ChordType, held: tuple[int, ...], apart: frozenset[tuple[int, int]]) -> bool:
    makes = kind.is_made_by(tuple(kind.tones[place] for place in held))
    return makes and not any(pair in apart for pair in combinations(held, 2))


@lru_cache(maxsize=8)
def _permutations(size: int) -> Ints:
    flat = (place for order in permutations(range(size)) for place in order)
    return np.fromiter(flat, np.int64, factorial(size) * size).reshape(-1, size)


@lru_cache(maxsize=64)
def _permutations_of_twins(size: int, twin: int) -> Ints:
    """The permutations in which a place comes before the last one, its twin: each order once."""
    orders = _permutations(size)
    comes_before = (orders == twin).argmax(axis=1) < (orders == size - 1).argmax(axis=1)
    first: Ints = orders[comes_before]
    return first


def _sound(kind: ChordType, tones: Ints) -> Ints:
    """The rows in which no two notes clash."""
    rubs = _rubbing(kind.tones, kind.symbol.quality)
    if not rubs.any():
        return tones
    semitones = np.array([each.semitones for each in kind.tones], dtype=np.int64)[tones]
    gaps = (np.diff(semitones, axis=1) - 1) % 12 + 1
    heights = np.concatenate([np.zeros((len(tones), 1), np.int64), gaps.cumsum(axis=1)], axis=1)
    is_sound = np.ones(len(tones), dtype=bool)
    for low, high in combinations(range(tones.shape[1]), 2):
        is_sound &= ~rubs[tones[:, low], tones[:, high], heights[:, high] - heights[:, low]]
    return tones[is_sound]


@lru_cache(maxsize=256)
def _rubbing(tones: tuple[Degree, ...], quality: Quality) -> npt.NDArray[np.bool_]:
    """Whether two notes clash: by lower tone, higher tone, and semitones between them.

    Every rule of clashes speaks of two notes, so the table holds all of them.
    """
    table = np.zeros((len(tones), len(tones), _HIGHEST + 1), dtype=bool)
    for low, lower in enumerate(tones):
        for high, upper in enumerate(tones):
            first = (upper.semitones - lower.semitones) % 12 or 12
            for apart in range(first, _HIGHEST + 1, 12):
                table[low, high, apart] = _rub(lower, upper, apart, quality)
    return table


def _rub(lower: Degree, upper: Degree, apart_semitones: int, quality: Quality) -> bool:
    """A third under the fourth of a sus chord turns it into an 11, which rubs."""
    is_upside_down = (lower.plain, upper.plain) == ("3", "4")
    return is_upside_down or bool(clashes((lower, upper), (0, apart_semitones), quality))


def _never_together(kind: ChordType) -> frozenset[tuple[int, int]]:
    """Tones that clash wherever they lie, as rising pairs of places."""
    rubs = _rubbing(kind.tones, kind.symbol.quality)
    pairs = combinations(range(len(kind.tones)), 2)
    return frozenset((one, other) for one, other in pairs if _always(rubs, one, other, kind.tones))


def _always(rubs: npt.NDArray[np.bool_], one: int, other: int, tones: tuple[Degree, ...]) -> bool:
    up = (tones[other].semitones - tones[one].semitones) % 12
    return bool(rubs[one, other, up::12].all() and rubs[other, one, 12 - up :: 12].all())


def heights_of(gaps: tuple[int, ...]) -> tuple[int, ...]:
    """Heights over the lowest note from gaps."""
    heights = [0]
    for gap in gaps:
        heights.append(heights[-1] + gap)
    return tuple(heights)
