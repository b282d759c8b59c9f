"""Short texts (degrees, note names, numbers) as coverage masks.

The letters are those of the face embedded in Pillow, so that no font has to be found or shipped; it has no
accidentals, which are our own. Glyphs are set by their ink and not by their advance, so that `♭13` stays
narrow enough for a marker.

Conventions: sizes are cap heights in picture pixels; a mask is as wide as its ink, and the middle of its
height is the middle of the cap height.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from PIL import Image, ImageDraw, ImageFont

from drills.draw.outline import SAMPLES
from drills.shapes.accidentals import SIGNS, Sign

_CAP_SHARE: Final = 0.69
"""Cap height of the face in sizes of the face, measured on its `H`."""

_BOLDER: Final = 0.035
"""How far bold letters swell on every side, in cap heights: the face has one weight."""

_GAP: Final = 0.10
"""White between two glyphs, in cap heights."""

_HEIGHT: Final = 1.6
"""Height of a mask in cap heights: room for what rises and hangs."""


@lru_cache(maxsize=256)
def lettered(text: str, cap_px: int, *, bold: bool) -> Image.Image:
    """The coverage, 0 to 255, of a text one `cap_px` high."""
    cap = cap_px * SAMPLES
    glyphs = [_sign(sign, cap) if (sign := SIGNS.get(mark)) else _glyph(mark, cap, bold) for mark in text]
    gap = round(cap * _GAP)
    width = sum(glyph.width for glyph in glyphs) + gap * (len(glyphs) - 1)
    line = Image.new("L", (_whole(width), _whole(round(cap * _HEIGHT))))
    x = (line.width - width) // 2
    for glyph in glyphs:
        line.paste(glyph, (x, (line.height - glyph.height) // 2))
        x += glyph.width + gap
    return line.reduce(SAMPLES)


def _whole(samples: int) -> int:
    """The samples rounded up to an even number of whole pixels, so that a middle exists."""
    return -(-samples // (2 * SAMPLES)) * 2 * SAMPLES


def _glyph(mark: str, cap: int, bold: bool) -> Image.Image:
    """One letter or digit, cut to its ink at the sides."""
    font = ImageFont.load_default(cap / _CAP_SHARE)
    sheet = Image.new("L", (3 * cap, round(cap * _HEIGHT)))
    baseline = (sheet.height + cap) // 2
    ImageDraw.Draw(sheet).text(
        (cap, baseline),
        mark,
        fill=255,
        font=font,
        anchor="ls",
        stroke_width=round(cap * _BOLDER) if bold else 0,
    )
    return _cut(sheet)


def _sign(sign: Sign, cap: int) -> Image.Image:
    """One accidental, cut to its ink at the sides."""
    sheet = Image.new("L", (3 * cap, round(cap * _HEIGHT)))
    baseline = (sheet.height + cap) // 2
    draw = ImageDraw.Draw(sheet)
    for outlines, fill in ((sign.filled, 255), (sign.holes, 0)):
        for outline in outlines:
            draw.polygon([(cap * (1 + x), baseline - cap * y) for x, y in outline], fill=fill)
    return _cut(sheet)


def _cut(sheet: Image.Image) -> Image.Image:
    """The sheet without its empty sides; a space keeps a third of a cap height."""
    box = sheet.getbbox()
    left, right = (box[0], box[2]) if box else (0, sheet.height // 5)
    return sheet.crop((left, 0, right, sheet.height))
