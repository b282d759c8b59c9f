"""Type and shapes on a page that is open; nobody else in the handout draws.

Conventions: millimetres from the page's upper left corner, y downwards; sizes of type in points. Text is set
on its baseline. The face is DejaVu Sans, which has every sign of the trade but the double ones.
"""

from __future__ import annotations

import logging
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final, TypeAlias

from drills.shapes.outline import Outline, Point, moved, scaled
from drills.typeface import BOLD, REGULAR, printed, typeface

if TYPE_CHECKING:
    from fpdf import FPDF

Rgb: TypeAlias = tuple[int, int, int]

POINT_MM: Final = 25.4 / 72

WHITE: Final[Rgb] = (255, 255, 255)
INK: Final[Rgb] = (0x22, 0x20, 0x1C)
QUIET: Final[Rgb] = (0x5C, 0x56, 0x4D)
RULE: Final[Rgb] = (0xC9, 0xC0, 0xAE)
WOOD: Final[Rgb] = (0xF8, 0xF4, 0xEA)
FRET: Final[Rgb] = (0xB9, 0xAD, 0x98)

CAP_SHARE: Final = 0.73
"""Cap height of the face in sizes of the face."""

_FACE: Final = "DejaVu Sans"
_MEASURED_SIZE: Final = 10
_LEAST_SHARE: Final = 0.6
_HINTS: Final = ("fpgm", "prep", "cvt ")
_DOT: Final = " · "


def leading(size: float) -> float:
    """From one line of type of that size to the next, in millimetres."""
    return size * POINT_MM * 1.4


