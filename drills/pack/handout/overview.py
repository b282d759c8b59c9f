"""One voicing at a glance: in all its keys by fourths, and stepped up through its scale."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from drills.cards.answer import neck_of
from drills.cards.card import notes_line
from drills.cards.subject import Subject
from drills.cards.through import Stepped, stepped_through
from drills.cards.words import chord_head, spelled
from drills.pack.handout.neck import draw_neck, neck_height
from drills.pack.handout.paper import Paper
from drills.pack.handout.pen import QUIET
from drills.pack.handout.voicings import titles
from drills.theory.chord import FOURTHS

_COLUMNS: Final = 4
_GAP_MM: Final = 5.0
_HEAD_MM: Final = 4.5
_FOOT_MM: Final = 10.0
_STEPS_HEAD_MM: Final = 12.0
_ROWS: Final = 5
"""Twelve keys and six steps: they fill a page."""
_LEAST_SCALE: Final = 0.066
"""Below it degrees are hard to read."""


def overview_pages(paper: Paper, groups: Sequence[Sequence[Subject]]) -> None:
    """Writes every voicing, on a page of its own unless it has few keys."""
    for group, title in zip(groups, titles(groups), strict=True):
        by_fourths = sorted(group, key=lambda each: FOURTHS.index(each.root.pitch_class))
        steps = stepped_through(by_fourths[0])
        held = [] if steps is None else [(head, each) for head, each in steps.steps if each is not None]
        row_mm = _row_mm(paper, len(group[0].grip.frets))
        rows = -(-len(by_fourths) // _COLUMNS) + -(-len(held) // _COLUMNS)
        paper.begin_section(title, needs_mm=rows * row_mm + _STEPS_HEAD_MM)
        _rows(paper, [(chord_head(each), each) for each in by_fourths], row_mm, title)
        if steps is not None:
            if not paper.has_room(_STEPS_HEAD_MM + (row_mm if held else 0)):
                paper.begin_page(title, more="continued")
            _scale_head(paper, steps)
            _rows(paper, held, row_mm, title)


def _row_mm(paper: Paper, strings: int) -> float:
    """So high that a voicing has its page; necks of many strings take more than that."""
    page = paper.bottom_mm - paper.top_mm - _STEPS_HEAD_MM
    return max(page / _ROWS, neck_height(strings, _LEAST_SCALE) + _HEAD_MM + _FOOT_MM)


def _scale_head(paper: Paper, stepped: Stepped) -> None:
    """The scale, and which of its steps no hand holds."""
    paper.text(paper.left_mm, paper.y + 1, f"Up {stepped.scale}", size=11, bold=True)
    paper.y += 5.5
    missing = [head for head, subject in stepped.steps if subject is None]
    if missing:
        told = f"out of reach here, to be played in turn: {', '.join(missing)}"
        paper.y = paper.paragraph(paper.left_mm, paper.y, told, size=8, colour=QUIET, within=paper.column_mm)
    paper.y += 2.5


def _rows(paper: Paper, smalls: Sequence[tuple[str, Subject]], row_mm: float, title: str) -> None:
    width = (paper.column_mm - _GAP_MM * (_COLUMNS - 1)) / _COLUMNS
    for first in range(0, len(smalls), _COLUMNS):
        if not paper.has_room(row_mm):
            paper.begin_page(title, more="continued")
        for column, (head, subject) in enumerate(smalls[first : first + _COLUMNS]):
            _small(paper, head, subject, paper.left_mm + column * (width + _GAP_MM), width, row_mm)
        paper.y += row_mm


def _small(paper: Paper, head: str, subject: Subject, x: float, width: float, row_mm: float) -> None:
    """A small neck with its name, notes and frets."""
    y, neck_mm = paper.y, row_mm - _HEAD_MM - _FOOT_MM
    paper.text(x, y, head, size=10, bold=True, within=width)
    y += 2 + draw_neck(paper, neck_of(subject), x, y + 1, width, neck_mm)
    paper.text(x, y + 2.5, notes_line(spelled(subject.sounding)), size=8, within=width)
    paper.text(x, y + 6.1, subject.grip.text, size=8, colour=QUIET, within=width)
