"""How questions and answers flow: in rows of two from page to page, each drill under its name."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final, TypeAlias

from drills.cards.card import Card
from drills.pack.handout.paper import Paper
from drills.pack.handout.version import Drill, Version

Row: TypeAlias = tuple[tuple[int, Card], ...]
Height: TypeAlias = Callable[[Drill, Row], float]
Draw: TypeAlias = Callable[[Drill, Row], None]

COLUMNS: Final = 2
_GAP_MM: Final = 10.0
_HEAD_MM: Final = 8.0
_AFTER_MM: Final = 3.0


def flow(paper: Paper, version: Version, heading: str, height_of: Height, draw: Draw, *, asks: bool) -> None:
    """Rows from page to page; a drill's name stands above its first row, and again on a new page.

    Args:
        paper: whose page is open.
        version: what flows.
        heading: of a new page.
        height_of: a row's height.
        draw: writes a row where the paper is.
        asks: whether what a drill asks stands beside its name.
    """
    for drill in version.drills:
        is_named = False
        for row in _rows(drill.cards):
            height = height_of(drill, row)
            if not paper.has_room(height + (0 if is_named else _HEAD_MM)):
                paper.begin_page(heading, more="continued")
                is_named = False
            if not is_named:
                _name(paper, drill, asks=asks)
                is_named = True
            draw(drill, row)
            paper.y += height
        paper.y += _AFTER_MM


def _rows(cards: Row) -> Iterator[Row]:
    for first in range(0, len(cards), COLUMNS):
        yield cards[first : first + COLUMNS]


def _name(paper: Paper, drill: Drill, *, asks: bool) -> None:
    paper.text(paper.left_mm, paper.y, drill.name, size=11, bold=True)
    if asks and drill.ask:
        x = paper.left_mm + paper.text_width(drill.name, size=11, bold=True) + 4
        paper.text(x, paper.y, drill.ask, size=9.5, within=paper.left_mm + paper.column_mm - x)
    paper.y += _HEAD_MM


def column_mm(paper: Paper) -> float:
    """How wide a question or an answer is."""
    return (paper.column_mm - _GAP_MM * (COLUMNS - 1)) / COLUMNS


def columns(paper: Paper, row: Row) -> Iterator[tuple[float, int, Card]]:
    """Where each question of a row goes, and its number."""
    for column, (number, card) in enumerate(row):
        yield paper.left_mm + column * (column_mm(paper) + _GAP_MM), number, card
