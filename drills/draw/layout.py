"""Where things are in the neck picture.

Conventions: pictures are 1080 pixels wide, of which a phone shows 390. Heights are counted from the strings;
the lowest sounding string is at the bottom. Widths are counted from the nut's side of the picture, and
`Layout.x` mirrors them for left-handed players.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

WIDTH_PX: Final = 1080
BOARD_X_PX: Final = 158
"""Where the first fret of the window begins."""
NAMES_X_PX: Final = 30

STRING_GAP_PX: Final = 70
WOOD_ABOVE_PX: Final = 33
"""From the highest string up to the end of the wood."""
DOTS_BELOW_PX: Final = 43
"""From the lowest string down to the side dots, out of reach of a ringed marker."""
WOOD_BELOW_PX: Final = 50
NUMBERS_BELOW_PX: Final = 70

CAP_PX: Final = 27
"""Cap height of string names and fret numbers: on the phone 10, as in text set in 14."""

_TOP_STRING_PX: Final = 40
_END_BELOW_PX: Final = 90
_OPEN_X_PX: Final = 98
_LAST_FRET_X_PX: Final = 1064
_RADIUS_PX: Final = 33
_BETWEEN_PX: Final = 6


@dataclass(frozen=True, slots=True)
class Layout:
    """The places of one picture.

    Attributes:
        strings: how many.
        first_fret, last_fret: the window, both included.
        is_left_handed: mirrored.
    """

    strings: int
    first_fret: int
    last_fret: int
    is_left_handed: bool

    @property
    def has_nut(self) -> bool:
        """Whether the window begins at the nut."""
        return self.first_fret == 1

    @property
    def height_px(self) -> int:
        """Height of the picture: 480 for six strings."""
        return self.below(_END_BELOW_PX)

    @property
    def fret_width_px(self) -> float:
        """Width of one fret."""
        return (_LAST_FRET_X_PX - BOARD_X_PX) / (self.last_fret - self.first_fret + 1)

    @property
    def marker_radius_px(self) -> int:
        """A marker's radius: neighbours touch neither on the next string nor at the next fret."""
        return min(_RADIUS_PX, int(self.fret_width_px - _BETWEEN_PX) // 2)

    @property
    def number_cap_px(self) -> int:
        """Cap height of fret numbers: two digits fit a narrow fret."""
        return min(CAP_PX, int(self.fret_width_px * 0.58))

    def x(self, x: float) -> int:
        """A place across the picture; even, as two pixels share a byte and like markers then pack alike."""
        return 2 * round((WIDTH_PX - x if self.is_left_handed else x) / 2)

    def fret_x(self, fret: int) -> int:
        """The middle of a fret, where its notes are marked; 0 is the column of the open strings."""
        return self.x(
            BOARD_X_PX + self.fret_width_px * (fret - self.first_fret + 0.5) if fret else _OPEN_X_PX
        )

    def string_y(self, string: int) -> int:
        """Height of a string, 0 the lowest sounding."""
        return _TOP_STRING_PX + STRING_GAP_PX * (self.strings - 1 - string)

    def below(self, distance_px: int) -> int:
        """Height so far below the lowest string."""
        return self.string_y(0) + distance_px

    def box(self, left: float, top: int, right: float, bottom: int) -> tuple[int, int, int, int]:
        """A box as Pillow fills it, both ends included; `right` and `bottom` are the first left free."""
        low, high = sorted((self.x(left), self.x(right)))
        return low, top, high - 1, bottom - 1
