"""A neck on paper: the picture of the cards as lines and shapes, clear without colour.

Conventions: the proportions are those of the cards' pictures, 1080 units wide; `scale` is millimetres a unit.
The lowest sounding string is at the bottom. Each layer has its marker shape (disc, rounded square, plectrum),
so that it reads in black and white.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import pi, sin
from typing import Final

from drills.cards.card import Marker, PictureSpec
from drills.pack.handout.paper import FRET, INK, POINT_MM, QUIET, WHITE, WOOD, Paper, Point, Rgb

UNITS_WIDE: Final = 1080
_BOARD, _END_MARGIN = 158, 16
_NAMES, _OPEN = 30, 98
_TOP_STRING, _STRING_GAP = 40, 70
_WOOD_ABOVE, _WOOD_BELOW = 33, 50
_DOTS, _NUMBERS, _END = 43, 70, 90
_RADIUS = 33
_NUT = 12
_WAVE = 5
_RIBBON = 22
_DOTTED = frozenset({3, 5, 7, 9, 15, 17, 19, 21})
_DOUBLE_DOTTED = frozenset({12, 24})


@dataclass(frozen=True, slots=True)
class _Look:
    fill: Rgb
    on: Rgb
    ribbon: Rgb


LOOKS: Final = (
    _Look((0x00, 0x72, 0xB2), WHITE, (0xA8, 0xCB, 0xE2)),
    _Look((0xE6, 0x9F, 0x00), (0x1A, 0x14, 0x00), (0xF6, 0xD9, 0x9E)),
    _Look((0xDE, 0x5B, 0x78), (0x1A, 0x14, 0x00), (0xF3, 0xC3, 0xCE)),
)
"""By layer: marker, degree on it, ribbon."""

# The plectrum for a radius of 1, y downwards: the outline of the cards' third marker at 24 points.
_PLECTRUM: Final = (
    *((0.0, 1.06), (0.22, 1.04), (0.42, 0.91), (0.60, 0.68), (0.76, 0.44), (0.92, 0.17), (1.05, -0.10)),
    *((1.13, -0.35), (1.13, -0.58), (1.02, -0.76), (0.80, -0.88), (0.45, -0.95), (0.0, -0.97)),
    *((-0.45, -0.95), (-0.80, -0.88), (-1.02, -0.76), (-1.13, -0.58), (-1.13, -0.35)),
    *((-1.05, -0.10), (-0.92, 0.17), (-0.76, 0.44), (-0.60, 0.68), (-0.42, 0.91), (-0.22, 1.04)),
)


def neck_height(strings: int, width: float, *, units_wide: int = UNITS_WIDE) -> float:
    """How high a neck of that width is, in millimetres."""
    return (_TOP_STRING + _STRING_GAP * (strings - 1) + _END) * width / units_wide


def draw_neck(
    paper: Paper, picture: PictureSpec, x: float, y: float, width: float, *, units_wide: int = UNITS_WIDE
) -> float:
    """Draws a picture; returns its height in millimetres.

    Args:
        paper: the page that is open.
        picture: what is shown.
        x: of its upper left corner.
        y: of the same.
        width: of the whole picture.
        units_wide: more than usual for a long, flat neck.
    """
    neck = Neck(picture, x, y, width / units_wide, units_wide)
    _board(paper, neck)
    for layer, look in enumerate(LOOKS):
        way = [neck.place(each) for each in picture.markers if each.layer == layer]
        paper.line(way, colour=look.ribbon, width=_RIBBON * neck.scale)
    _strings(paper, neck)
    _numbers(paper, neck)
    for string in picture.muted:
        _cross(paper, neck, string)
    for marker in picture.markers:
        draw_marker(paper, marker, *neck.place(marker), neck.radius, is_mirrored=picture.is_left_handed)
    return neck_height(len(picture.string_names), width, units_wide=units_wide)


@dataclass(frozen=True)
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
    units_wide: int = UNITS_WIDE

    @cached_property
    def fret_width(self) -> float:
        """Of one fret, in units."""
        return (self.units_wide - _END_MARGIN - _BOARD) / (
            self.picture.last_fret - self.picture.first_fret + 1
        )

    @property
    def radius(self) -> float:
        """Of a marker."""
        return min(_RADIUS, (self.fret_width - 6) / 2) * self.scale

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


def _board(paper: Paper, neck: Neck) -> None:
    """Wood, wires, and the nut or the wavy edge where the neck is cut."""
    strings = len(neck.picture.string_names)
    top, bottom = neck.string_y(strings - 1) - _WOOD_ABOVE * neck.scale, neck.below(_WOOD_BELOW)
    edge = _BOARD if neck.has_nut else _BOARD - _NUT
    steps = 1 if neck.has_nut else 40
    heights = [top + (bottom - top) * step / steps for step in range(steps + 1)]
    cut = [(neck.x(edge + (0 if neck.has_nut else _wave(neck, y))), y) for y in heights]
    paper.polygon([*cut, (neck.x(neck.units_wide), bottom), (neck.x(neck.units_wide), top)], fill=WOOD)
    for wire in range(neck.picture.last_fret - neck.picture.first_fret + 2):
        x = neck.x(_BOARD + neck.fret_width * wire)
        is_nut = wire == 0 and neck.has_nut
        width = (_NUT if is_nut else 4) * neck.scale
        paper.line([(x, top), (x, bottom)], colour=INK if is_nut else FRET, width=width)
    for fret in range(neck.picture.first_fret, neck.picture.last_fret + 1):
        for dx in (-10, 10) if fret in _DOUBLE_DOTTED else (0,) * (fret in _DOTTED):
            paper.disc(neck.fret_x(fret) + dx * neck.scale, neck.below(_DOTS), 5 * neck.scale, fill=QUIET)


def _wave(neck: Neck, y: float) -> float:
    return _WAVE * sin(2 * pi * (y - neck.string_y(0)) / (_STRING_GAP * neck.scale))


def _strings(paper: Paper, neck: Neck) -> None:
    """Strings that thicken downwards, and their names."""
    names = neck.picture.string_names
    size = 27 * neck.scale / POINT_MM / 0.73
    for string, name in enumerate(names):
        y = neck.string_y(string)
        width = (5 - 3 * string / (len(names) - 1)) * neck.scale
        edge = _BOARD if neck.has_nut else _BOARD - _NUT
        paper.line([(neck.x(edge), y), (neck.x(neck.units_wide), y)], colour=QUIET, width=width)
        paper.text_middle(neck.x(_NAMES), y + 13.5 * neck.scale, name, size=size, colour=QUIET)


def _numbers(paper: Paper, neck: Neck) -> None:
    """Fret numbers, those of used frets strong."""
    used = {marker.fret for marker in neck.picture.markers}
    size = min(27, neck.fret_width * 0.58) * neck.scale / POINT_MM / 0.73
    for fret in range(neck.picture.first_fret, neck.picture.last_fret + 1):
        is_used = fret in used
        y = neck.below(_NUMBERS) + 13.5 * neck.scale
        paper.text_middle(
            neck.fret_x(fret), y, str(fret), size=size, bold=is_used, colour=INK if is_used else QUIET
        )


def _cross(paper: Paper, neck: Neck, string: int) -> None:
    x, y, arm = neck.fret_x(0), neck.string_y(string), 12 * neck.scale
    for sign in (1, -1):
        paper.line([(x - arm, y - sign * arm), (x + arm, y + sign * arm)], colour=INK, width=4 * neck.scale)


def draw_marker(
    paper: Paper, marker: Marker, x: float, y: float, radius: float, *, is_mirrored: bool = False
) -> None:
    """One note: shape, ring of a root, echo of a doubled note, degree or question mark."""
    look = LOOKS[marker.layer]
    body = radius
    if marker.is_asked:
        shape(paper, marker.layer, x, y, radius * 0.9, fill=WHITE, stroke=look.fill, width=radius * 0.22)
        paper.text_middle(x, y + radius * 0.4, "?", size=radius * 1.15 / POINT_MM, bold=True)
        return
    if marker.is_doubled:
        echo = radius * 0.32 * (-1 if is_mirrored else 1)
        shape(
            paper,
            marker.layer,
            x + echo,
            y,
            radius,
            stroke=INK if marker.is_root else look.fill,
            width=radius * 0.13,
        )
        shape(paper, marker.layer, x, y, radius * 1.02, fill=WOOD if marker.fret else WHITE)
    if marker.is_root:
        shape(paper, marker.layer, x, y, radius, fill=WHITE, stroke=INK, width=radius * 0.15)
        body = radius * 0.78
    shape(paper, marker.layer, x, y, body, fill=look.fill)
    if marker.text:
        _degree(paper, marker, x, y, body)


def _degree(paper: Paper, marker: Marker, x: float, y: float, body: float) -> None:
    """A degree as large as its marker lets it be."""
    size = body * 1.12 / POINT_MM
    width = paper.text_width(marker.text, size=size, bold=True)
    room = body * 1.62
    size *= min(1.0, room / width)
    rise = 0.22 * body if marker.layer == 2 else 0.0
    y_text = y + size * POINT_MM * 0.365 - rise
    paper.text_middle(x, y_text, marker.text, size=size, bold=True, colour=LOOKS[marker.layer].on)


def shape(
    paper: Paper,
    layer: int,
    x: float,
    y: float,
    radius: float,
    *,
    fill: Rgb | None = None,
    stroke: Rgb | None = None,
    width: float = 0.3,
) -> None:
    """The outline of a layer's marker."""
    if layer == 0:
        paper.disc(x, y, radius, fill=fill, stroke=stroke, width=width)
    elif layer == 1:
        paper.rounded_square(x, y, radius * 0.94, fill=fill, stroke=stroke, width=width)
    else:
        outline = [(x + radius * dx, y + radius * dy) for dx, dy in _PLECTRUM]
        paper.polygon(outline, fill=fill, stroke=stroke, width=width)
