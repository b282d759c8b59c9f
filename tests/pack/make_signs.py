"""Draws ♭ ♯ △ as two small fonts and writes them to signs.css: `python tests/pack/make_signs.py`.

Phones fetch these signs from some symbol font, where ♭ and ♯ are thin and sink below the line. Ours are as
heavy and as tall as the digits beside them. The outlines are our own.

Conventions: coordinates in cap heights, x to the right from the sign's left edge, y up from the baseline.
"""

from __future__ import annotations

import base64
import io
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeAlias

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.cu2quPen import Cu2QuPen
from fontTools.pens.ttGlyphPen import TTGlyphPen

SIGNS_CSS = Path(__file__).resolve().parents[2] / "drills" / "pack" / "signs.css"
FAMILY = "drills signs"
EM_UNITS = 1000
CAP_UNITS = 712  # about that of the faces that phones and desktops bring
BEARING = 0.06
SIGNS = {0x266D: "flat", 0x266F: "sharp", 0x25B3: "triangle"}

Point: TypeAlias = tuple[float, float]
Leg: TypeAlias = tuple[Point, ...]
"""One point: a line to it. Three: a Bézier curve, two handles and its end."""
Shape: TypeAlias = list[Leg]
Glyph: TypeAlias = tuple[float, list[Shape]]
"""Width and closed shapes; filled ones run clockwise, holes the other way."""


@dataclass(frozen=True, slots=True)
class Weight:
    """How thick strokes are: upright ones and lying ones."""

    css: int
    stem: float
    bar: float


WEIGHTS = (Weight(400, stem=0.115, bar=0.11), Weight(700, stem=0.185, bar=0.17))


def flat(w: Weight) -> Glyph:
    """♭: a stem and a bowl that leans on its foot."""
    right = 0.50 + w.stem * 0.5
    inner = right - w.stem * 1.1
    outline: Shape = [
        ((0.0, -0.13),),
        ((0.0, 1.16),),
        ((w.stem, 1.16),),
        ((w.stem, 0.60),),
        ((0.28, 0.70), (right, 0.70), (right, 0.42)),
        ((right, 0.20), (0.26, 0.05), (0.0, -0.13)),
    ]
    hole: Shape = [
        ((w.stem, 0.12 + w.bar * 0.2),),
        ((0.27, 0.20), (inner, 0.29), (inner, 0.42 - w.bar * 0.1)),
        ((inner, 0.56 - w.bar * 0.1), (0.25, 0.57 - w.bar * 0.2), (w.stem, 0.46 - w.bar * 0.2)),
    ]
    return right, [outline, hole]


def sharp(w: Weight) -> Glyph:
    """♯: two stems, and two bars that rise."""
    stem, rise = w.stem * 0.85, 0.11
    width = 0.46 + 2 * stem
    shapes: list[Shape] = []
    for x, lift in ((0.14, -0.04), (width - 0.14 - stem, 0.04)):
        low, high = -0.11 + lift, 1.10 + lift
        shapes.append([((x, low),), ((x, high),), ((x + stem, high),), ((x + stem, low),)])
    for y in (0.31, 0.67):
        low, high = y - (w.bar + rise) / 2, y + (w.bar - rise) / 2
        shapes.append([((0.0, low),), ((0.0, high),), ((width, high + rise),), ((width, low + rise),)])
    return width, shapes


def triangle(w: Weight) -> Glyph:
    """△: as tall as a capital."""
    width, top, line = 1.06, 1.0, w.bar * 0.95
    outer: Shape = [((0.0, 0.0),), ((width / 2, top),), ((width, 0.0),)]
    side, up = line * 1.62, top - line * 2.1
    inner: Shape = [((side, line),), ((width - side, line),), ((width / 2, up),)]
    return width, [outer, inner]


def font(w: Weight) -> bytes:
    """A TrueType font of the three signs; the same bytes on every run."""
    glyphs, advances = {".notdef": TTGlyphPen(None).glyph()}, {".notdef": 0}
    for name, (width, shapes) in {"flat": flat(w), "sharp": sharp(w), "triangle": triangle(w)}.items():
        glyphs[name] = outlined(shapes)
        advances[name] = round((width + 2 * BEARING) * CAP_UNITS)
    builder = FontBuilder(EM_UNITS, isTTF=True)
    builder.setupGlyphOrder(list(glyphs))
    builder.setupCharacterMap(SIGNS)
    builder.setupGlyf(glyphs)
    builder.setupHorizontalMetrics(
        {name: (advance, getattr(glyphs[name], "xMin", 0)) for name, advance in advances.items()}
    )
    builder.setupHorizontalHeader(ascent=900, descent=-200)
    builder.setupNameTable({"familyName": FAMILY, "styleName": str(w.css)})
    builder.setupOS2(
        sTypoAscender=900, sTypoDescender=-200, usWinAscent=900, usWinDescent=200, usWeightClass=w.css
    )
    builder.setupPost(keepGlyphNames=False)
    builder.font["head"].created = builder.font["head"].modified = 0
    builder.font.recalcTimestamp = False
    file = io.BytesIO()
    builder.save(file)
    return file.getvalue()


def outlined(shapes: list[Shape]) -> Any:
    """The shapes as a glyph."""
    glyph_pen = TTGlyphPen(None)
    pen = Cu2QuPen(glyph_pen, max_err=1.0)
    for shape in shapes:
        (start,), *legs = [tuple(((x + BEARING) * CAP_UNITS, y * CAP_UNITS) for x, y in leg) for leg in shape]
        pen.moveTo(start)
        for leg in legs:
            if len(leg) == 1:
                pen.lineTo(*leg)
            else:
                pen.curveTo(*leg)
        pen.closePath()
    return glyph_pen.glyph()


def face_rule(w: Weight) -> str:
    """The font as a rule of the stylesheet."""
    signs = ", ".join(f"U+{sign:04X}" for sign in SIGNS)
    return (
        f'@font-face {{ font-family: "{FAMILY}"; font-weight: {w.css}; unicode-range: {signs};\n'
        f"  src: url(data:font/ttf;base64,{base64.b64encode(font(w)).decode()}); }}\n"
    )


def main() -> None:
    """Writes the stylesheet of the fonts, which cards and the quiz page share."""
    SIGNS_CSS.write_text("".join(map(face_rule, WEIGHTS)), encoding="utf-8")


if __name__ == "__main__":
    main()
