"""Pages with their headings and feet; the rest of the handout knows nothing of PDF.

Conventions: millimetres, as the pen has them. `Paper.y` is where the next thing goes: what writes moves it
down, and asks before whether there is room. Nothing comes from the clock: the same handout is the same bytes.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Final, Literal, TypeAlias

from drills.pack.handout.pen import QUIET, RULE, Pen
from drills.shapes.outline import Point
from drills.typeface import printed

PaperName: TypeAlias = Literal["A4", "letter"]

SIZES_MM: Final[dict[PaperName, Point]] = {"A4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""ISO 216 and ANSI/ASME Y14.1 (8.5 by 11 inches)."""

MARGIN_MM: Final = 16.0
CREATOR: Final = "layered-voicing drills"

_STAMP: Final = datetime(2026, 1, 1, tzinfo=UTC)
_TITLE_SIZE: Final = 17
_HEAD_MM: Final = 10.0
"""From a heading's baseline to what stands below it."""
_FOOT_MM: Final = 9.0
_BETWEEN_MM: Final = 10.0
"""From the end of one section to the heading of the next."""


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


class Paper(Pen):
    """Pages that are being written.

    Attributes:
        setting: what stands on every page.
        y: the baseline of what comes next.
    """

    def __init__(self, setting: Setting) -> None:
        from fpdf import FPDF, ViewerPreferences

        self.setting = setting
        self.width_mm, self.height_mm = SIZES_MM[setting.paper]
        self.y = MARGIN_MM
        pdf = FPDF(unit="mm", format=(self.width_mm, self.height_mm))
        pdf.set_auto_page_break(False)
        pdf.set_creation_date(_STAMP)
        pdf.set_title(printed(setting.title))
        pdf.set_creator(CREATOR)
        pdf.set_producer(CREATOR)
        pdf.set_lang("en-GB")
        pdf.viewer_preferences = ViewerPreferences(display_doc_title=True)
        super().__init__(pdf)

    @property
    def left_mm(self) -> float:
        """Where the type area begins."""
        return MARGIN_MM

    @property
    def column_mm(self) -> float:
        """The width of the type area."""
        return self.width_mm - 2 * MARGIN_MM

    @property
    def top_mm(self) -> float:
        """Where the content of a page may begin."""
        return MARGIN_MM + _HEAD_MM

    @property
    def bottom_mm(self) -> float:
        """Where the content must end, above the foot."""
        return self.height_mm - MARGIN_MM - _FOOT_MM

    def has_room(self, height_mm: float) -> bool:
        """Whether something so high fits on the rest of the page."""
        return self.y + height_mm <= self.bottom_mm + 0.01

    def begin_title(self) -> None:
        """Begins the first page under the title of the deck, on as many lines as it takes."""
        self._new_page()
        for line in self.wrapped(self.setting.title, size=_TITLE_SIZE, within=self.column_mm, bold=True):
            self.text(self.left_mm, self.y, line, size=_TITLE_SIZE, bold=True, within=self.column_mm)
            self.y += 7.5
        self._rule(self.y - 4.5, 0.3)
        self.y += 2.5

    def begin_page(self, heading: str, *, more: str = "") -> None:
        """Begins a page under a heading, with a quiet word beside it."""
        self._new_page()
        self._heading(heading, more)

    def begin_section(self, heading: str, *, more: str = "", needs_mm: float) -> None:
        """Begins a section below the last one where its beginning has room there, else on a new page."""
        if self.has_room(_BETWEEN_MM + _HEAD_MM + needs_mm):
            self.y += _BETWEEN_MM
            self._heading(heading, more)
        else:
            self.begin_page(heading, more=more)

    def finish(self) -> bytes:
        """The file."""
        self._foot()
        return super().finish()

    def _new_page(self) -> None:
        if self._pdf.page_no():
            self._foot()
        self._pdf.add_page()
        self.y = MARGIN_MM

    def _heading(self, heading: str, more: str) -> None:
        self.text(self.left_mm, self.y, heading, size=15, bold=True, within=self.column_mm)
        width = self.text_width(heading, size=15, bold=True) + 3
        if more and width < self.column_mm:
            self.text(self.left_mm + width, self.y, more, size=9, colour=QUIET, within=self.column_mm - width)
        self._rule(self.y + 3, 0.3)
        self.y += _HEAD_MM

    def _rule(self, y: float, width: float) -> None:
        self.line([(self.left_mm, y), (self.left_mm + self.column_mm, y)], colour=RULE, width=width)

    def _foot(self) -> None:
        """The caution, title and date, the number of the page: last, as they are read last."""
        setting = self.setting
        title = " · ".join(part for part in (setting.title, setting.date) if part)
        y, right = self.height_mm - MARGIN_MM + 3, self.left_mm + self.column_mm
        self._rule(y - 8.5, 0.2)
        self.text(self.left_mm, y - 4.2, setting.caution, size=7.2, colour=QUIET, within=self.column_mm)
        self.text(self.left_mm, y, title, size=8, colour=QUIET, within=self.column_mm - 12)
        self.text_right(right, y, str(self._pdf.page_no()), size=8)
