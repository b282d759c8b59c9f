"""The catalogue's points for voicings that come from elsewhere, such as the answers of a swap.

Conventions: reasons and weights are those of rank.py; the stretch is that of the best grip over the
voicing's own root, or of the best grip over any root where that one has none.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from drills.catalogue import rank
from drills.catalogue.reach import NOWHERE, best_grips, unpack
from drills.catalogue.setup import Setup
from drills.theory.clash import low_intervals
from drills.theory.naming import Named

_GUIDES = (3, 4, 7)
_TENSIONS = (9, 11, 13)


def worths(voicings: Sequence[Named], setup: Setup, *, root_is_bass_players: bool = False) -> list[int]:
    """The points of voicings that have equally many notes; the higher comes first.

    Args:
        voicings: named.
        setup: the instrument and the hand.
        root_is_bass_players: somebody else plays the root, so one above the lowest note is a repeated note.

    >>> from drills.theory.naming import name_notes
    >>> easy, hard = name_notes((49, 55, 60, 65, 69), (2, 3)), name_notes((48, 55, 64, 71, 74), (3, 2))
    >>> points = worths([easy, hard], Setup())
    >>> points[0] > points[1]
    True
    """
    if not voicings:
        return []
    packed = best_grips(np.array([each.sounding.voicing.gaps_semitones for each in voicings]), setup)
    own = packed[np.arange(len(voicings)), [each.sounding.lowest_midi % 12 for each in voicings]]
    best = np.where(own == NOWHERE, packed.min(axis=1), own)
    grips = unpack(best)
    keys = (packed != NOWHERE).sum(axis=1)
    held = zip(keys.tolist(), (grips.stretch_um / 1000).tolist(), grips.lowest_midi.tolist(), strict=True)
    points = [_reach(each, *one) + _sound(each) for each, one in zip(voicings, held, strict=True)]
    if not root_is_bass_players:
        return points
    return [
        own + rank.REPEATED_NOTE * _has_root_above_bass(each)
        for own, each in zip(points, voicings, strict=True)
    ]


def _has_root_above_bass(named: Named) -> bool:
    return not named.reading.is_rootless and named.reading.lowest_over_root_semitones != 0


def _reach(named: Named, keys: int, stretch_mm: float, lowest_midi: int) -> int:
    """Points for keys, stretch, and low intervals where it is held."""
    if not keys:
        return rank.OUT_OF_REACH
    midi = tuple(lowest_midi + height for height in named.sounding.voicing.heights_semitones)
    muddy = rank.LOW_INTERVAL * len(low_intervals(midi))
    return rank.EACH_KEY * keys + rank.EACH_4_MM * int(stretch_mm // 4) + muddy


def _sound(named: Named) -> int:
    """Points for repeated notes, colour on top, the upper layer's lowest note, and simple layers."""
    degrees = named.reading.degrees
    repeats = len(degrees) - len({each.semitones for each in degrees})
    has_colour_on_top = degrees[-1].number in _TENSIONS or degrees[-1].plain in ("b5", "#5")
    upper = degrees[named.layers[-1].first]
    starts_on_guide = upper.number in _GUIDES or upper.plain == "6"
    simple = sum(
        rank.LAYER_FAMILY.get(layer.name.family, 0) + rank.WIDE_LAYER * (layer.name.spacing == "wide")
        for layer in named.layers
    )
    return (
        rank.REPEATED_NOTE * repeats
        + rank.COLOUR_ON_TOP * has_colour_on_top
        + rank.UPPER_ON_GUIDE_TONE * starts_on_guide
        + simple
    )
