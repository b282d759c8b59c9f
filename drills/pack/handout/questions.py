"""Question sheets, with room for the answers: empty necks where they lie on the neck, elsewhere lines.

Conventions: all empty necks of a version are equally long, so that none tells how far up its answer lies.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from drills.cards.card import Card, PictureSpec
from drills.cards.task import DegreesTask, NeckTask, NotesTask
from drills.pack.handout.flow import Row, column_mm, columns, flow
from drills.pack.handout.neck import BLANK_UNITS, draw_neck, neck_height
from drills.pack.handout.paper import Paper
from drills.pack.handout.pen import FRET, QUIET, leading
from drills.pack.handout.version import Drill, Version, is_on_neck
from drills.pack.handout.voicings import layer_line

_BLANK_FRETS: Final = 12
_BLANK_SCALE: Final = 0.057
_NECK_SCALE: Final = 0.07
_WRITING_MM: Final = 8.0
_AFTER_MM: Final = 5.0
_SIZE: Final = 8.0
_ASK_SIZE: Final = 8.5
_INDENT_MM: Final = 7.5
"""Room for a number."""
_NAME_MM, _DATE_MM = 52.0, 24.0


def question_pages(paper: Paper, version: Version) -> None:
    """Writes the questions of one version."""
    heading = version.heading("Questions")
    paper.begin_page(heading)
    _name_and_date(paper)
    sheet = _Sheet(paper, _frets(version))
    flow(paper, version, heading, sheet.height, sheet.draw, asks=True)


def _name_and_date(paper: Paper) -> None:
    """Lines beside the first heading, for whoever answers."""
    y, x = paper.top_mm - 10, paper.left_mm + paper.column_mm
    for word, width in (("date", _DATE_MM), ("name", _NAME_MM)):
        paper.line([(x - width, y), (x, y)], colour=FRET, width=0.25)
        x -= width + 2
        paper.text_right(x, y, word, size=9)
        x -= paper.text_width(word, size=9) + 5


def _frets(version: Version) -> int:
    """How many frets an empty neck has: enough for all the answers of a version."""
    shown = [
        card.back.picture.last_fret
        for drill in version.drills
        for _, card in drill.cards
        if is_on_neck(card) and card.back.picture is not None
    ]
    return max(_BLANK_FRETS, *shown, 0)


@dataclass(frozen=True, slots=True)
class _Sheet:
    """The questions of a version on paper.

    Attributes:
        paper: where they go.
        frets: of an empty neck.
    """

    paper: Paper
    frets: int

    def height(self, drill: Drill, row: Row) -> float:
        """Of a row: words, then what is shown, then room for the answer."""
        words = max(self._words_mm(drill, card) for _, card in row)
        return words + max(self._shown_mm(card) + self._room_mm(card) for _, card in row) + _AFTER_MM

    def draw(self, drill: Drill, row: Row) -> None:
        """Writes a row; necks of neighbours stand side by side."""
        top = self.paper.y + max(self._words_mm(drill, card) for _, card in row)
        for x, number, card in columns(self.paper, row):
            self._words(drill, card, number, x)
            y, width = top, column_mm(self.paper)
            if card.front.picture is not None:
                height = self._shown_mm(card) - 2
                y += draw_neck(self.paper, card.front.picture, x, y - 2.5, width, height) + 2
            blank = self._blank(card)
            if blank is not None:
                height = neck_height(len(blank.string_names), _BLANK_SCALE)
                draw_neck(self.paper, blank, x, y - 2.5, width, height, most_units=BLANK_UNITS)
                y += height
            for line in range(1, _lines(card) + 1):
                place = y - 2.5 + line * _WRITING_MM
                self.paper.line([(x, place), (x + width, place)], colour=FRET, width=0.25)

    def _blank(self, card: Card) -> PictureSpec | None:
        """An empty neck for the answer; none where the answer goes on the neck that is shown."""
        shown = card.back.picture
        if not is_on_neck(card) or shown is None or _is_to_complete(card):
            return None
        return PictureSpec(shown.string_names, (), 1, self.frets, is_left_handed=shown.is_left_handed)

    def _shown_mm(self, card: Card) -> float:
        picture = card.front.picture
        return 0.0 if picture is None else neck_height(len(picture.string_names), _NECK_SCALE) + 2

    def _room_mm(self, card: Card) -> float:
        blank = self._blank(card)
        necks = 0.0 if blank is None else neck_height(len(blank.string_names), _BLANK_SCALE)
        return necks + _WRITING_MM * _lines(card)

    def _asked(self, drill: Drill, card: Card) -> list[str]:
        """What this card asks, where its drill has not said it."""
        if drill.ask:
            return []
        return self.paper.wrapped(card.front.ask, size=_ASK_SIZE, within=column_mm(self.paper), bold=True)

    def _words_mm(self, drill: Drill, card: Card) -> float:
        paper, front, width = self.paper, card.front, column_mm(self.paper)
        layers = sum(len(paper.wrapped(each.text, size=_SIZE, within=width - 4)) for each in front.layers)
        lines = sum(len(paper.wrapped(each, size=_SIZE, within=width)) for each in front.lines)
        return 5.0 + leading(_SIZE) * (layers + lines) + leading(_ASK_SIZE) * len(self._asked(drill, card))

    def _words(self, drill: Drill, card: Card, number: int, x: float) -> None:
        paper, front, width = self.paper, card.front, column_mm(self.paper)
        paper.text(x, paper.y, str(number), size=9, bold=True, colour=QUIET)
        left = width - _INDENT_MM
        paper.text(x + _INDENT_MM, paper.y, front.head, size=12.5, bold=True, within=left)
        left -= paper.text_width(front.head, size=12.5, bold=True) + 2
        if left > 10:
            paper.text(x + width - left, paper.y, front.head_note, size=_SIZE, colour=QUIET, within=left)
        y = paper.y + 5.0
        for line in front.layers:
            y = layer_line(paper, line, x, y, width, size=_SIZE)
        for text in front.lines:
            y = paper.paragraph(x, y, text, size=_SIZE, colour=QUIET, within=width)
        for text in self._asked(drill, card):
            paper.text(x, y, text, size=_ASK_SIZE, bold=True, within=width)
            y += leading(_ASK_SIZE)


def _is_to_complete(card: Card) -> bool:
    """Whether the answer goes on the neck that is shown, around notes that stay."""
    task = None if card.quiz is None else card.quiz.task
    return isinstance(task, NeckTask) and bool(task.fixed)


def _lines(card: Card) -> int:
    """How many lines to write on: for a new name beside a neck, for a degree, for a chord and its layers."""
    if is_on_neck(card):
        return int(card.back.head != card.front.head)
    return 1 if card.quiz is not None and isinstance(card.quiz.task, DegreesTask | NotesTask) else 2
