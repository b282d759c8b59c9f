"""A contact sheet: the voicings of a deck on one picture, for a glance.

Conventions: pixels; cells run from left to right and down. A cell is a neck at a third of its usual size, a
name above it and a quiet line below.
"""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from PIL import Image, ImageDraw, ImageFont

from drills.cards.card import PictureSpec
from drills.draw.neck import render
from drills.draw.theme import DARK, GROUND, INK, LIGHT, QUIET, Rgb
from drills.errors import DrillsError
from drills.typeface import BOLD, REGULAR, printed, typeface

MOST_CELLS: Final = 120

_SHRINK: Final = 3
_NECK_PX: Final = 360
_GAP_PX: Final = 36
_MARGIN_PX: Final = 40
_TITLE_PX: Final = 56
_HEAD_PX: Final = 34
_FOOT_PX: Final = 44
_TITLE_CAP_PX: Final = 22
_HEAD_CAP_PX: Final = 17
_FOOT_CAP_PX: Final = 11
_CAP_SHARE: Final = 0.73
"""Cap height of the face in sizes of the face."""
_COLOURS: Final = 64


@dataclass(frozen=True, slots=True)
class Cell:
    """One voicing on the sheet.

    Attributes:
        head: its name.
        foot: what is told below, such as its degrees.
        picture: its neck.
    """

    head: str
    foot: str
    picture: PictureSpec


def contact_sheet(title: str, cells: Sequence[Cell], *, dark: bool = False) -> bytes:
    """The sheet as a PNG file, about as wide as it is high.

    Raises:
        DrillsError: there are more cells than anybody could see at a glance.
    """
    if not 1 <= len(cells) <= MOST_CELLS:
        mend = f"a sheet shows up to {MOST_CELLS}; build the handout for more"
        raise DrillsError(f"{len(cells)} voicings are too many for one sheet", mend=mend)
    theme = DARK if dark else LIGHT
    necks = [_neck(cell.picture, dark=dark) for cell in cells]
    neck_px = max(neck.height for neck in necks)
    cell_px = _HEAD_PX + neck_px + _FOOT_PX
    columns = _columns(len(cells), cell_px)
    rows = -(-len(cells) // columns)
    width = 2 * _MARGIN_PX + columns * _NECK_PX + (columns - 1) * _GAP_PX
    height = 2 * _MARGIN_PX + _TITLE_PX + rows * cell_px
    sheet = Image.new("RGB", (width, height), theme[GROUND])
    ink, quiet, room = theme[INK], theme[QUIET], width - 2 * _MARGIN_PX
    _write(sheet, title, _MARGIN_PX, _MARGIN_PX + _TITLE_CAP_PX // 2, _TITLE_CAP_PX, ink, room)
    for place, (cell, neck) in enumerate(zip(cells, necks, strict=True)):
        row, column = divmod(place, columns)
        x = _MARGIN_PX + column * (_NECK_PX + _GAP_PX)
        y = _MARGIN_PX + _TITLE_PX + row * cell_px
        _write(sheet, cell.head, x, y + _HEAD_CAP_PX // 2, _HEAD_CAP_PX, ink, _NECK_PX)
        sheet.paste(neck, (x, y + _HEAD_PX))
        _write(sheet, cell.foot, x, y + _HEAD_PX + neck_px + 10, _FOOT_CAP_PX, quiet, _NECK_PX)
    file = io.BytesIO()
    sheet.quantize(_COLOURS, dither=Image.Dither.NONE).save(file, "PNG", optimize=True)
    return file.getvalue()


def _columns(count: int, cell_px: int) -> int:
    """So many that the sheet is about square."""
    about = math.sqrt(count * cell_px / _NECK_PX)
    return max(1, min(count, round(about)))


def _neck(picture: PictureSpec, *, dark: bool) -> Image.Image:
    """The neck at a third of its size."""
    with Image.open(io.BytesIO(render(picture, dark=dark))) as neck:
        small: Image.Image = neck.convert("RGB").reduce(_SHRINK)
        return small


def _write(
    sheet: Image.Image, text: str, x: int, middle_y: int, cap_px: int, colour: Rgb, within_px: int
) -> None:
    """One line of type, its left edge at x; set smaller where it would be too wide."""
    name = BOLD if cap_px >= _HEAD_CAP_PX else REGULAR
    shown, size = printed(text), cap_px / _CAP_SHARE
    width = _face(name, size).getlength(shown)
    font = _face(name, size * min(1.0, within_px / max(width, 1.0)))
    ImageDraw.Draw(sheet).text((x, middle_y + cap_px / 2), shown, fill=colour, font=font, anchor="ls")


@lru_cache(maxsize=16)
def _face(name: str, size: float) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(typeface(name), size)