class Pen:
    """What can be set and drawn on the open page of a PDF."""

    def __init__(self, pdf: FPDF) -> None:
        for style, name in (("", REGULAR), ("B", BOLD)):
            pdf.add_font(_FACE, style, typeface(name))
        self._pdf = pdf
        self._widths: dict[tuple[str, bool], float] = {}

    def finish(self) -> bytes:
        """The file; its letters come without hints for coarse screens, which are half of their size."""
        from fpdf.fonts import TTFFont

        logging.getLogger("fpdf").setLevel(logging.ERROR)  # a letter that the face lacks is a box, no more
        for font in self._pdf.fonts.values():
            if isinstance(font, TTFFont):
                for name in font.subset.get_all_glyph_names():
                    _remove_hints(font.ttfont["glyf"], name)
                for table in _HINTS:
                    del font.ttfont[table]
        return bytes(self._pdf.output())

    # --- type --------------------------------------------------------------------------------------

    def text(
        self,
        x: float,
        y: float,
        text: str,
        *,
        size: float = 9,
        bold: bool = False,
        colour: Rgb = INK,
        within: float = 0,
    ) -> None:
        """One line; where it is wider than `within` it is set smaller, down to 60 %, then cut."""
        shown = printed(text)
        if not shown:
            return
        if within:
            size, shown = self._fitted(shown, size, bold, within)
        self._set(size, bold=bold, colour=colour)
        self._pdf.text(x, y, shown)

    def text_right(self, x: float, y: float, text: str, *, size: float = 9, colour: Rgb = QUIET) -> None:
        """One line that ends at x."""
        self.text(x - self.text_width(text, size=size), y, text, size=size, colour=colour)

    def text_middle(
        self, x: float, y: float, text: str, *, size: float, bold: bool = False, colour: Rgb = INK
    ) -> None:
        """One line with its middle at x."""
        left = x - self.text_width(text, size=size, bold=bold) / 2
        self.text(left, y, text, size=size, bold=bold, colour=colour)

    def narrow_text(self, x: float, y: float, text: str, *, size: float, colour: Rgb, percent: float) -> None:
        """One bold line whose letters are that much narrower than they come."""
        self._set(size, bold=True, colour=colour)
        self._pdf.set_stretching(percent)
        self._pdf.text(x, y, text)
        self._pdf.set_stretching(100)

    def unseen_text(self, x: float, y: float, text: str, *, size: float) -> None:
        """A line for readers of the text and for those who search it, where an outline shows the same."""
        from fpdf.enums import TextMode

        self._set(size, bold=True, colour=INK)
        self._pdf.text_mode = TextMode.INVISIBLE
        self._pdf.text(x, y, printed(text))
        self._pdf.text_mode = TextMode.FILL

    def text_width(self, text: str, *, size: float, bold: bool = False) -> float:
        """How wide a line is, in millimetres."""
        width = self._widths.get((text, bold))
        if width is None:  # for a size of 1; wide lines are asked for again and again
            self._pdf.set_font(_FACE, "B" if bold else "", _MEASURED_SIZE)
            width = float(self._pdf.get_string_width(printed(text))) / _MEASURED_SIZE
            self._widths[text, bold] = width
        return width * size

    def wrapped(self, text: str, *, size: float, within: float, bold: bool = False) -> list[str]:
        """A text in lines that fit; it breaks at its middle dots before it breaks elsewhere."""
        lines: list[str] = []
        for part in filter(None, printed(text).split(_DOT)):
            longer = f"{lines[-1]}{_DOT}{part}" if lines else part
            if self.text_width(longer, size=size, bold=bold) <= within:
                lines[-1:] = [longer]
            else:
                lines += self._broken(part, size, bold, within)
        return lines

    def _broken(self, text: str, size: float, bold: bool, within: float) -> list[str]:
        """A text in lines of whole words; a word that is too wide has a line of its own."""
        lines: list[str] = []
        for word in text.split():
            longer = f"{lines[-1]} {word}" if lines else word
            if not lines or self.text_width(longer, size=size, bold=bold) > within:
                lines.append(word)
            else:
                lines[-1] = longer
        return lines

    def paragraph(
        self,
        x: float,
        y: float,
        text: str,
        *,
        within: float,
        size: float = 9,
        bold: bool = False,
        colour: Rgb = INK,
    ) -> float:
        """A text in lines; returns the baseline of the next line."""
        for line in self.wrapped(text, size=size, within=within, bold=bold):
            self.text(x, y, line, size=size, bold=bold, colour=colour, within=within)
            y += leading(size)
        return y

    def _fitted(self, text: str, size: float, bold: bool, within: float) -> tuple[float, str]:
        """The size and the part of a text that fit."""
        width = self.text_width(text, size=size, bold=bold)
        if width <= within:
            return size, text
        smaller = max(size * _LEAST_SHARE, size * within / width)
        if self.text_width(text, size=smaller, bold=bold) <= within * 1.001:
            return smaller, text
        while text and self.text_width(text + "…", size=smaller, bold=bold) > within:
            text = text[:-1]
        return smaller, text + "…"

    def _set(self, size: float, *, bold: bool, colour: Rgb) -> None:
        self._pdf.set_font(_FACE, "B" if bold else "", size)
        self._pdf.set_text_color(*colour)

    # --- shapes ------------------------------------------------------------------------------------

    def line(self, points: Sequence[Point], *, colour: Rgb, width: float) -> None:
        """A line through points."""
        self._pdf.set_draw_color(*colour)
        self._pdf.set_line_width(width)
        for (x1, y1), (x2, y2) in pairwise(points):
            self._pdf.line(x1, y1, x2, y2)

    def disc(
        self,
        x: float,
        y: float,
        radius: float,
        *,
        fill: Rgb | None = None,
        stroke: Rgb | None = None,
        width: float = 0.3,
    ) -> None:
        """A disc around a middle."""
        self._dress(fill, stroke, width)
        self._pdf.ellipse(x - radius, y - radius, 2 * radius, 2 * radius, style=_style(fill, stroke))

    def rounded_square(
        self,
        x: float,
        y: float,
        half: float,
        corner: float,
        *,
        fill: Rgb | None = None,
        stroke: Rgb | None = None,
        width: float = 0.3,
    ) -> None:
        """A square with round corners around a middle."""
        self._dress(fill, stroke, width)
        self._pdf.rect(
            x - half,
            y - half,
            2 * half,
            2 * half,
            style=_style(fill, stroke),
            round_corners=True,
            corner_radius=corner,
        )

    def polygon(
        self,
        points: Iterable[Point],
        *,
        fill: Rgb | None = None,
        stroke: Rgb | None = None,
        width: float = 0.3,
    ) -> None:
        """A closed shape."""
        self._dress(fill, stroke, width)
        self._pdf.polygon(list(points), style=_style(fill, stroke))

    def outline(
        self,
        outline: Outline,
        x: float,
        y: float,
        factor: float,
        *,
        fill: Rgb | None = None,
        stroke: Rgb | None = None,
        width: float = 0.3,
    ) -> None:
        """An outline of the cards, `factor` millimetres a unit, its origin at (x, y)."""
        self.polygon(moved(scaled(outline, factor), x, y), fill=fill, stroke=stroke, width=width)

    def _dress(self, fill: Rgb | None, stroke: Rgb | None, width: float) -> None:
        if fill is not None:
            self._pdf.set_fill_color(*fill)
        if stroke is not None:
            self._pdf.set_draw_color(*stroke)
            self._pdf.set_line_width(width)


def _remove_hints(glyphs: Any, name: str) -> None:
    """Of a glyph and of those that it is put together from."""
    glyph = glyphs[name]
    glyph.removeHinting()
    for part in glyph.getComponentNames(glyphs):
        _remove_hints(glyphs, part)


def _style(fill: Rgb | None, stroke: Rgb | None) -> str:
    return ("F" if fill is not None else "") + ("D" if stroke is not None else "")
