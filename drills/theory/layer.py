"""What a layer is: the structure, root, inversion and spacing of one to four neighbouring notes.

Conventions: a layer is known by its gaps, the semitones from each note to the next above it. The
answer holds places in the layer, not note names, so one answer serves all keys.
Source: the tables beside this file; spacing as guitarists and arrangers use the words (common
practice, no source; drop voicings after Pease and Pullig, Modern Jazz Voicings, 2001, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate, pairwise

from drills.theory.interval import interval_name
from drills.theory.tables import FOUR_NOTE_ROWS, GAP_ROWS, INVERSIONS, STRUCTURE_ROWS, StructureRow

LARGEST_LAYER = 4
"""Notes in the largest layer that has names."""


@dataclass(frozen=True, slots=True)
class LayerName:
    """The name of a layer, free of key.

    Attributes:
        structure: such as "minor triad" or "quintal stack".
        family: triad, stack, sus, shell, cluster, seventh chord, interval, note or other.
        root_place: which note of the layer is its root, 0 the lowest; None for one and two notes.
        inversion: root position, first, second or third inversion; None where there is no root.
        spacing: close, open or wide; for four notes also drop 2, drop 3, drop 2 and 4.
    """

    structure: str
    family: str
    root_place: int | None
    inversion: str | None
    spacing: str

    @property
    def is_symmetrical(self) -> bool:
        """Whether every note of it could be the root, so that spelling or the bass decides."""
        return self.structure in ("augmented triad", "diminished seventh chord")


_BY_GAPS = {row.gaps_semitones: row for row in GAP_ROWS}


def _turns(rows: tuple[StructureRow, ...]) -> dict[frozenset[int], tuple[StructureRow, int, int]]:
    """Pitch classes over the lowest note -> row, inversion, and semitones up to the root.

    A row found first stays, so that a symmetrical structure has its root in the bass.
    """
    found: dict[frozenset[int], tuple[StructureRow, int, int]] = {}
    for row in rows:
        for bass, member in zip(row.semitones, row.members, strict=True):
            heard = frozenset((note - bass) % 12 for note in row.semitones)
            found.setdefault(heard, (row, member, -bass % 12))
    return found


_BY_CLASSES = _turns(STRUCTURE_ROWS) | _turns(FOUR_NOTE_ROWS)


@lru_cache(maxsize=16384)
def name_layer(gaps_semitones: tuple[int, ...]) -> LayerName:
    """Names a layer of one to four notes by its gaps, lowest gap first; never fails.

    >>> name_layer((7, 8))  # doctest: +ELLIPSIS
    LayerName(structure='minor triad', family='triad', root_place=0, inversion='root position', ...)
    >>> name_layer((5, 4)).inversion
    'second inversion'
    """
    heights = tuple(accumulate(gaps_semitones, initial=0))
    if len(heights) <= 2:
        return _few_notes(heights)
    classes = frozenset(height % 12 for height in heights)
    if len(classes) < len(heights):
        return _with_doubling(heights, classes)
    spacing = _spacing(heights)
    row = _BY_GAPS.get(gaps_semitones)
    if row is not None:
        return LayerName(row.name, row.family, 0, INVERSIONS[0], row.spacing)
    spread_row = _BY_GAPS.get(tuple(gap % 12 for gap in gaps_semitones)) if len(heights) == 3 else None
    if spread_row is not None:
        return LayerName(spread_row.name, spread_row.family, 0, INVERSIONS[0], "wide")
    if classes not in _BY_CLASSES:
        is_cluster = spacing == "close" and max(gaps_semitones) <= 2
        structure = "four-note cluster" if is_cluster else "four mixed notes"
        return LayerName(structure, "cluster" if is_cluster else "other", 0, INVERSIONS[0], spacing)
    structure_row, member, root_height = _BY_CLASSES[classes]
    root_place = next(place for place, height in enumerate(heights) if height % 12 == root_height)
    return LayerName(structure_row.name, structure_row.family, root_place, INVERSIONS[member], spacing)


def _few_notes(heights: tuple[int, ...]) -> LayerName:
    if len(heights) == 1:
        return LayerName("single note", "note", None, None, "close")
    width = heights[1]
    spacing = "close" if width <= 12 else "open" if width < 24 else "wide"
    return LayerName(interval_name(width), "interval", None, None, spacing)


def _with_doubling(heights: tuple[int, ...], classes: frozenset[int]) -> LayerName:
    """A layer in which a pitch class sounds twice: the name of what is left, and so said."""
    if len(classes) == 1:
        return LayerName("one note in octaves", "note", 0, INVERSIONS[0], _spacing(heights))
    kept = tuple(sorted(classes))
    inner = name_layer(tuple(high - low for low, high in pairwise(kept)))
    repeats = "one note" if len(heights) == len(classes) + 1 else "notes"
    structure = f"{inner.structure}, {repeats} doubled"
    if inner.root_place is None:
        return LayerName(structure, inner.family, 0, INVERSIONS[0], _spacing(heights))
    root_class = kept[inner.root_place]
    root_place = next(place for place, height in enumerate(heights) if height % 12 == root_class)
    return LayerName(structure, inner.family, root_place, inner.inversion, _spacing(heights))


def _spacing(heights: tuple[int, ...]) -> str:
    """How a layer of three or four notes is spread."""
    if heights[-1] <= 12:
        return "close"
    if len(heights) == 3:
        _, middle, top = heights
        return "open" if top - 12 < middle < 12 else "wide"
    first, second, third, top = heights
    raised_first, raised_second = first + 12, second + 12
    if top - second < 12 and third < raised_first < top:
        return "drop 2"
    if top - second < 12 and second < raised_first < third:
        return "drop 3"
    if top - raised_first < 12 and raised_first < third < raised_second < top:
        return "drop 2 and 4"
    return "open" if top < 24 else "wide"
