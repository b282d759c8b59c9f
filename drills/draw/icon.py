"""The icon of the quiz page: a note of the lower layer and one of the upper, joined by a ribbon.

Conventions: the icon is a square of side 1, y downwards; `icon` says how many pixels that is.
"""

from __future__ import annotations

import io
from typing import Final

from PIL import Image

from drills.draw.outline import filled
from drills.draw.theme import FRET, LAYERS, LIGHT, WOOD, Paint
from drills.shapes.marker import DISC, SQUARE, rounded_square
from drills.shapes.outline import Outline, Point, moved, scaled

_CORNER: Final = 0.22
"""Of the sheet, where nobody else cuts it."""
_LOWER: Final[Point] = (0.29, 0.69)
_UPPER: Final[Point] = (0.71, 0.31)
_RADIUS: Final = 0.175
_RIBBON: Final = 0.16
_STRING: Final = 0.022

_MASKED_SHARE: Final = 0.74
"""How much smaller the drawing is where a phone cuts the sheet: notes must lie within 0.4 of the middle.

Source: Web Application Manifest (W3C), icon masks and safe zone.
"""


def icon(side_px: int, *, is_maskable: bool = False) -> bytes:
    """The icon as a PNG file.

    Args:
        side_px: how wide and high.
        is_maskable: the sheet fills the square, to be cut by the phone; otherwise its corners are round.
    """
    share = _MASKED_SHARE if is_maskable else 1.0
    sheet = Image.new("RGB", (side_px, side_px), LIGHT[WOOD])
    for outline, paint in _drawing():
        placed = moved(scaled(moved(outline, -0.5, -0.5), share), 0.5, 0.5)
        sheet.paste(LIGHT[paint], mask=_coverage(placed, side_px))
    if not is_maskable:
        sheet.putalpha(_coverage(moved(rounded_square(0.5, _CORNER), 0.5, 0.5), side_px))
    file = io.BytesIO()
    sheet.save(file, "PNG", optimize=True)
    return file.getvalue()


def _drawing() -> list[tuple[Outline, Paint]]:
    """What is drawn, from the back to the front; strings run on beyond the edge."""
    lower, upper, _ = LAYERS
    middle = ((_LOWER[0] + _UPPER[0]) / 2, (_LOWER[1] + _UPPER[1]) / 2)
    return [
        (_line((-1.0, _UPPER[1]), (2.0, _UPPER[1]), _STRING), FRET),
        (_line((-1.0, _LOWER[1]), (2.0, _LOWER[1]), _STRING), FRET),
        (_line(_LOWER, middle, _RIBBON), lower.ribbon),
        (_line(_UPPER, middle, _RIBBON), upper.ribbon),
        (moved(scaled(DISC, _RADIUS), *_LOWER), lower.fill),
        (moved(scaled(SQUARE, _RADIUS), *_UPPER), upper.fill),
    ]


def _line(start: Point, end: Point, thickness: float) -> Outline:
    """A straight line as an outline."""
    across, down = end[0] - start[0], end[1] - start[1]
    half = thickness / 2 / (across**2 + down**2) ** 0.5
    aside, below = -down * half, across * half
    return (
        (start[0] + aside, start[1] + below),
        (end[0] + aside, end[1] + below),
        (end[0] - aside, end[1] - below),
        (start[0] - aside, start[1] - below),
    )


def _coverage(outline: Outline, side_px: int) -> Image.Image:
    return filled((side_px, side_px), [scaled(outline, side_px)])
