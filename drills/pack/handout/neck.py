"""A neck on paper: the picture of the cards as lines and shapes, clear without colour.

Conventions: the proportions are those of the cards' pictures; `scale` is millimetres a unit, and the cards'
picture is 1080 units wide. Heights never change, frets grow narrower where a neck has little room. The lowest
sounding string is at the bottom.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sin
from typing import Final

from drills.cards.card import Marker, PictureSpec
from drills.pack.handout.marker import LOOKS, draw_marker
from drills.pack.handout.pen import CAP_SHARE, FRET, INK, POINT_MM, QUIET, WOOD, Pen
from drills.shapes.outline import Point

UNITS_WIDE: Final = 1080
"""Of a neck that has all the room it wants."""
BLANK_UNITS: Final = 4000
"""Of a long, flat neck to write on."""

_BOARD, _END_MARGIN = 158, 16
_NAMES, _OPEN = 30, 98
_TOP_STRING, _STRING_GAP = 40, 70
_WOOD_ABOVE, _WOOD_BELOW = 33, 50
_DOTS, _NUMBERS, _END = 43, 70, 90
_RADIUS = 33
_BETWEEN = 6
_NARROWEST_FRET = 2 * _RADIUS + _BETWEEN
_NUT = 12
_WAVE = 5
_RIBBON = 22
_CAP, _MOST_CAP = 27, 33
_LEAST_CAP_MM = 1.8
"""Below 7 points numbers are hard to read; a small neck gets larger ones."""
_DOTTED = frozenset({3, 5, 7, 9, 15, 17, 19, 21})
_DOUBLE_DOTTED = frozenset({12, 24})


def neck_height(strings: int, scale: float) -> float:
    """How high a neck is at a scale, in millimetres."""
    return (_TOP_STRING + _STRING_GAP * (strings - 1) + _END) * scale


def draw_neck(
    pen: Pen,
    picture: PictureSpec,
    x: float,
    y: float,
    width: float,
    height: float,
    *,
    most_units: float = UNITS_WIDE,
) -> float:
    """Draws a picture as large as it fits into a box; returns its height in millimetres.

    Args:
        pen: of the page that is open.
        picture: what is shown.
        x: of the box's upper left corner.
        y: of the same.
        width: of the box.
        height: of the same.
        most_units: how wide the neck may be for its height.
    """
    strings = len(picture.string_names)
    frets = picture.last_fret - picture.first_fret + 1
    scale = min(height / neck_height(strings, 1), width / (_BOARD + _END_MARGIN + _NARROWEST_FRET * frets))
    draw_at(pen, Neck(picture, x, y, scale, min(most_units, width / scale)))
    return neck_height(strings, scale)


@dataclass(frozen=True, slots=True)
class Neck:
    """Where things are in one picture on the page, in millimetres.

    Attributes:
        picture: what is shown.
        left, top: the picture's corner.
        scale: millimetres a unit.
        units_wide: the whole picture.
    """

    picture: PictureSpec
    left: float
    top: float
    scale: float
    units_wide: float = UNITS_WIDE

    @property
    def fret_width(self) -> float:
        """Of one fret, in units."""
        frets = self.picture.last_fret - self.picture.first_fret + 1
        return (self.units_wide - _END_MARGIN - _BOARD) / frets

    @property
    def radius(self) -> float:
        """Of a marker."""
        return min(_RADIUS, (self.fret_width - _BETWEEN) / 2) * self.scale

    @property
    def has_nut(self) -> bool:
        """Whether the window begins at the nut."""
        return self.picture.first_fret == 1

    def x(self, units: float) -> float:
        """A place across, mirrored for left-handed players."""
        return self.left + (self.units_wide - units if self.picture.is_left_handed else units) * self.scale

    def fret_x(self, fret: int) -> float:
        """The middle of a fret; 0 is the column of the open strings."""
        return self.x(_BOARD + self.fret_width * (fret - self.picture.first_fret + 0.5) if fret else _OPEN)

    def string_y(self, string: int) -> float:
        """Height of a string, 0 the lowest sounding."""
        strings = len(self.picture.string_names)
        return self.top + (_TOP_STRING + _STRING_GAP * (strings - 1 - string)) * self.scale

    def below(self, units: float) -> float:
        """So far below the lowest string."""
        return self.string_y(0) + units * self.scale

    def place(self, marker: Marker) -> Point:
        """Where a marker's middle goes."""
        return self.fret_x(marker.fret), self.string_y(marker.string)


