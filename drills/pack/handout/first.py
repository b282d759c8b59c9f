"""How the handout begins: what it is about, how to read its necks, and what it holds."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain
from typing import Final

from drills.cards.subject import Subject
from drills.cards.words import chord_head
from drills.pack.handout.legend import legend
from drills.pack.handout.paper import Paper
from drills.pack.handout.pen import QUIET, leading
from drills.pack.handout.voicings import keys_words, titles

_SIZE: Final = 8.5


def beginning(paper: Paper, about: str, groups: Sequence[Sequence[Subject]]) -> None:
    """Begins the first page: about, line by line as it is written, and the legend."""
    paper.begin_title()
    for line in about.splitlines():
        paper.y = paper.paragraph(paper.left_mm, paper.y, line, size=10, within=paper.column_mm) + 0.8
    paper.y += 2
    legend(paper, list(chain.from_iterable(groups)))


def out_of_reach(paper: Paper, lines: Sequence[str]) -> None:
    """Tells which keys are out of reach for the hand and on the neck of the deck."""
    if not lines:
        return
    paper.y += 3
    paper.text(paper.left_mm, paper.y, "Out of reach", size=9.5, bold=True)
    paper.y += leading(_SIZE)
    for line in lines:
        if not paper.has_room(2 * leading(_SIZE)):
            paper.begin_page("Out of reach", more="continued")
        paper.y = paper.paragraph(paper.left_mm, paper.y, line, size=_SIZE, within=paper.column_mm)


def listing(paper: Paper, groups: Sequence[Sequence[Subject]]) -> None:
    """Writes a line for each voicing, for a handout that shows them nowhere else."""
    paper.begin_section("What it asks about", needs_mm=20)
    for group, called in zip(groups, titles(groups), strict=True):
        if not paper.has_room(2):
            paper.begin_page("What it asks about", more="continued")
        paper.text(paper.left_mm, paper.y, called, size=9, within=paper.column_mm * 0.6)
        kind = chord_head(group[0]) if group[0].chord is None else group[0].chord.symbol.shown
        x = paper.left_mm + paper.column_mm * 0.63
        words = f"{kind} · {keys_words(group)}"
        paper.text(x, paper.y, words, size=9, colour=QUIET, within=paper.column_mm * 0.37)
        paper.y += 5.4
