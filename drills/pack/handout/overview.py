"""One voicing on one page: in all its keys by fourths, and stepped up through its scale."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from drills.cards.answer import neck_of
from drills.cards.card import notes_line
from drills.cards.subject import Subject
from drills.cards.through import Stepped, stepped_through
from drills.cards.words import chord_head, spelled
from drills.pack.handout.neck import draw_neck, neck_height
from drills.pack.handout.paper import QUIET, Paper
from drills.pack.handout.voicings import titles
from drills.theory.chord import FOURTHS

_COLUMNS: Final = 3
_GAP_MM: Final = 6.0
_HEAD_MM: Final = 5.0
_FOOT_MM: Final = 7.5


def overview_pages(paper: Paper, groups: Sequence[Sequence[Subject]]) -> None:
    """Writes a page for each voicing."""
    for group, title in zip(groups, titles(groups), strict=True):
        by_fourths = sorted(group, key=lambda each: FOURTHS.index(each.root.pitch_class))
        y = paper.begin_page(title) + 2
        row_mm = _row_mm(paper, len(group[0].grip.frets))
        for place, subject in enumerate(by_fourths):
            row, column = divmod(place, _COLUMNS)
            _small(paper, subject, _x(paper, column), y + row * row_mm, chord_head(subject))
        y += -(-len(by_fourths) // _COLUMNS) * row_mm
        steps = stepped_through(by_fourths[0])
        if steps is not None and y + 8 + row_mm <= paper.bottom_mm + 1:
            _steps(paper, steps, y + 4)


def _width(paper: Paper) -> float:
    return (paper.column_mm - _GAP_MM * (_COLUMNS - 1)) / _COLUMNS


def _x(paper: Paper, column: int) -> float:
    return paper.left_mm + column * (_width(paper) + _GAP_MM)


def _row_mm(paper: Paper, strings: int) -> float:
    return _HEAD_MM + neck_height(strings, _width(paper)) + _FOOT_MM


def _small(paper: Paper, subject: Subject, x: float, y: float, head: str) -> None:
    """A small neck with its name, notes and frets."""
    width = _width(paper)
    paper.text(x, y + 2.5, head, size=10, bold=True, within=width)
    y += _HEAD_MM + draw_neck(paper, neck_of(subject), x, y + _HEAD_MM - 2, width)
    paper.text(x, y, notes_line(spelled(subject.sounding)), size=6.8, within=width)
    paper.text(x, y + 3.1, subject.grip.text, size=6.8, colour=QUIET, within=width)


def _steps(paper: Paper, stepped: Stepped, y: float) -> None:
    """The voicing up its scale, as many rows as the page has room for."""
    paper.text(paper.left_mm, y, f"Up {stepped.scale}", size=10, bold=True)
    row_mm = _row_mm(paper, stepped.strings)
    for place, (head, subject) in enumerate(stepped.steps):
        row, column = divmod(place, _COLUMNS)
        x, top = _x(paper, column), y + 3 + row * row_mm
        if top + row_mm > paper.bottom_mm + 3:
            return
        if subject is not None:
            _small(paper, subject, x, top, head)
        else:
            paper.text(x, top + 2.5, head, size=10, bold=True, within=_width(paper))
            paper.text(x, top + 7, "no hand holds it here:", size=6.8, colour=QUIET)
            paper.text(x, top + 10, "play its notes in turn", size=6.8, colour=QUIET)
