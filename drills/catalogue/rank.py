"""What players care about in a voicing, as points: which of two voicings comes first, and why.

Every reason is a figure of its own, so that the order can be shown and argued about. All weights stand
here and nowhere else.
Source: the reasons are common practice, no source; the weights are ours.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from drills.catalogue.chord_type import ChordType
from drills.catalogue.enumerate import LAYER_PAIRS, Rows
from drills.catalogue.layers import layer_names
from drills.theory.degree import Degree
from drills.theory.layer import LayerName
from drills.theory.tables import LOW_INTERVAL_LIMITS_MIDI

EACH_KEY = 3
OUT_OF_REACH = -60
EACH_4_MM = -1
LOW_INTERVAL = -8
REPEATED_NOTE = -10
COLOUR_ON_TOP = 6
UPPER_ON_GUIDE_TONE = 6
WIDE_LAYER = -3
LAYER_FAMILY = {
    "triad": 6,
    "interval": 5,
    "seventh chord": 5,
    "shell": 4,
    "stack": 4,
    "sus": 4,
    "note": 4,
    "cluster": 0,
}

REASONS = (
    "keys",
    "stretch",
    "low intervals",
    "repeated notes",
    "colour on top",
    "upper layer from 3 or 7",
    "simple layers",
)
"""What the points are for, in the order of the figures."""

_TENSIONS, _GUIDE_TONES = (9, 11, 13), (3, 4, 7)


@dataclass(frozen=True, slots=True)
class Held:
    """How voicings are held.

    Attributes:
        keys: in how many of twelve.
        stretch_mm: of the grip that is shown; 0 where there is none.
        lowest_midi: of that grip.
    """

    keys: npt.NDArray[np.int64]
    stretch_mm: npt.NDArray[np.float64]
    lowest_midi: npt.NDArray[np.int64]


def points(kind: ChordType, rows: Rows, held: Held) -> npt.NDArray[np.int8]:
    """The points of each voicing for each reason, shape (voicings, reasons)."""
    is_held = held.keys > 0
    sizes = (rows.tones >= 0).sum(axis=1)
    every = np.arange(len(sizes))
    is_colour = np.array([_is_colour(each) for each in kind.tones])
    is_guide = np.array([each.number in _GUIDE_TONES or each.plain == "6" for each in kind.tones])
    first_above = np.array([below for below, _ in LAYER_PAIRS])[rows.pair]
    simple = np.array([_simplicity(name) for name in layer_names()])
    figures = (
        np.where(is_held, EACH_KEY * held.keys, OUT_OF_REACH),
        EACH_4_MM * (held.stretch_mm // 4),
        np.where(is_held, LOW_INTERVAL * _low_intervals(rows.gaps, held.lowest_midi), 0),
        REPEATED_NOTE * _repeats(rows.tones),
        COLOUR_ON_TOP * is_colour[rows.tones[every, sizes - 1]],
        UPPER_ON_GUIDE_TONE * is_guide[rows.tones[every, first_above]],
        simple[rows.lower] + simple[rows.upper],
    )
    return np.stack([np.asarray(each).astype(np.int8) for each in figures], axis=1)


def _is_colour(tone: Degree) -> bool:
    return tone.number in _TENSIONS or tone.plain in ("b5", "#5")


def _simplicity(name: LayerName | None) -> int:
    if name is None:
        return 0
    return LAYER_FAMILY[name.family] + (WIDE_LAYER if name.spacing == "wide" else 0)


def _low_intervals(gaps: npt.NDArray[np.int8], lowest_midi: npt.NDArray[np.int64]) -> npt.NDArray[np.int64]:
    """How many low intervals each voicing has, as drills.theory.clash.low_intervals finds them."""
    limits = np.zeros(int(gaps.max(initial=0)) + 1, dtype=np.int64)
    for interval, limit_midi in LOW_INTERVAL_LIMITS_MIDI:
        if interval < len(limits):
            limits[interval] = limit_midi
    below = lowest_midi[:, np.newaxis] + gaps.cumsum(axis=1, dtype=np.int64) - gaps
    counts: npt.NDArray[np.int64] = (below < limits[gaps]).sum(axis=1)
    return counts


def _repeats(tones: npt.NDArray[np.int8]) -> npt.NDArray[np.int64]:
    ordered = np.sort(tones, axis=1)
    is_again = (ordered[:, 1:] == ordered[:, :-1]) & (ordered[:, 1:] >= 0)
    counts: npt.NDArray[np.int64] = is_again.sum(axis=1)
    return counts
