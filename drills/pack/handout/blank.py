"""Empty necks to write on."""

from __future__ import annotations

from drills.cards.card import PictureSpec
from drills.pack.handout.neck import draw_neck, neck_height
from drills.pack.handout.paper import Paper

FRETS = 12
_UNITS_WIDE = 2000
_GAP_MM = 5.0


def blank_page(paper: Paper, string_names: tuple[str, ...], *, is_left_handed: bool) -> None:
    """Writes a page of necks from the nut to the twelfth fret, as many as fit."""
    y = paper.begin_page("Empty necks")
    width = paper.column_mm
    neck = PictureSpec(string_names, (), 1, FRETS, is_left_handed=is_left_handed)
    height = neck_height(len(string_names), width, units_wide=_UNITS_WIDE)
    while y + height <= paper.bottom_mm:
        y += draw_neck(paper, neck, paper.left_mm, y, width, units_wide=_UNITS_WIDE) + _GAP_MM
