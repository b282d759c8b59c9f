"""What a player asks the catalogue for, as filters that each look at whole columns.

Filters are gone through in a fixed order, and the voicings left are counted after each, so that an empty
answer can say which of them emptied it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from drills.catalogue.chord_type import ChordType
from drills.catalogue.enumerate import LAYER_PAIRS
from drills.catalogue.layers import numbers_meant
from drills.catalogue.table import Columns, Table
from drills.theory.degree import Degree
from drills.theory.layer_pattern import LayerPattern

Mask: TypeAlias = npt.NDArray[np.bool_]

_SAME_TONE = {"4": "11", "6": "13", "b5": "#11", "#5": "b13"}
"""Two words for one tone, of which the chord at hand decides; who asks for one means both."""

_ALL = 12
_SIZES = np.array([lower + upper for lower, upper in LAYER_PAIRS])


@dataclass(frozen=True, slots=True)
class Query:
    """What is asked for; what is left as it stands asks for nothing.

    Attributes:
        chords: chord types; all the usual ones unless given.
        lower, upper: kinds of layer, any of which will do.
        notes: how many notes, any of which will do.
        top, bass: degrees of the highest and the lowest note, any of which will do.
        rootless: True for voicings without their root, False for those with it.
        min_keys: in at least so many keys.
        max_stretch_mm: held, and stretching no further.
        repeats: let one tone sound twice as well.
    """

    chords: tuple[ChordType, ...] = ()
    lower: tuple[LayerPattern, ...] = ()
    upper: tuple[LayerPattern, ...] = ()
    notes: tuple[int, ...] = ()
    top: tuple[Degree, ...] = ()
    bass: tuple[Degree, ...] = ()
    rootless: bool | None = None
    min_keys: int = 0
    max_stretch_mm: float | None = None
    repeats: bool = False


@dataclass(frozen=True, slots=True)
class Filter:
    """One filter.

    Attributes:
        name: the attribute of the query.
        words: what it asks for, as people read it.
        keeps: which voicings of a table pass.
    """

    name: str
    words: str
    keeps: Callable[[Table], Mask]


def filters_of(query: Query) -> Iterator[Filter]:
    """The filters that a query asks for: what a voicing is, then how it is held."""
    if query.notes:
        yield Filter("notes", f"{_any(query.notes)} notes", lambda table: np.isin(_sizes(table), query.notes))
    if query.lower:
        words = _any(each.text for each in query.lower)
        yield Filter(
            "lower", f"lower layer: {words}", lambda table: _is_meant(query.lower)[table.columns.lower]
        )
    if query.upper:
        words = _any(each.text for each in query.upper)
        yield Filter(
            "upper", f"upper layer: {words}", lambda table: _is_meant(query.upper)[table.columns.upper]
        )
    if query.bass:
        words = _any(each.shown for each in query.bass)
        yield Filter(
            "bass", f"{words} in the bass", lambda table: _is_one_of(table, query.bass)[_lowest(table)]
        )
    if query.top:
        words = _any(each.shown for each in query.top)
        yield Filter("top", f"{words} on top", lambda table: _is_one_of(table, query.top)[_highest(table)])
    if query.rootless is not None:
        wants_root = not query.rootless
        words = "with its root" if wants_root else "without its root"
        yield Filter("rootless", words, lambda table: _has_root(table) == wants_root)
    if query.min_keys:
        words = (
            "held in all twelve keys" if query.min_keys == _ALL else f"held in {query.min_keys} keys or more"
        )
        yield Filter("min_keys", words, lambda table: _keys(table.columns) >= query.min_keys)
    if query.max_stretch_mm is not None:
        limit_um = query.max_stretch_mm * 1000
        words = f"held within {query.max_stretch_mm:g} mm"
        yield Filter("max_stretch_mm", words, lambda table: _is_within(table.columns, limit_um))


def _any(words: Sequence[object] | Iterator[object]) -> str:
    return " or ".join(str(each) for each in words)


def _sizes(table: Table) -> npt.NDArray[np.int64]:
    return _SIZES[table.columns.pair]


def _is_meant(patterns: tuple[LayerPattern, ...]) -> Mask:
    return np.asarray(np.stack([numbers_meant(pattern) for pattern in patterns]).any(axis=0))


def _lowest(table: Table) -> npt.NDArray[np.int8]:
    return table.columns.tones[:, 0]


def _highest(table: Table) -> npt.NDArray[np.int8]:
    tones = table.columns.tones
    return tones[np.arange(len(tones)), _sizes(table) - 1]


def _is_one_of(table: Table, degrees: tuple[Degree, ...]) -> Mask:
    """For each tone of a chord type whether it is asked for."""
    asked = {_one_word(each) for each in degrees}
    return np.array([_one_word(each) in asked for each in table.kind.tones])


def _one_word(degree: Degree) -> str:
    return _SAME_TONE.get(degree.plain, degree.plain)


def _has_root(table: Table) -> Mask:
    is_root = np.array([*(each.semitones == 0 for each in table.kind.tones), False])  # the last one pads
    return np.asarray(is_root[table.columns.tones].any(axis=1))


def _keys(columns: Columns) -> npt.NDArray[np.uint8]:
    return np.bitwise_count(columns.keys)


def _is_within(columns: Columns, limit_um: float) -> Mask:
    return np.asarray((columns.stretch_um >= 0) & (columns.stretch_um <= limit_um))
