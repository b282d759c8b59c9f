"""Empty necks to write on."""

from __future__ import annotations

from typing import Final

from drills.cards.card import PictureSpec
from drills.pack.handout.neck import BLANK_UNITS, draw_neck, neck_height
from drills.pack.handout.paper import Paper

FRETS: Final = 12

_SCALE: Final = 0.082
_GAP_MM: Final = 6.0


def blank_page(paper: Paper, string_names: tuple[str, ...], *, is_left_handed: bool) -> None:
    """Writes a page of necks from the nut to the twelfth fret, as many as fit."""
    paper.begin_page("Empty necks")
    neck = PictureSpec(string_names, (), 1, FRETS, is_left_handed=is_left_handed)
    height = neck_height(len(string_names), _SCALE)
    paper.y -= 3
    while paper.has_room(height):
        draw_neck(paper, neck, paper.left_mm, paper.y, paper.column_mm, height, most_units=BLANK_UNITS)
        paper.y += height + _GAP_MM
