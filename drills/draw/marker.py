"""One marker.

Each layer has a shape of its own (disc, rounded square, plectrum) besides its colour, so that a picture reads
in black and white. A root wears a ring, a doubled note an echo of its outline at its side. The asked note is
an outline with a question mark: it stands out, and it has neither ring nor echo, as they would answer for it.

Conventions: a marker is drawn in a square of `_SIDE_PX` with the note in its middle.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from PIL import Image, ImageChops

from drills.draw.lettering import lettered
from drills.draw.outline import filled
from drills.draw.stamp import Stamp, Stroke, stamp
from drills.draw.theme import GROUND, INK_RAMP, LAYERS
from drills.shapes.marker import DISC, PLECTRUM, PLECTRUM_RISE, SQUARE
from drills.shapes.outline import Outline, moved, scaled

_SIDE_PX: Final = 96
_RING_BEYOND_PX: Final = 3.0
"""How far a root's ring reaches beyond other markers."""
_RING_PX: Final = 4.5
_GAP_PX: Final = 4.0
"""Between a ring or an echo and what it goes with."""
_ECHO_PX: Final = 10.0
"""How far a doubled note's echo stands out sideways."""
_ASKED_PX: Final = 7.5
"""Thickness of the asked marker's outline."""
_MARGIN_PX: Final = 4.5
_ASKED_MARGIN_PX: Final = 1.0
"""Least space around a degree and around the question mark."""
_CAPS_PX: Final = range(34, 7, -2)
"""Cap heights a degree may have: the first that fits is taken."""


@dataclass(frozen=True, slots=True)
class _Shape:
    """A layer's shape.

    Attributes:
        outline: for a radius of 1.
        text_rise: how far above the note the degree stands, in radii.
    """

    outline: Outline
    text_rise: float = 0.0


_SHAPES: Final = (_Shape(DISC), _Shape(SQUARE), _Shape(PLECTRUM, text_rise=PLECTRUM_RISE))
"""By layer, in the order of `drills.cards.card`."""


@lru_cache(maxsize=512)
def marked(
    layer: int, text: str, *, is_root: bool, is_doubled: bool, is_asked: bool, radius_px: int, echo_side: int
) -> Stamp:
    """The stamp of a marker.

    Args:
        layer: which shape and colour, 0 to 2.
        text: the degree, or nothing.
        is_root: ringed.
        is_doubled: echoed.
        is_asked: the question; goes before the other three.
        radius_px: of the shape.
        echo_side: 1 when an echo stands out to the right, -1 to the left.
    """
    look = LAYERS[layer]
    if is_asked:
        inner_px = radius_px - _ASKED_PX
        return stamp(
            Stroke(_shape(layer, radius_px), look.fill_ramp),
            Stroke(_shape(layer, inner_px), (look.ribbon, GROUND)),
            Stroke(_fitted("?", layer, inner_px - _ASKED_MARGIN_PX), INK_RAMP),
        )
    strokes = []
    outer_px, body_px, outer_ramp = float(radius_px), float(radius_px), look.fill_ramp
    if is_root:
        outer_px, outer_ramp = radius_px + _RING_BEYOND_PX, INK_RAMP
        body_px = outer_px - _RING_PX - _GAP_PX
        strokes.append(Stroke(_shape(layer, outer_px), INK_RAMP))
        strokes.append(Stroke(_shape(layer, outer_px - _RING_PX), (GROUND,)))
    if is_doubled:
        echo = _shape(layer, outer_px, dx_px=_ECHO_PX * echo_side)
        strokes.append(Stroke(ImageChops.subtract(echo, _shape(layer, outer_px + _GAP_PX)), outer_ramp))
    strokes.append(Stroke(_shape(layer, body_px), look.fill_ramp))
    if text:
        strokes.append(Stroke(_fitted(text, layer, body_px - _MARGIN_PX), look.text_ramp))
    return stamp(*strokes)


@lru_cache(maxsize=128)
def _shape(layer: int, radius_px: float, dx_px: float = 0.0) -> Image.Image:
    """The coverage of a layer's shape."""
    outline = scaled(_SHAPES[layer].outline, radius_px)
    return filled((_SIDE_PX, _SIDE_PX), [moved(outline, _SIDE_PX / 2 + dx_px, _SIDE_PX / 2)])


def _fitted(text: str, layer: int, room_px: float) -> Image.Image:
    """The coverage of a text as large as it fits into the layer's shape of that radius."""
    room = _shape(layer, room_px)
    sheet = room
    for cap_px in _CAPS_PX:
        letters = lettered(text, cap_px, bold=True)
        sheet = Image.new("L", room.size)
        across, down = (_SIDE_PX - letters.width) // 2, (_SIDE_PX - letters.height) // 2
        sheet.paste(letters, (across, down - round(_SHAPES[layer].text_rise * room_px)))
        if letters.width <= _SIDE_PX and not ImageChops.subtract(sheet, room).getbbox():
            break
    return sheet
