"""The first page: what the handout is about, how to read its necks, and what it holds."""

from __future__ import annotations

from collections.abc import Sequence

from drills.cards.subject import Subject
from drills.cards.words import chord_head
from drills.pack.handout.paper import QUIET, Paper
from drills.pack.handout.voicings import titles


def first_page(paper: Paper, title: str, about: Sequence[str], groups: Sequence[Sequence[Subject]]) -> None:
    """Writes the page: about, legend and cautions, then a list of the voicings."""
    y = paper.begin_page(title) + 4
    for paragraph in about:
        y = paper.paragraph(paper.left_mm, y, paragraph, size=10.5, within=paper.column_mm * 0.86) + 2.5
    y += 4
    for group, called in zip(groups, titles(groups), strict=True):
        if y > paper.bottom_mm:
            return
        paper.text(paper.left_mm, y, called, size=9.5, within=paper.column_mm * 0.6)
        keys = " ".join(each.root.shown for each in group) if len(group) < 12 else "twelve keys"
        kind = chord_head(group[0]) if group[0].chord is None else group[0].chord.symbol.shown
        x = paper.left_mm + paper.column_mm * 0.63
        paper.text(x, y, f"{kind} · {keys}", size=8.5, colour=QUIET, within=paper.column_mm * 0.37)
        y += 5.4
