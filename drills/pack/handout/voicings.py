"""The voicings of a deck, some to a page: name, layers, neck, notes, grip, keys."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from drills.cards.answer import neck_of
from drills.cards.card import LAYER_INDEX, LayerLine
from drills.cards.subject import Subject
from drills.cards.words import (
    answer_facts,
    answered_lines,
    chord_head,
    degrees_words,
    head_note,
    layer_name,
)
from drills.pack.handout.marker import LOOKS, shape
from drills.pack.handout.neck import UNITS_WIDE, draw_neck, neck_height
from drills.pack.handout.paper import Paper
from drills.pack.handout.pen import INK, QUIET, leading


@dataclass(frozen=True, slots=True)
class Grid:
    """How voicings share a page.

    Attributes:
        columns, rows: of the page.
        units_wide: of a neck, at least.
        beside_mm: how wide a neck is that has its words beside it; None for above and below it.
        is_brief: names of layers only, the nickname beside the name, no fingers, no stretch.
        size: of its words, in points.
    """

    columns: int
    rows: int
    units_wide: int = UNITS_WIDE
    beside_mm: float | None = None
    is_brief: bool = False
    size: float = 8.0


GRIDS: Final = {
    2: Grid(1, 2, size=10.0),
    4: Grid(1, 4, beside_mm=112.0),
    6: Grid(2, 3),
    8: Grid(2, 4, units_wide=600, beside_mm=45.0),
    12: Grid(3, 4, units_wide=700, is_brief=True),
}
"""By voicings a page."""

_GAP_MM: Final = 8.0
_BELOW_MM: Final = 7.0
"""Between a voicing and the one under it."""
_FACTS: Final = 3
"""Notes, grip, stretch; the rest of an answer's facts is for the cards."""
ALL_KEYS: Final = 12
_HEADING: Final = "Voicings"
_MORE: Final = "each in its first key"


def voicing_pages(paper: Paper, groups: Sequence[Sequence[Subject]], per_page: int) -> None:
    """Writes the voicings, each in its first key, from where the paper is.

    Args:
        paper: pages are added to it.
        groups: one voicing each, in its keys.
        per_page: a key of `GRIDS`.
    """
    grid = GRIDS[per_page]
    width = (paper.column_mm - _GAP_MM * (grid.columns - 1)) / grid.columns
    height = (paper.bottom_mm - paper.top_mm + _BELOW_MM) / grid.rows - _BELOW_MM
    paper.begin_section(_HEADING, more=_MORE, needs_mm=height)
    for first in range(0, len(groups), grid.columns):
        if not paper.has_room(height):
            paper.begin_page(_HEADING, more="continued")
        for column, group in enumerate(groups[first : first + grid.columns]):
            _voicing(paper, grid, group, paper.left_mm + column * (width + _GAP_MM), width, height)
        paper.y += height + _BELOW_MM
    paper.y -= _BELOW_MM


def _voicing(
    paper: Paper, grid: Grid, group: Sequence[Subject], x: float, width: float, height: float
) -> None:
    """One voicing in its cell."""
    neck = neck_of(group[0])
    bottom = paper.y + height
    y = _heads(paper, grid, group[0], x, width)
    neck_mm = neck_height(len(neck.string_names), (grid.beside_mm or width) / grid.units_wide)
    if grid.beside_mm is not None:
        draw_neck(paper, neck, x, y - 2.5, grid.beside_mm, min(neck_mm, bottom - y + 2.5))
        beside, width = x + grid.beside_mm + 3, width - grid.beside_mm - 3
        y = _layers(paper, grid, group[0], beside, y + 1, width)
        _facts(paper, grid, group, beside, y + 1, width)
        return
    y = _layers(paper, grid, group[0], x, y, width)
    room = bottom - y - _facts_mm(paper, grid, group, width)
    y += draw_neck(paper, neck, x, y - 2.5, width, min(neck_mm, room)) + 2
    _facts(paper, grid, group, x, y, width)


