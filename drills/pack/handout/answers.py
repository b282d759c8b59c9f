"""The answer key: to each question what it asked, no more, with the number it had."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from drills.cards.card import Card, notes_line
from drills.cards.task import DegreesTask, NeckTask, NotesTask, PartsTask
from drills.pack.handout.flow import Row, column_mm, columns, flow
from drills.pack.handout.neck import draw_neck, neck_height
from drills.pack.handout.paper import Paper
from drills.pack.handout.pen import QUIET, leading
from drills.pack.handout.version import Drill, Version, is_on_neck

_SCALE: Final = 0.066
_NECK_MM: Final = 40.0
_SIZE: Final = 7.8
_INDENT_MM: Final = 7.5
_AFTER_MM: Final = 3.0
_LEAST_MM: Final = 60.0
"""Room for a drill and its first answers."""


def answer_pages(paper: Paper, version: Version, *, is_first: bool) -> None:
    """Writes the answer key of one version, in the order and with the numbers of its questions."""
    heading, key = version.heading("Answers"), _Key(paper)
    if is_first:
        paper.begin_page(heading)
    else:
        paper.begin_section(heading, needs_mm=_LEAST_MM)
    flow(paper, version, heading, key.height, key.draw, asks=False)


def told(card: Card) -> list[str]:
    """What answers a question in words, its head apart; the rest of a card's back is for the card."""
    face = card.back
    task = None if card.quiz is None else card.quiz.task
    own, notes = _own_lines(card), notes_line(face.notes)
    layers = [line.text for line in face.layers]
    if isinstance(task, NeckTask):
        frets = task.accepts if task.by == "frets" else task.accepts[:1]
        held = [" ".join("x" if fret is None else str(fret) for fret in each) for each in frets]
        return [*own, notes, "frets " + " or ".join(held)]
    if isinstance(task, NotesTask):
        return [notes]
    if isinstance(task, DegreesTask):
        return own or layers
    if task is None:
        return list(face.lines)
    if isinstance(task, PartsTask) and not _asks_layers(card, task):
        return own
    return [*layers, *own]


def _asks_layers(card: Card, task: PartsTask) -> bool:
    """Whether layers are part of the answer; paper asks for those too that no parts make a name of."""
    return not card.front.layers and bool(task.layers or card.drill == "name")


def _own_lines(card: Card) -> list[str]:
    """What the drill itself answers, before the notes and the facts that every back ends on."""
    notes = notes_line(card.back.notes)
    lines = card.back.lines
    return list(lines[: lines.index(notes)]) if notes in lines else []


@dataclass(frozen=True, slots=True)
class _Key:
    """The answers of a version on paper."""

    paper: Paper

    def height(self, _: Drill, row: Row) -> float:
        """Of a row."""
        return max(max(self._neck_mm(card), self._words_mm(card)) for _, card in row) + _AFTER_MM

    def draw(self, _: Drill, row: Row) -> None:
        """Writes a row: small necks with their words beside them, or words alone."""
        for x, number, card in columns(self.paper, row):
            y = self.paper.y
            self.paper.text(x, y, str(number), size=9, bold=True, colour=QUIET)
            if card.back.picture is not None and is_on_neck(card):
                height = neck_height(len(card.back.picture.string_names), _SCALE)
                draw_neck(self.paper, card.back.picture, x + _INDENT_MM, y - 3, _NECK_MM, height)
            left = self._left_mm(card)
            width = column_mm(self.paper) - left
            self.paper.text(x + left, y, card.back.head, size=10, bold=True, within=width)
            y += 4.4
            for text in told(card):
                y = self.paper.paragraph(x + left, y, text, size=_SIZE, within=width)

    def _left_mm(self, card: Card) -> float:
        """Where the words begin."""
        return _INDENT_MM + (_NECK_MM + 2 if is_on_neck(card) else 0)

    def _neck_mm(self, card: Card) -> float:
        picture = card.back.picture
        return neck_height(len(picture.string_names), _SCALE) if is_on_neck(card) and picture else 0.0

    def _words_mm(self, card: Card) -> float:
        width = column_mm(self.paper) - self._left_mm(card)
        lines = [line for text in told(card) for line in self.paper.wrapped(text, size=_SIZE, within=width)]
        return 4.4 + leading(_SIZE) * len(lines)
