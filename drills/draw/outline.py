"""The masks that outlines fill.

Conventions: a mask holds coverage, 0 to 255.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from PIL import Image, ImageDraw

from drills.shapes.outline import Outline

SAMPLES: Final = 4
"""A picture pixel is drawn as this many samples each way, then averaged."""


def filled(size: tuple[int, int], outlines: Iterable[Outline]) -> Image.Image:
    """The coverage of outlines given in picture pixels."""
    sheet = Image.new("L", (size[0] * SAMPLES, size[1] * SAMPLES))
    draw = ImageDraw.Draw(sheet)
    for outline in outlines:
        draw.polygon([(x * SAMPLES, y * SAMPLES) for x, y in outline], fill=255)
    return sheet.reduce(SAMPLES)
