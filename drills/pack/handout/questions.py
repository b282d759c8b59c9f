"""Question sheets for each drill, and the answer key on pages of its own.

Where the answer lies on the neck there is an empty neck to draw it on; elsewhere a line to write on. Two
versions take different cards where there are enough of them. A version is a set of pages, so that it can be
handed out, and so is its answer key, so that it can be kept back.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final, TypeAlias

from drills.cards.card import Card, Face, PictureSpec
from drills.cards.task import NeckTask
from drills.pack.handout.neck import draw_neck, neck_height
from drills.pack.handout.paper import FRET, QUIET, Paper
from drills.pack.handout.voicings import layer_line

MOST_QUESTIONS: Final = 8
"""Of one drill in one version."""

_COLUMNS: Final = 2
_GAP_MM: Final = 10.0
_BLANK_FRETS: Final = 12
_BLANK_UNITS: Final = 1560
_MINI_NECK_MM: Final = 37.0
_WRITING_MM: Final = 9.0
_NOT_ON_PAPER: Final = ("hear",)
_WRITE_ON: Final = "name: ____________________________   date: ______________"


@dataclass(frozen=True, slots=True)
class Version:
    """One set of questions.

    Attributes:
        name: A or B; empty where there is only one.
        drills: each drill with its cards.
    """

    name: str
    drills: tuple[tuple[str, tuple[Card, ...]], ...]

    def heading(self, word: str) -> str:
        """What stands above its pages."""
        return f"{word}, version {self.name}" if self.name else word


def versions_of(cards: Sequence[Card], count: int) -> tuple[Version, ...]:
    """One or two versions, each with every drill that can be asked on paper."""
    by_drill: dict[str, list[Card]] = {}
    for card in cards:
        if card.drill not in _NOT_ON_PAPER:
            by_drill.setdefault(card.drill, []).append(card)
    return tuple(
        Version(
            "AB"[turn] if count > 1 else "",
            tuple((drill, _chosen(own[turn::count] or own)) for drill, own in by_drill.items()),
        )
        for turn in range(count if by_drill else 0)
    )


def _chosen(cards: Sequence[Card]) -> tuple[Card, ...]:
    """Cards from all over the deck."""
    count = min(MOST_QUESTIONS, len(cards))
    return tuple(cards[place * len(cards) // count] for place in range(count))


_Height: TypeAlias = Callable[[Paper, Card], float]
_Draw: TypeAlias = Callable[[Paper, Card, int, float, float], None]


def question_pages(paper: Paper, version: Version) -> None:
    """Writes the questions of one version."""
    _flow(paper, version, version.heading("Questions"), _WRITE_ON, _question_height, _question)


def answer_pages(paper: Paper, version: Version) -> None:
    """Writes its answer key, in the order and with the numbers of the questions."""
    _flow(paper, version, version.heading("Answers"), "", _answer_height, _answer)


def _flow(paper: Paper, version: Version, heading: str, more: str, height_of: _Height, draw: _Draw) -> None:
    """Two columns from page to page; a drill's name stands above its first row, and again on a new page."""
    y = paper.begin_page(heading, more=more)
    for drill, cards in version.drills:
        is_named = False
        for row in _rows(len(cards)):
            height = max(height_of(paper, cards[number]) for number in row)
            if y + height + (0 if is_named else 9) > paper.bottom_mm:
                y = paper.begin_page(heading)
                is_named = False
            if not is_named:
                paper.text(paper.left_mm, y + 2, drill, size=11, bold=True)
                y += 9
                is_named = True
            for column, number in enumerate(row):
                draw(
                    paper,
                    cards[number],
                    number + 1,
                    paper.left_mm + column * (_column_mm(paper) + _GAP_MM),
                    y,
                )
            y += height
        y += 4


def _rows(count: int) -> Iterator[range]:
    for first in range(0, count, _COLUMNS):
        yield range(first, min(count, first + _COLUMNS))


