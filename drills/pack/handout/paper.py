"""A page of paper with our type and our colours; the rest of the handout knows nothing of PDF.

Conventions: millimetres from the page's upper left corner, y downwards; sizes of type in points. Text is set
on its baseline. The face is DejaVu Sans, which has every sign of the trade but the double ones; it comes
with matplotlib. Nothing comes from the clock: the same handout is the same bytes.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import pairwise
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

from drills.typeface import BOLD, REGULAR, printed, typeface

if TYPE_CHECKING:
    from fpdf import FPDF

Rgb: TypeAlias = tuple[int, int, int]
Point: TypeAlias = tuple[float, float]
PaperName: TypeAlias = Literal["A4", "letter"]

SIZES_MM: Final[dict[PaperName, Point]] = {"A4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""ISO 216 and ANSI/ASME Y14.1 (8.5 by 11 inches)."""

MARGIN_MM: Final = 16.0
POINT_MM: Final = 25.4 / 72

WHITE: Final[Rgb] = (255, 255, 255)
INK: Final[Rgb] = (0x22, 0x20, 0x1C)
QUIET: Final[Rgb] = (0x5C, 0x56, 0x4D)
RULE: Final[Rgb] = (0xC9, 0xC0, 0xAE)
WOOD: Final[Rgb] = (0xF8, 0xF4, 0xEA)
FRET: Final[Rgb] = (0xB9, 0xAD, 0x98)

CREATOR: Final = "layered-voicing drills"
_STAMP: Final = datetime(2026, 1, 1, tzinfo=UTC)
_FACE: Final = "DejaVu Sans"
_MEASURED_SIZE: Final = 10


@dataclass(frozen=True, slots=True)
class Setting:
    """What stands on every page.

    Attributes:
        title: of the deck.
        paper: A4 or letter.
        date: as the recipe gives it; may be empty.
        caution: for the hands, at the foot.
    """

    title: str
    paper: PaperName
    date: str
    caution: str