def draw_at(pen: Pen, neck: Neck) -> None:
    """Draws a neck where it is: wood, ribbons, strings, numbers, mutes, markers."""
    picture = neck.picture
    _board(pen, neck)
    for layer, look in enumerate(LOOKS):
        way = [neck.place(each) for each in picture.markers if each.layer == layer]
        pen.line(way, colour=look.ribbon, width=_RIBBON * neck.scale)
    _strings(pen, neck)
    _numbers(pen, neck)
    for string in picture.muted:
        _cross(pen, neck, string)
    for marker in picture.markers:
        draw_marker(pen, marker, *neck.place(marker), neck.radius, is_mirrored=picture.is_left_handed)


def _board(pen: Pen, neck: Neck) -> None:
    """Wood, wires, and the nut or the wavy edge where the neck is cut."""
    top, bottom = (
        neck.string_y(len(neck.picture.string_names) - 1) - _WOOD_ABOVE * neck.scale,
        neck.below(_WOOD_BELOW),
    )
    pen.polygon(
        [*_cut(neck, top, bottom), (neck.x(neck.units_wide), bottom), (neck.x(neck.units_wide), top)],
        fill=WOOD,
    )
    for wire in range(neck.picture.last_fret - neck.picture.first_fret + 2):
        x = neck.x(_BOARD + neck.fret_width * wire)
        is_nut = wire == 0 and neck.has_nut
        width = (_NUT if is_nut else 4) * neck.scale
        pen.line([(x, top), (x, bottom)], colour=INK if is_nut else FRET, width=width)
    for fret in range(neck.picture.first_fret, neck.picture.last_fret + 1):
        for dx in (-10, 10) if fret in _DOUBLE_DOTTED else (0,) * (fret in _DOTTED):
            pen.disc(neck.fret_x(fret) + dx * neck.scale, neck.below(_DOTS), 5 * neck.scale, fill=QUIET)


def _cut(neck: Neck, top: float, bottom: float) -> list[Point]:
    """The edge of the wood on the nut's side, straight at the nut and wavy further up."""
    if neck.has_nut:
        return [(neck.x(_BOARD), y) for y in (top, bottom)]
    steps = 40
    heights = [top + (bottom - top) * step / steps for step in range(steps + 1)]
    gap = _STRING_GAP * neck.scale
    return [(neck.x(_BOARD - _NUT + _WAVE * sin(2 * pi * (y - neck.string_y(0)) / gap)), y) for y in heights]


def _strings(pen: Pen, neck: Neck) -> None:
    """Strings that thicken downwards, and their names."""
    names, cap = neck.picture.string_names, _cap(neck)
    edge = _BOARD if neck.has_nut else _BOARD - _NUT
    for string, name in enumerate(names):
        y = neck.string_y(string)
        width = (5 - 3 * string / (len(names) - 1)) * neck.scale
        pen.line([(neck.x(edge), y), (neck.x(neck.units_wide), y)], colour=QUIET, width=width)
        pen.text_middle(neck.x(_NAMES), y + cap / 2 * neck.scale, name, size=_size(cap, neck), colour=QUIET)


def _numbers(pen: Pen, neck: Neck) -> None:
    """Fret numbers, those of used frets strong."""
    used = {marker.fret for marker in neck.picture.markers}
    cap = min(_cap(neck), neck.fret_width * 0.58)
    y = neck.below(_NUMBERS + cap / 2)
    for fret in range(neck.picture.first_fret, neck.picture.last_fret + 1):
        is_used = fret in used
        colour = INK if is_used else QUIET
        pen.text_middle(neck.fret_x(fret), y, str(fret), size=_size(cap, neck), bold=is_used, colour=colour)


def _cap(neck: Neck) -> float:
    """Cap height of names and numbers, in units."""
    return max(_CAP, min(_MOST_CAP, _LEAST_CAP_MM / neck.scale))


def _size(cap: float, neck: Neck) -> float:
    """The size of type whose capitals are so many units high."""
    return cap * neck.scale / POINT_MM / CAP_SHARE


def _cross(pen: Pen, neck: Neck, string: int) -> None:
    x, y, arm = neck.fret_x(0), neck.string_y(string), 12 * neck.scale
    for sign in (1, -1):
        pen.line([(x - arm, y - sign * arm), (x + arm, y + sign * arm)], colour=INK, width=4 * neck.scale)
