"""One note on paper: the shape of its layer, its degree, the ring of a root, the echo of a doubled note.

Conventions: millimetres. Each layer has its marker shape (disc, rounded square, plectrum), so that it reads
in black and white; shapes and accidentals are those of the cards' pictures.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from drills.cards.card import Marker
from drills.pack.handout.pen import CAP_SHARE, INK, POINT_MM, WHITE, WOOD, Pen, Rgb
from drills.shapes.accidentals import SIGNS
from drills.shapes.marker import PLECTRUM, PLECTRUM_RISE, SQUARE_CORNER, SQUARE_HALF
from drills.shapes.outline import Outline


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

_RING: Final = 0.15
_INSIDE_RING: Final = 0.78
_ECHO: Final = 0.32
"""How far a doubled note's echo stands out sideways, in radii."""
_CAP: Final = 0.82
"""Cap height of a degree, in radii, where it has the room."""
_ROOM: Final = 1.66
_NARROW: Final = 82
"""Bold digits of the face are wide: three of them want to be narrower, in per cent."""
_GAP: Final = 0.10
"""White between an accidental and its digit, in cap heights."""


def draw_marker(
    pen: Pen, marker: Marker, x: float, y: float, radius: float, *, is_mirrored: bool = False
) -> None:
    """One note: shape, ring of a root, echo of a doubled note, degree or question mark.

    Args:
        pen: of the page that is open.
        marker: what is shown.
        x: of its middle.
        y: of the same.
        radius: of its shape.
        is_mirrored: whether its echo stands out to the left.
    """
    look = LOOKS[marker.layer]
    body = radius * (_INSIDE_RING if marker.is_root else 1)
    if marker.is_asked:
        shape(pen, marker.layer, x, y, radius * 0.9, fill=WHITE, stroke=look.fill, width=radius * 0.22)
        pen.text_middle(x, y + radius * 0.4, "?", size=radius * 1.15 / POINT_MM, bold=True)
        return
    if marker.is_doubled:
        beside = x + radius * _ECHO * (-1 if is_mirrored else 1)
        echo = INK if marker.is_root else look.fill
        shape(pen, marker.layer, beside, y, radius, stroke=echo, width=radius * 0.13)
        shape(pen, marker.layer, x, y, radius * 1.02, fill=WOOD if marker.fret else WHITE)
    if marker.is_root:
        shape(pen, marker.layer, x, y, radius, fill=WHITE, stroke=INK, width=radius * _RING)
    shape(pen, marker.layer, x, y, body, fill=look.fill)
    if marker.text:
        rise = PLECTRUM_RISE * body if marker.layer == 2 else 0.0
        _degree(pen, marker.text, x, y - rise, body, look)


def _degree(pen: Pen, text: str, x: float, y: float, body: float, look: _Look) -> None:
    """A degree as large as its marker lets it be: accidentals as outlines, digits as type."""
    digits = text.lstrip("".join(SIGNS))
    signs = text.removesuffix(digits)
    widths = [_sign_width(sign) + _GAP for sign in signs]
    digits_width = pen.text_width(digits, size=1, bold=True) * _NARROW / 100 / (CAP_SHARE * POINT_MM)
    wide = sum(widths) + digits_width
    cap = body * min(_CAP, _ROOM / wide)
    left, baseline, size = x - wide * cap / 2, y + cap / 2, cap / (CAP_SHARE * POINT_MM)
    for sign, width in zip(signs, widths, strict=True):
        pen.unseen_text(left, baseline, sign, size=size)
        for outlines, colour in ((SIGNS[sign].filled, look.on), (SIGNS[sign].holes, look.fill)):
            for outline in map(_coarse, outlines):
                pen.polygon([(left + cap * dx, baseline - cap * dy) for dx, dy in outline], fill=colour)
        left += width * cap
    pen.narrow_text(left, baseline, digits, size=size, colour=look.on, percent=_NARROW)


def _coarse(outline: Outline) -> Outline:
    """Every third point of a curve: what is two millimetres high needs no more, and the file is smaller."""
    return outline[::3] if len(outline) > 12 else outline


def _sign_width(sign: str) -> float:
    """Of an accidental, in cap heights."""
    return max(x for outline in SIGNS[sign].filled for x, _ in outline)


def shape(
    pen: Pen,
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
        pen.disc(x, y, radius, fill=fill, stroke=stroke, width=width)
    elif layer == 1:
        half, corner = radius * SQUARE_HALF, radius * SQUARE_CORNER
        pen.rounded_square(x, y, half, corner, fill=fill, stroke=stroke, width=width)
    else:
        pen.outline(PLECTRUM, x, y, radius, fill=fill, stroke=stroke, width=width)
