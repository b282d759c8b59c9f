"""Answers out of the catalogue: filtered, without doubles, best first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from drills.catalogue.cache import tables
from drills.catalogue.chord_type import CHORD_TYPES, ChordType, chord_type
from drills.catalogue.entry import Entry
from drills.catalogue.filters import Query, filters_of
from drills.catalogue.setup import Setup
from drills.catalogue.table import Table
from drills.errors import DrillsError
from drills.neck.hand import USUAL_HAND, Hand
from drills.neck.instrument import Instrument
from drills.neck.search import STANDARD_INSTRUMENT

MOST_TYPES = 100
"""Chord types in one query; more than there are usual ones."""

MOST_TYPES_WITH_REPEATS = 3
"""A repeated tone makes some fifteen times as many voicings."""


@dataclass(frozen=True, slots=True)
class Step:
    """How many voicings were left after a filter.

    Attributes:
        name: of the filter, as in Query; "chords" for the whole catalogue that was asked for.
        words: what it asks for.
        left: voicings that passed it and all before it.
    """

    name: str
    words: str
    left: int


@dataclass(frozen=True, slots=True)
class Result:
    """What was found.

    Attributes:
        total: how many voicings, whether they are listed or not.
        entries: the best of them, best first.
        steps: the filters in turn.
        emptied_by: the filter that left nothing; None where something is left.
        left_without_it: how many voicings all other filters together would leave.
    """

    total: int
    entries: tuple[Entry, ...]
    steps: tuple[Step, ...]
    emptied_by: Step | None = None
    left_without_it: int = 0


def find(query: Query = Query(), setup: Setup = Setup(), *, limit: int | None = None) -> Result:
    """The voicings that a query asks for, best first.

    Args:
        query: what is asked for.
        setup: whose grips count.
        limit: how many entries to list; all of them unless given.

    Raises:
        DrillsError: the query is too large.

    >>> from drills.theory.layer_pattern import read_layer_pattern
    >>> uppers = (read_layer_pattern("close major triad"),)
    >>> find(Query(chords=(chord_type("13#11"),), upper=uppers, min_keys=12), limit=1).entries[0].symbol.plain
    '13#11'
    """
    kinds = query.chords or tuple(chord_type(name) for name in CHORD_TYPES)
    _check_size(kinds, query)
    found = tables(kinds, setup, repeats=int(query.repeats))
    masks = _without_doubles(found)
    steps = [Step("chords", _names(query.chords), _count(masks))]
    wanted = list(filters_of(query))
    passing = [[each.keeps(table) for table in found] for each in wanted]
    for each, passes in zip(wanted, passing, strict=True):
        masks = [mask & passed for mask, passed in zip(masks, passes, strict=True)]
        steps.append(Step(each.name, each.words, _count(masks)))
    emptied = next((step for step in steps if not step.left), None)
    left = _left_without(found, passing, steps.index(emptied) - 1) if emptied else 0
    return Result(steps[-1].left, _entries(found, masks, limit), tuple(steps), emptied, left)


def catalogue(
    chord_types: Sequence[str], instrument: Instrument = STANDARD_INSTRUMENT, hand: Hand = USUAL_HAND
) -> tuple[Entry, ...]:
    """Every voicing of the chord types, best first, without doubles.

    >>> found = catalogue(["9b13"])
    >>> len(found), found == catalogue(["9b13"])
    (288, True)
    """
    kinds = tuple(chord_type(name) for name in chord_types)
    return find(Query(chords=kinds), Setup(instrument, hand)).entries if kinds else ()


def _check_size(kinds: tuple[ChordType, ...], query: Query) -> None:
    if len(kinds) > MOST_TYPES:
        raise DrillsError(f"{len(kinds)} chord types are too many", mend=f"ask for {MOST_TYPES} at most")
    if query.repeats and len(kinds) > MOST_TYPES_WITH_REPEATS:
        what = f"{len(kinds)} chord types with repeated notes are too many"
        raise DrillsError(what, mend=f"name {MOST_TYPES_WITH_REPEATS} chord types at most")


def _names(kinds: tuple[ChordType, ...]) -> str:
    return " or ".join(kind.name or "major" for kind in kinds) or "all usual chords"


def _count(masks: list[npt.NDArray[np.bool_]]) -> int:
    return sum(int(mask.sum()) for mask in masks)


def _without_doubles(found: Sequence[Table]) -> list[npt.NDArray[np.bool_]]:
    """Which voicings of each table are in none before it: m7 and m9 share many."""
    if len(found) == 1:
        return [np.ones(len(found[0].columns), dtype=bool)]
    identities = np.concatenate([table.identities() for table in found])
    is_first = np.zeros(len(identities), dtype=bool)
    is_first[np.unique(identities, return_index=True)[1]] = True
    ends = np.cumsum([len(table.columns) for table in found])
    return np.split(is_first, ends[:-1])


def _left_without(found: Sequence[Table], passing: list[list[npt.NDArray[np.bool_]]], left_out: int) -> int:
    """How many voicings the filters would leave but for one."""
    masks = _without_doubles(found)
    for number, passes in enumerate(passing):
        if number != left_out:
            masks = [mask & passed for mask, passed in zip(masks, passes, strict=True)]
    return _count(masks)


def _entries(
    found: Sequence[Table], masks: list[npt.NDArray[np.bool_]], limit: int | None
) -> tuple[Entry, ...]:
    """The best voicings of all tables; equals in the order of the tables."""
    rows = [np.flatnonzero(mask)[:limit] for mask in masks]  # each table is in order already
    owner = np.repeat(np.arange(len(found)), [len(each) for each in rows])
    scores = [
        table.columns.points[each].sum(axis=1, dtype=np.int64)
        for table, each in zip(found, rows, strict=True)
    ]
    stretches = [table.columns.stretch_um[each] for table, each in zip(found, rows, strict=True)]
    order = np.lexsort((owner, np.concatenate(stretches), -np.concatenate(scores)))[:limit]
    all_rows = np.concatenate(rows)
    return tuple(found[owner[place]].entry(int(all_rows[place])) for place in order.tolist())