def _heads(paper: Paper, grid: Grid, subject: Subject, x: float, width: float) -> float:
    """Name and quiet words, below them the nickname and what has no room; returns the next baseline."""
    head = chord_head(subject)
    size = 12 if grid.is_brief else 15
    paper.text(x, paper.y + 2, head, size=size, bold=True, within=width)
    used = paper.text_width(head, size=size, bold=True) + 2
    parts = [head_note(subject), subject.nickname if grid.is_brief else _plain(subject)]
    note, below = " · ".join(filter(None, parts)), "" if grid.is_brief else subject.nickname
    if paper.text_width(note, size=grid.size) <= width - used:
        paper.text(x + used, paper.y + 2, note, size=grid.size, colour=QUIET)
    else:
        below = " · ".join(filter(None, (below, note)))
    y = paper.y + 2.7 + leading(grid.size)
    if below:
        paper.text(x, y, below, size=grid.size + 0.5, colour=QUIET, within=width)
        y += 4.3
    return y


def _layers(paper: Paper, grid: Grid, subject: Subject, x: float, y: float, width: float) -> float:
    """What the layers are, upper first; returns the next baseline."""
    lines: Sequence[LayerLine] = answered_lines(subject)
    if grid.is_brief and subject.chord is not None:
        lines = [LayerLine(layer.role, layer_name(subject, layer)) for layer in reversed(subject.layers)]
    for line in lines:
        y = layer_line(paper, line, x, y, width, size=grid.size)
    return y


def _facts(paper: Paper, grid: Grid, group: Sequence[Subject], x: float, y: float, width: float) -> None:
    """Notes, grip, stretch and keys, the notes in ink."""
    for text, size in _told(grid, group):
        colour = INK if size > grid.size else QUIET
        y = paper.paragraph(x, y, text, size=size, colour=colour, within=width)


def _facts_mm(paper: Paper, grid: Grid, group: Sequence[Subject], width: float) -> float:
    """How high they are."""
    told = _told(grid, group)
    return sum(leading(size) * len(paper.wrapped(text, size=size, within=width)) for text, size in told)


def _told(grid: Grid, group: Sequence[Subject]) -> list[tuple[str, float]]:
    """The facts, each with its size of type."""
    subject, is_everywhere = group[0], len(group) == ALL_KEYS
    notes, *rest = answer_facts(subject)[:_FACTS]
    if grid.is_brief:
        rest = [f"frets {subject.grip.text}" + ("" if is_everywhere else f" · in {keys_words(group)}")]
    else:
        rest.append(f"{'held' if is_everywhere else 'here'} in {keys_words(group)}")
    return [(notes, grid.size + 1), *((fact, grid.size) for fact in rest)]


def layer_line(paper: Paper, line: LayerLine, x: float, y: float, width: float, *, size: float) -> float:
    """A layer's marker shape with its words, wrapped; returns the baseline of the next line."""
    if not line.text:  # a bare layer of two notes has no form to tell
        return y
    layer = LAYER_INDEX[line.role]
    shape(paper, layer, x + 1.3, y - 1.05, 1.25, fill=LOOKS[layer].fill)
    return paper.paragraph(x + 4, y, line.text, size=size, within=width - 4)


def _plain(subject: Subject) -> str:
    """The name as it is typed, where it differs from the shown one."""
    if subject.chord is None:
        return ""
    plain = subject.chord.plain
    return "" if plain == chord_head(subject) else plain


def keys_words(group: Sequence[Subject]) -> str:
    """The keys of a voicing."""
    return "all twelve keys" if len(group) == ALL_KEYS else " ".join(each.root.shown for each in group)


def titles(groups: Sequence[Sequence[Subject]]) -> Iterator[str]:
    """What each voicing is called where it has a page or a line of its own."""
    for group in groups:
        subject = group[0]
        yield " · ".join(part for part in (subject.nickname, degrees_words(subject)) if part)
