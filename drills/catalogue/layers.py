"""Layer names by number, so that thousands of layers are named at once.

Conventions: a gap lies between 1 and 12 semitones; number 0 is no name. Notes of a layer run along the
last axis.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import product

import numpy as np
import numpy.typing as npt

from drills.theory.layer import LARGEST_LAYER, LayerName, name_layer
from drills.theory.layer_pattern import WIDEST_GAP_SEMITONES, LayerPattern

_BASE = WIDEST_GAP_SEMITONES + 1


@dataclass(frozen=True, slots=True)
class _Names:
    """Every layer with gaps up to an octave: its numbers by gaps, and its names by number."""

    numbers: tuple[npt.NDArray[np.int16], ...]
    names: tuple[LayerName | None, ...]


@lru_cache(maxsize=1)
def _all() -> _Names:
    number_of: dict[LayerName | None, int] = {None: 0}
    tables = []
    for size in range(1, LARGEST_LAYER + 1):
        table = np.zeros(_BASE ** (size - 1), dtype=np.int16)
        for gaps in product(range(1, _BASE), repeat=size - 1):
            name = name_layer(gaps)
            if name.family != "other":
                table[_code(gaps)] = number_of.setdefault(name, len(number_of))
        tables.append(table)
    return _Names(tuple(tables), tuple(number_of))


def _code(gaps: tuple[int, ...]) -> int:
    code = 0
    for gap in gaps:
        code = code * _BASE + gap
    return code


def layer_numbers(gaps: npt.NDArray[np.int64]) -> npt.NDArray[np.int16]:
    """The number of each layer's name, by its gaps; 0 where it has none.

    Args:
        gaps: shape (layers, notes in a layer less one).
    """
    code = np.zeros(len(gaps), dtype=np.int64)
    for place in range(gaps.shape[1]):
        code = code * _BASE + gaps[:, place]
    return _all().numbers[gaps.shape[1]][code]


def layer_names() -> tuple[LayerName | None, ...]:
    """The names by number; none at 0."""
    return _all().names


def numbers_meant(pattern: LayerPattern) -> npt.NDArray[np.bool_]:
    """For each number whether its name is one that a pattern means."""
    return np.array([name is not None and pattern.fits(name) for name in layer_names()])
