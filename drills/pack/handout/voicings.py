"""The voicings of a deck, some to a page: name, layers, neck, notes, grip, keys."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from drills.cards.answer import neck_of
from drills.cards.card import LAYER_INDEX, LayerLine
from drills.cards.subject import Subject
from drills.cards.words import answer_facts, answered_lines, chord_head, degrees_words, head_note
from drills.pack.handout.neck import LOOKS, draw_neck, neck_height, shape
from drills.pack.handout.paper import INK, QUIET, Paper

GRIDS: Final = {2: (1, 2), 4: (2, 2), 6: (2, 3), 8: (2, 4), 12: (3, 4)}
"""Columns and rows, by voicings a page."""

_GAP_MM: Final = 8.0
_WIDEST_NECK_MM: Final = 120.0
_LINE_MM: Final = 3.9
_FACTS: Final = 3
"""Notes, grip, stretch; the rest of an answer's facts is for the cards."""


def voicing_pages(paper: Paper, groups: Sequence[Sequence[Subject]], per_page: int) -> None:
    """Writes the pages; each voicing stands in its first key.

    Args:
        paper: pages are added to it.
        groups: one voicing each, in its keys.
        per_page: a key of `GRIDS`.
    """
    columns, rows = GRIDS[per_page]
    for first in range(0, len(groups), per_page):
        top = paper.begin_page("Voicings", more="each in its first key")
        width = (paper.column_mm - _GAP_MM * (columns - 1)) / columns
        height = (paper.bottom_mm - top) / rows
        for place, group in enumerate(groups[first : first + per_page]):
            row, column = divmod(place, columns)
            x, y = paper.left_mm + column * (width + _GAP_MM), top + row * height
            _voicing(paper, group, x, y + 5, width, height - 6)


def _voicing(paper: Paper, group: Sequence[Subject], x: float, y: float, width: float, height: float) -> None:
    subject = group[0]
    head = chord_head(subject)
    is_small = width < 70
    bottom = y + height
    size = 12 if is_small else 15
    paper.text(x, y, head, size=size, bold=True, within=width)
    used = min(width, paper.text_width(head, size=size, bold=True))
    note = " · ".join(part for part in (head_note(subject), _plain(subject)) if part)
    paper.text(x + used + 2, y, note, size=7, colour=QUIET, within=max(4, width - used - 2))
    y += 4.4
    if subject.nickname:
        paper.text(x, y, subject.nickname, size=8, colour=QUIET, within=width)
        y += 4.2
    for layer in answered_lines(subject):
        y = layer_line(paper, layer, x, y, width, size=7.2 if is_small else 8.2)
    facts = [*answer_facts(subject)[:_FACTS], _keys(group)]
    room = bottom - y - _LINE_MM * len(facts)
    neck_width = min(width, _WIDEST_NECK_MM, room / neck_height(len(subject.grip.frets), 1))
    y += draw_neck(paper, neck_of(subject), x, y - 1.5, neck_width) + 2.5
    for place, line in enumerate(facts):
        size = (7 if is_small else 8) + (place == 0)
        paper.text(x, y, line, size=size, colour=QUIET if place else INK, within=width)
        y += _LINE_MM


def layer_line(paper: Paper, line: LayerLine, x: float, y: float, width: float, *, size: float) -> float:
    """A layer's marker shape with its words; returns the baseline of the next line."""
    layer = LAYER_INDEX[line.role]
    shape(paper, layer, x + 1.3, y - 1.05, 1.25, fill=LOOKS[layer].fill)
    paper.text(x + 4, y, line.text, size=size, within=width - 4)
    return y + 4.1


def _plain(subject: Subject) -> str:
    """The name as it is typed, where it differs from the shown one."""
    if subject.chord is None:
        return ""
    plain = subject.chord.plain
    return "" if plain == chord_head(subject) else plain


def _keys(group: Sequence[Subject]) -> str:
    """The keys it can be held in."""
    roots = [each.root.shown for each in group]
    return "held in all twelve keys" if len(roots) == 12 else f"held in {' '.join(roots)}"


def titles(groups: Sequence[Sequence[Subject]]) -> Iterator[str]:
    """What each voicing is called on a page of its own."""
    for group in groups:
        subject = group[0]
        yield " · ".join(part for part in (subject.nickname, degrees_words(subject)) if part)
