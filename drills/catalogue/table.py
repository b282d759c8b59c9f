"""The catalogue of one chord type as columns, best voicing first, and single voicings taken out of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np
import numpy.typing as npt

from drills.catalogue.chord_type import ChordType
from drills.catalogue.entry import Entry
from drills.catalogue.enumerate import LAYER_PAIRS, NOTES, Rows, enumerate_rows, heights_of
from drills.catalogue.rank import Held, points
from drills.catalogue.reach import NOWHERE, best_grips, unpack
from drills.catalogue.setup import Setup
from drills.theory.chord import FOURTHS, habit_root
from drills.theory.layer_pattern import WIDEST_GAP_SEMITONES
from drills.theory.symbol import symbol
from drills.theory.voicing import Voicing

Ints = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Columns:
    """What is kept of each voicing; the first axis runs over voicings, best first.

    Attributes:
        tones: places in the chord type's tones, low to high, -1 after the last note.
        gaps: semitones from note to note, 0 after the last.
        pair: place in LAYER_PAIRS.
        lower, upper: numbers of the layers' names.
        keys: a bit for each root's pitch class over which it can be held.
        root: pitch class of the root over which its grip is shown.
        stretch_um: of that grip in micrometres; -1 for none.
        lowest_midi: of that grip.
        string_set: which of Setup.string_sets it is on.
        points: for each of rank.REASONS.
    """

    tones: npt.NDArray[np.int8]
    gaps: npt.NDArray[np.int8]
    pair: npt.NDArray[np.int8]
    lower: npt.NDArray[np.int16]
    upper: npt.NDArray[np.int16]
    keys: npt.NDArray[np.int16]
    root: npt.NDArray[np.int8]
    stretch_um: npt.NDArray[np.int32]
    lowest_midi: npt.NDArray[np.int8]
    string_set: npt.NDArray[np.int8]
    points: npt.NDArray[np.int8]

    def __len__(self) -> int:
        """How many voicings."""
        return len(self.pair)

    def take(self, rows: npt.NDArray[np.integer] | npt.NDArray[np.bool_]) -> Columns:
        """Some of the voicings, in the order asked for."""
        return Columns(*(getattr(self, each.name)[rows] for each in fields(self)))


@dataclass(frozen=True, slots=True)
class Table:
    """The catalogue of one chord type.

    Attributes:
        kind: the chord type.
        setup: whose grips count.
        columns: the voicings.
    """

    kind: ChordType
    setup: Setup
    columns: Columns

    def entry(self, row: int) -> Entry:
        """One voicing."""
        columns = self.columns
        below, above = LAYER_PAIRS[columns.pair[row]]
        size = below + above
        degrees = tuple(self.kind.tones[tone] for tone in columns.tones[row, :size].tolist())
        heights = heights_of(tuple(columns.gaps[row, : size - 1].tolist()))
        name = symbol(degrees)
        stretch_um = int(columns.stretch_um[row])
        return Entry(
            Voicing(degrees, heights, (below, above)),
            self.kind.name,
            name,
            int(columns.keys[row]),
            None if stretch_um < 0 else stretch_um / 1000,
            tuple(columns.points[row].tolist()),
            self.setup,
            habit_root(int(columns.root[row]), name.quality),
            int(columns.lowest_midi[row]),
            int(columns.string_set[row]),
        )

    def identities(self) -> Ints:
        """A number for each voicing: what sounds over the root and how it falls into layers."""
        columns = self.columns
        over_root = np.array([each.semitones for each in self.kind.tones], dtype=np.int64)
        code = _shape_codes(columns.gaps) * len(LAYER_PAIRS) + columns.pair
        return code * 12 + over_root[columns.tones[:, 0]]


def build_tables(kinds: Sequence[ChordType], setup: Setup, *, repeats: int = 0) -> tuple[Table, ...]:
    """The catalogues of several chord types, searched for on the neck together: they share many shapes."""
    enumerated = [enumerate_rows(kind, repeats=repeats) for kind in kinds]
    shapes = np.concatenate([np.empty((0, max(NOTES) - 1), np.int8), *(rows.gaps for rows in enumerated)])
    codes, first, which = np.unique(_shape_codes(shapes), return_index=True, return_inverse=True)
    best = np.full((len(codes), 12), NOWHERE, dtype=np.int64)
    sizes = (shapes[first] > 0).sum(axis=1) + 1
    for size in NOTES:
        rows = np.flatnonzero(sizes == size)
        best[rows] = best_grips(shapes[first[rows], : size - 1], setup)
    tables = []
    start = 0
    for kind, rows_of_kind in zip(kinds, enumerated, strict=True):
        end = start + len(rows_of_kind.pair)
        tables.append(Table(kind, setup, _columns(kind, rows_of_kind, best[which[start:end]])))
        start = end
    return tuple(tables)


def _shape_codes(gaps: npt.NDArray[np.int8]) -> Ints:
    code = np.zeros(len(gaps), dtype=np.int64)
    for place in range(gaps.shape[1]):
        code = code * (WIDEST_GAP_SEMITONES + 1) + gaps[:, place]
    return code


def _columns(kind: ChordType, rows: Rows, best: Ints) -> Columns:
    """Columns in order of rank: points, then stretch, then the order of enumeration."""
    every = np.arange(len(best))
    over_root = np.array([each.semitones for each in kind.tones], dtype=np.int64)[rows.tones[:, 0]]
    roots = (np.arange(12) + over_root[:, np.newaxis]) % 12
    over = best[every[:, np.newaxis], roots]  # column n: the best grip over the root of pitch class n
    can_hold = over != NOWHERE
    keys = (can_hold * (1 << np.arange(12))).sum(axis=1)
    by_fourths = np.array(FOURTHS)
    root = by_fourths[can_hold[:, by_fourths].argmax(axis=1)]  # C where it cannot be held at all
    is_held = can_hold.any(axis=1)
    shown = unpack(np.where(is_held, over[every, root], 0))
    held = Held(can_hold.sum(axis=1), np.where(is_held, shown.stretch_um / 1000, 0.0), shown.lowest_midi)
    figures = points(kind, rows, held)
    columns = Columns(
        rows.tones,
        rows.gaps,
        rows.pair,
        rows.lower,
        rows.upper,
        keys.astype(np.int16),
        root.astype(np.int8),
        np.where(is_held, shown.stretch_um, -1).astype(np.int32),
        shown.lowest_midi.astype(np.int8),
        shown.string_set.astype(np.int8),
        figures,
    )
    return columns.take(in_order(columns))


def in_order(columns: Columns) -> Ints:
    """The voicings best first; equals stay in the order in which they stand."""
    score = columns.points.sum(axis=1, dtype=np.int64)
    return np.argsort(columns.stretch_um - (score << 21), kind="stable")
