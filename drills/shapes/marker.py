"""The shapes of markers: each layer has one of its own, so that a neck reads in black and white.

Conventions: outlines are given for a radius of 1 around (0, 0), y downwards.
"""

from __future__ import annotations

from math import cos, pi, sin
from typing import Final

from drills.shapes.outline import Outline, curve


def rounded_square(half: float, corner: float) -> Outline:
    """A square with round corners, each a quarter of a circle."""
    arc = [(cos(pi * step / 24), sin(pi * step / 24)) for step in range(13)]
    turns = [arc, [(-y, x) for x, y in arc], [(-x, -y) for x, y in arc], [(y, -x) for x, y in arc]]
    middle = half - corner
    middles = [(middle, middle), (-middle, middle), (-middle, -middle), (middle, -middle)]
    return tuple(
        (x0 + corner * x, y0 + corner * y)
        for turn, (x0, y0) in zip(turns, middles, strict=True)
        for x, y in turn
    )


SQUARE_HALF: Final = 0.94
SQUARE_CORNER: Final = 0.28

DISC: Final[Outline] = tuple((cos(pi * step / 48), sin(pi * step / 48)) for step in range(96))
SQUARE: Final[Outline] = rounded_square(SQUARE_HALF, SQUARE_CORNER)
PLECTRUM: Final[Outline] = curve(
    (0.0, 1.06),
    ((0.22, 1.06), (0.44, 0.90), (0.68, 0.56)),
    ((0.98, 0.14), (1.14, -0.20), (1.14, -0.46)),
    ((1.14, -0.86), (0.64, -0.97), (0.0, -0.97)),
    ((-0.64, -0.97), (-1.14, -0.86), (-1.14, -0.46)),
    ((-1.14, -0.20), (-0.98, 0.14), (-0.68, 0.56)),
    ((-0.44, 0.90), (-0.22, 1.06), (0.0, 1.06)),
)
PLECTRUM_RISE: Final = 0.22
"""How far above a plectrum's middle its degree stands."""
