"""A contact sheet: the voicings of a deck on one picture, for a glance.

Conventions: measures are pixels of a neck in its usual size; a sheet is drawn smaller, to a half where there
are few voicings, to a third where there are many. Cells run from left to right and down. A cell is a neck
with its name above and a quiet line below.
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
from drills.draw.layout import WIDTH_PX
from drills.draw.neck import render
from drills.draw.theme import DARK, GROUND, INK, LIGHT, QUIET, Paint, Theme
from drills.errors import DrillsError
from drills.typeface import BOLD, REGULAR, printed, typeface

MOST_CELLS: Final = 120

_FEW: Final = 12
"""So many at most are drawn to a half, as for a phone; more are looked at on a desk."""
_GAP_PX: Final = 108
_MARGIN_PX: Final = 120
_TITLE_CAP_PX: Final = 66
_TITLE_LINE_PX: Final = 126
_BELOW_TITLE_PX: Final = 50
_HEAD_CAP_PX: Final = 50
_NOTE_CAP_PX: Final = 36
_FOOT_CAP_PX: Final = 34
_HEAD_PX: Final = 96
"""From the top of a cell to its neck."""
_FOOT_PX: Final = 150
"""From a neck to the cell below it."""
_FOOT_GAP_PX: Final = 24
_CAP_SHARE: Final = 0.73
"""Cap height of the face in sizes of the face."""
_LEAST_SHARE: Final = 0.6
"""How much smaller than usual a line may be set before it is cut."""
_COLOURS: Final = 64


@dataclass(frozen=True, slots=True)
class Cell:
    """One voicing on the sheet.

    Attributes:
        head: its name.
        foot: what is told below, such as its degrees.
        picture: its neck.
        note: a quiet word beside the name; may be empty.
    """

    head: str
    foot: str
    picture: PictureSpec
    note: str = ""


def contact_sheet(title: str, cells: Sequence[Cell], *, dark: bool = False) -> bytes:
    """The sheet as a PNG file, about as wide as it is high.

    Raises:
        DrillsError: there are more cells than anybody could see at a glance.
    """
    if not 1 <= len(cells) <= MOST_CELLS:
        mend = f"a sheet shows up to {MOST_CELLS}; build the handout for more"
        raise DrillsError(f"{len(cells)} voicings are too many for one sheet", mend=mend)
    shrink = 2 if len(cells) <= _FEW else 3
    necks = [_neck(cell.picture, shrink, dark=dark) for cell in cells]
    neck_px = max(neck.height for neck in necks) * shrink
    cell_px = _HEAD_PX + neck_px + _FOOT_PX
    columns = _columns(len(cells), cell_px)
    room_px = columns * (WIDTH_PX + _GAP_PX) - _GAP_PX
    lines = _broken(printed(title), room_px)
    top_px = _MARGIN_PX + _TITLE_LINE_PX * len(lines) + _BELOW_TITLE_PX
    height_px = top_px + -(-len(cells) // columns) * cell_px
    pen = _Pen(room_px + 2 * _MARGIN_PX, height_px, shrink, DARK if dark else LIGHT)
    for turn, line in enumerate(lines):
        pen.write(line, _MARGIN_PX, _MARGIN_PX + _TITLE_LINE_PX * turn, _TITLE_CAP_PX, INK, room_px)
    for place, (cell, neck) in enumerate(zip(cells, necks, strict=True)):
        row, column = divmod(place, columns)
        _draw(pen, cell, neck, _MARGIN_PX + column * (WIDTH_PX + _GAP_PX), top_px + row * cell_px, neck_px)
    return pen.png()


def _draw(pen: _Pen, cell: Cell, neck: Image.Image, x: int, y: int, neck_px: int) -> None:
    """One cell, its upper left corner at (x, y)."""
    used = pen.write(cell.head, x, y, _HEAD_CAP_PX, INK, WIDTH_PX) + _HEAD_CAP_PX
    lower = y + _HEAD_CAP_PX - _NOTE_CAP_PX
    pen.write(cell.note, x + used, lower, _NOTE_CAP_PX, QUIET, WIDTH_PX - used)
    pen.paste(neck, x, y + _HEAD_PX)
    pen.write(cell.foot, x, y + _HEAD_PX + neck_px + _FOOT_GAP_PX, _FOOT_CAP_PX, QUIET, WIDTH_PX)


def _columns(count: int, cell_px: int) -> int:
    """So many that the sheet is about square."""
    about = math.sqrt(count * cell_px / WIDTH_PX)
    return max(1, min(count, round(about)))


def _neck(picture: PictureSpec, shrink: int, *, dark: bool) -> Image.Image:
    """The neck as a sheet shows it."""
    with Image.open(io.BytesIO(render(picture, dark=dark))) as neck:
        small: Image.Image = neck.convert("RGB").reduce(shrink)
        return small


class _Pen:
    """A sheet that is being drawn, in pixels of the usual size."""

    def __init__(self, width_px: int, height_px: int, shrink: int, theme: Theme) -> None:
        self._shrink = shrink
        self._theme = theme
        self._sheet = Image.new("RGB", (width_px // shrink, height_px // shrink), theme[GROUND])

    def paste(self, picture: Image.Image, x: int, y: int) -> None:
        """Puts a picture down, its corner at (x, y)."""
        self._sheet.paste(picture, (x // self._shrink, y // self._shrink))

    def write(self, text: str, x: float, y: float, cap_px: int, paint: Paint, within_px: float) -> float:
        """One line of type, its left edge at x, its capitals from y down; returns its width.

        Where it would be too wide it is set smaller, then cut.
        """
        shown, bold = printed(text), cap_px >= _HEAD_CAP_PX
        width = _width(shown, cap_px, bold=bold)
        cap = cap_px * max(_LEAST_SHARE, min(1.0, within_px / max(width, 1.0)))
        while shown and _width(shown, cap, bold=bold) > within_px * 1.001:
            shown = f"{shown[:-2]}…" if len(shown) > 1 else ""
        font = _face(bold, cap / self._shrink)
        place = (x / self._shrink, (y + (cap_px + cap) / 2) / self._shrink)
        ImageDraw.Draw(self._sheet).text(place, shown, fill=self._theme[paint], font=font, anchor="ls")
        return min(width, within_px)

    def png(self) -> bytes:
        """The file."""
        file = io.BytesIO()
        self._sheet.quantize(_COLOURS, dither=Image.Dither.NONE).save(file, "PNG", optimize=True)
        return file.getvalue()


def _broken(title: str, within_px: float) -> list[str]:
    """A title in lines that fit; a word that is too wide has a line of its own."""
    lines: list[str] = []
    for word in title.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and _width(longer, _TITLE_CAP_PX, bold=True) <= within_px:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def _width(text: str, cap_px: float, *, bold: bool) -> float:
    """How wide a line is."""
    return _face(bold, cap_px).getlength(text)


@lru_cache(maxsize=32)
def _face(bold: bool, cap_px: float) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(typeface(BOLD if bold else REGULAR), cap_px / _CAP_SHARE)