def _column_mm(paper: Paper) -> float:
    return (paper.column_mm - _GAP_MM * (_COLUMNS - 1)) / _COLUMNS


# --- a question ------------------------------------------------------------------------------------


def _blank(card: Card) -> PictureSpec | None:
    """An empty neck for the answer, like the one that the answer shows."""
    shown = card.back.picture
    if card.quiz is None or not isinstance(card.quiz.task, NeckTask) or shown is None:
        return None
    last = max(_BLANK_FRETS, shown.last_fret)
    return PictureSpec(shown.string_names, (), 1, last, is_left_handed=shown.is_left_handed)


def _question_height(paper: Paper, card: Card) -> float:
    front, width = card.front, _column_mm(paper)
    ask = paper.wrapped(front.ask, size=8.5, within=width, bold=True)
    height = 5.0 + 4.1 * len(front.layers) + 4.0 * (len(front.lines) + len(ask))
    if front.picture is not None:
        height += neck_height(len(front.picture.string_names), width) + 2
    blank = _blank(card)
    if blank is None:
        return height + _WRITING_MM + 5
    return height + neck_height(len(blank.string_names), width, units_wide=_BLANK_UNITS) + 6


def _question(paper: Paper, card: Card, number: int, x: float, y: float) -> None:
    front, width = card.front, _column_mm(paper)
    paper.text(x, y, f"{number}", size=9, bold=True, colour=QUIET)
    paper.text(x + 6, y, front.head, size=12.5, bold=True, within=width - 6)
    used = min(width - 6, paper.text_width(front.head, size=12.5, bold=True))
    paper.text(x + 8 + used, y, front.head_note, size=7.5, colour=QUIET, within=max(4, width - used - 8))
    y += 4.6
    for line in front.layers:
        y = layer_line(paper, line, x, y, width, size=8)
    for text in front.lines:
        paper.text(x, y, text, size=8, colour=QUIET, within=width)
        y += 4
    y = paper.paragraph(x, y + 0.4, front.ask, size=8.5, within=width, bold=True)
    if front.picture is not None:
        y += draw_neck(paper, front.picture, x, y - 1.5, width) + 2
    blank = _blank(card)
    if blank is None:
        paper.line([(x, y + 6), (x + width, y + 6)], colour=FRET, width=0.25)
    else:
        draw_neck(paper, blank, x, y - 1.5, width, units_wide=_BLANK_UNITS)


# --- an answer -------------------------------------------------------------------------------------


def _answer_height(paper: Paper, card: Card) -> float:
    picture = card.back.picture
    neck = 0.0 if picture is None else neck_height(len(picture.string_names), _MINI_NECK_MM)
    return max(neck, 4.2 + 3.5 * len(_answer_lines(paper, card.back))) + 3.5


def _beside_mm(paper: Paper) -> float:
    """The width beside a small neck."""
    return _column_mm(paper) - _MINI_NECK_MM - 7


def _answer_lines(paper: Paper, face: Face) -> list[str]:
    """What is said beside the small neck: the layers, then the first lines of the answer."""
    lines: list[str] = []
    for text in (*(each.text for each in face.layers), *face.lines[:3]):
        lines += paper.wrapped(text, size=6.8, within=_beside_mm(paper))
    return lines


def _answer(paper: Paper, card: Card, number: int, x: float, y: float) -> None:
    face = card.back
    paper.text(x, y, f"{number}", size=8, bold=True, colour=QUIET)
    if face.picture is not None:
        draw_neck(paper, face.picture, x + 4.5, y - 3.4, _MINI_NECK_MM)
    text_x = x + _MINI_NECK_MM + 7
    paper.text(text_x, y, face.head, size=9.5, bold=True, within=_beside_mm(paper))
    y += 3.9
    for line in _answer_lines(paper, face):
        paper.text(text_x, y, line, size=6.8)
        y += 3.5