class Paper:
    """Pages that are being written."""

    def __init__(self, setting: Setting) -> None:
        from fpdf import FPDF, ViewerPreferences

        self.setting = setting
        self.width_mm, self.height_mm = SIZES_MM[setting.paper]
        pdf = FPDF(unit="mm", format=(self.width_mm, self.height_mm))
        pdf.set_auto_page_break(False)
        pdf.set_creation_date(_STAMP)
        pdf.set_title(printed(setting.title))
        pdf.set_creator(CREATOR)
        pdf.set_producer(CREATOR)
        pdf.set_lang("en-GB")
        pdf.viewer_preferences = ViewerPreferences(display_doc_title=True)
        for style, name in (("", REGULAR), ("B", BOLD)):
            pdf.add_font(_FACE, style, typeface(name))
        self._pdf: FPDF = pdf
        self._widths: dict[tuple[str, bool], float] = {}

    @property
    def left_mm(self) -> float:
        """Where the type area begins."""
        return MARGIN_MM

    @property
    def column_mm(self) -> float:
        """The width of the type area."""
        return self.width_mm - 2 * MARGIN_MM

    def begin_page(self, heading: str, *, more: str = "") -> float:
        """Begins a page under a heading; returns where its content may begin.

        Args:
            heading: what the page holds.
            more: a quiet word beside it.
        """
        self._pdf.add_page()
        self._foot()
        top = MARGIN_MM
        self.text(self.left_mm, top, heading, size=15, bold=True, within=self.column_mm)
        if more:
            width = self.text_width(heading, size=15, bold=True)
            self.text(self.left_mm + width + 3, top, more, size=9, colour=QUIET)
        self.line([(self.left_mm, top + 3), (self.left_mm + self.column_mm, top + 3)], colour=RULE, width=0.3)
        return top + 9

    @property
    def bottom_mm(self) -> float:
        """Where the content must end, above the foot."""
        return self.height_mm - MARGIN_MM - 8

    def finish(self) -> bytes:
        """The file."""
        return bytes(self._pdf.output())

    def _foot(self) -> None:
        """The caution, title and date, the number of the page."""
        setting = self.setting
        title = " · ".join(part for part in (setting.title, setting.date) if part)
        y, right = self.height_mm - MARGIN_MM + 3, self.left_mm + self.column_mm
        self.line([(self.left_mm, y - 8.5), (right, y - 8.5)], colour=RULE, width=0.2)
        self.text(self.left_mm, y - 4.2, setting.caution, size=6.8, colour=QUIET, within=self.column_mm)
        self.text(self.left_mm, y, title, size=7.5, colour=QUIET, within=self.column_mm - 12)
        self.text_right(right, y, str(self._pdf.page_no()), size=7.5)

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
        self.text(
            x - self.text_width(text, size=size, bold=bold) / 2, y, text, size=size, bold=bold, colour=colour
        )

    def text_width(self, text: str, *, size: float, bold: bool = False) -> float:
        """How wide a line is, in millimetres."""
        width = self._widths.get((text, bold))
        if width is None:  # for a size of 1; wide lines are asked for again and again
            self._pdf.set_font(_FACE, "B" if bold else "", _MEASURED_SIZE)
            width = float(self._pdf.get_string_width(printed(text))) / _MEASURED_SIZE
            self._widths[text, bold] = width
        return width * size

    def wrapped(self, text: str, *, size: float, within: float, bold: bool = False) -> list[str]:
        """A text in lines that fit."""
        lines: list[str] = []
        line = ""
        for word in printed(text).split():
            longer = f"{line} {word}".strip()
            if line and self.text_width(longer, size=size, bold=bold) > within:
                lines.append(line)
                line = word
            else:
                line = longer
        return [*lines, line] if line else lines

    def paragraph(
        self,
        x: float,
        y: float,
        text: str,
        *,
        size: float = 9,
        within: float,
        bold: bool = False,
        colour: Rgb = INK,
        most_lines: int = 99,
    ) -> float:
        """Lines one below the other; returns the baseline of the line that may follow."""
        for line in self.wrapped(text, size=size, within=within, bold=bold)[:most_lines]:
            self.text(x, y, line, size=size, bold=bold, colour=colour, within=within)
            y += size * POINT_MM * 1.35
        return y

    def _fitted(self, text: str, size: float, bold: bool, within: float) -> tuple[float, str]:
        width = self.text_width(text, size=size, bold=bold)
        if width <= within:
            return size, text
        smaller = max(size * 0.6, size * within / width)
        while text and self.text_width(text + "…", size=smaller, bold=bold) > within * 1.001:
            if self.text_width(text, size=smaller, bold=bold) <= within * 1.001:
                return smaller, text
            text = text[:-1]
        return smaller, text + "…"

    def _set(self, size: float, *, bold: bool, colour: Rgb) -> None:
        self._pdf.set_font(_FACE, "B" if bold else "", size)
        self._pdf.set_text_color(*colour)

    # --- shapes ------------------------------------------------------------------------------------

    def line(self, points: Sequence[Point], *, colour: Rgb, width: float, dashed: bool = False) -> None:
        """A line through points."""
        self._pdf.set_draw_color(*colour)
        self._pdf.set_line_width(width)
        if dashed:
            self._pdf.set_dash_pattern(dash=0.9, gap=0.7)
        for (x1, y1), (x2, y2) in pairwise(points):
            self._pdf.line(x1, y1, x2, y2)
        if dashed:
            self._pdf.set_dash_pattern()

    def box(
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        *,
        fill: Rgb | None = None,
        stroke: Rgb | None = None,
    ) -> None:
        """A rectangle."""
        self._dress(fill, stroke, 0.3)
        self._pdf.rect(x, y, width, height, style=_style(fill, stroke))

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
            corner_radius=half * 0.3,
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

    def _dress(self, fill: Rgb | None, stroke: Rgb | None, width: float) -> None:
        if fill is not None:
            self._pdf.set_fill_color(*fill)
        if stroke is not None:
            self._pdf.set_draw_color(*stroke)
            self._pdf.set_line_width(width)


def _style(fill: Rgb | None, stroke: Rgb | None) -> str:
    return ("F" if fill is not None else "") + ("D" if stroke is not None else "")
