"""The neck picture: light and dark, right- and left-handed, as PNG files.

Conventions: strings and frets as in `drills.cards.card`. Open strings and mutes have a column of their own
between the string names and the first fret. A window that starts up the neck has a wavy edge in place of the
nut. Position marks are side dots along the lower edge, where a player sees them and no marker reaches.

The neck without notes is drawn once per window and kept, and so is every marker; a picture is a copy of the
neck with ribbons and stamps laid on.
"""

from __future__ import annotations

from functools import lru_cache
from hashlib import sha256
from itertools import chain
from math import pi, sin
from typing import Final

from PIL import Image, ImageDraw

from drills.cards.card import Marker, PictureSpec
from drills.draw.layout import (
    BOARD_X_PX,
    CAP_PX,
    DOTS_BELOW_PX,
    NAMES_X_PX,
    NUMBERS_BELOW_PX,
    STRING_GAP_PX,
    WIDTH_PX,
    WOOD_ABOVE_PX,
    WOOD_BELOW_PX,
    Layout,
)
from drills.draw.lettering import lettered
from drills.draw.marker import marked
from drills.draw.outline import filled
from drills.draw.png import deflated, png
from drills.draw.stamp import Stamp, Stroke, stamp
from drills.draw.theme import (
    DARK,
    FRET,
    GROUND,
    INK,
    INK_RAMP,
    LAYERS,
    LIGHT,
    QUIET,
    QUIET_RAMP,
    WOOD,
    Paint,
)
from drills.errors import DrillsError
from drills.shapes.marker import DISC
from drills.shapes.outline import moved, scaled

_NUT_PX: Final = 12
_FRET_PX: Final = 4
_LOWEST_STRING_PX: Final = 5
_HIGHEST_STRING_PX: Final = 2
_WAVE_PX: Final = 5
_RIBBON_PX: Final = 24
_DOT_PX: Final = 5
_CROSS_PX: Final = 13
_CROSS_STROKE_PX: Final = 3.0
_NUMBER_MARGIN_PX: Final = 3
"""What a strong fret number covers above and below; it stays off the wood."""

_DOTTED_FRETS: Final = frozenset({3, 5, 7, 9, 15, 17, 19, 21})
_DOUBLE_DOTTED_FRETS: Final = frozenset({12, 24})
_WIDEST_FRETS: Final = 24


def render(spec: PictureSpec, *, dark: bool = False) -> bytes:
    """The picture as a PNG file, 1080 pixels wide and, for six strings, 480 high.

    Raises:
        DrillsError: a note or the window has no place in a picture.
    """
    plane = _plane(spec)
    return png(plane.size, DARK if dark else LIGHT, deflated(plane))


def render_pair(spec: PictureSpec) -> tuple[bytes, bytes]:
    """The picture for day and for night; the second costs next to nothing."""
    plane = _plane(spec)
    data = deflated(plane)
    return png(plane.size, LIGHT, data), png(plane.size, DARK, data)


@lru_cache(maxsize=1)
def look_fingerprint() -> str:
    """Ten hexadecimal digits that change whenever the drawing does.

    They stand for pixels, not for files: another machine's zlib may write other bytes for the same picture.
    """
    digest = sha256(bytes(chain.from_iterable(LIGHT.colours + DARK.colours)))
    for spec in _REFERENCES:
        digest.update(_plane(spec).tobytes())
    return digest.hexdigest()[:10]


_REFERENCES: Final = (
    PictureSpec(
        ("F♯", "B", "E", "A", "D", "G♭", "C𝄫"),
        (
            Marker(0, 0, 0, "1", is_root=True),
            Marker(1, 3, 0, "♭13", is_doubled=True),
            Marker(2, 5, 2, "𝄪4"),
            Marker(3, 6, 2, is_asked=True),
            Marker(4, 7, 1, "♯9"),
            Marker(5, 12, 1),
        ),
        first_fret=1,
        last_fret=12,
        muted=(6,),
    ),
    PictureSpec(
        ("E", "A", "D", "G", "B", "E"),
        (
            Marker(0, 20, 2, "1", is_root=True),
            Marker(1, 21, 2, "𝄫7", is_doubled=True),
            Marker(2, 0, 0, is_asked=True),
            Marker(3, 22, 0, "5", is_doubled=True),
            Marker(4, 23, 1, is_asked=True),
            Marker(5, 24, 1, "1", is_root=True, is_doubled=True),
        ),
        first_fret=18,
        last_fret=24,
        is_left_handed=True,
    ),
)
"""Between them these use every form."""


def _plane(spec: PictureSpec) -> Image.Image:
    """The picture as a plane of paint numbers."""
    _check(spec)
    layout = Layout(len(spec.string_names), spec.first_fret, spec.last_fret, spec.is_left_handed)
    plane = _bare_neck(spec.string_names, layout).copy()
    for layer, look in enumerate(LAYERS):
        way = [_place(layout, marker) for marker in spec.markers if marker.layer == layer]
        if len(way) > 1:
            _lay_ribbon(plane, way, look.ribbon)
    for string in spec.muted:
        _cross().lay_on(plane, layout.fret_x(0), layout.string_y(string))
    for fret in {marker.fret for marker in spec.markers}:
        _number(fret, layout.number_cap_px, is_used=True).lay_on(plane, *_number_place(layout, fret))
    for marker in spec.markers:
        marked(
            marker.layer,
            marker.text,
            is_root=marker.is_root,
            is_doubled=marker.is_doubled,
            is_asked=marker.is_asked,
            radius_px=layout.marker_radius_px,
            echo_side=-1 if layout.is_left_handed else 1,
        ).lay_on(plane, *_place(layout, marker))
    return plane


def _check(spec: PictureSpec) -> None:
    """Refuse what has no place in a picture."""
    first, last, strings = spec.first_fret, spec.last_fret, len(spec.string_names)
    if not 1 <= first <= last < first + _WIDEST_FRETS:
        raise DrillsError(
            f"no picture can show frets {first} to {last}",
            mend=f"start at 1 or higher, {_WIDEST_FRETS} at most",
        )
    for fret in (marker.fret for marker in spec.markers):
        if fret and not first <= fret <= last:
            raise DrillsError(f"fret {fret} is not among frets {first} to {last} of the picture")
    for string in (*spec.muted, *(marker.string for marker in spec.markers)):
        if not 0 <= string < strings:
            raise DrillsError(f"string {string} is not among the picture's {strings}, counted from 0")


def _place(layout: Layout, marker: Marker) -> tuple[int, int]:
    """Where a marker's middle goes."""
    return layout.fret_x(marker.fret), layout.string_y(marker.string)


def _number_place(layout: Layout, fret: int) -> tuple[int, int]:
    """Where a fret number's middle goes."""
    return layout.fret_x(fret), layout.below(NUMBERS_BELOW_PX)


def _lay_ribbon(plane: Image.Image, way: list[tuple[int, int]], ribbon: Paint) -> None:
    """Lay a ribbon along the way: on the wood, under strings and frets."""
    across, down = zip(*way, strict=True)
    left, top = min(across) - _RIBBON_PX, min(down) - _RIBBON_PX
    right, bottom = max(across) + _RIBBON_PX, max(down) + _RIBBON_PX
    stencil = Image.new("L", (right - left, bottom - top))
    ImageDraw.Draw(stencil).line([(x - left, y - top) for x, y in way], fill=255, width=_RIBBON_PX)
    under = plane.crop((left, top, right, bottom))
    plane.paste(under.point(_covered_by(ribbon)), (left, top), stencil)


@lru_cache(maxsize=len(LAYERS))
def _covered_by(ribbon: Paint) -> list[int]:
    """For every paint what it becomes where a ribbon lies."""
    return [ribbon if paint in {GROUND, WOOD} else paint for paint in range(256)]


@lru_cache(maxsize=24)
def _bare_neck(names: tuple[str, ...], layout: Layout) -> Image.Image:
    """The neck without notes; never to be changed, only copied."""
    plane = Image.new("L", (WIDTH_PX, layout.height_px), GROUND)
    pen = ImageDraw.Draw(plane)
    top, bottom = layout.string_y(layout.strings - 1) - WOOD_ABOVE_PX, layout.below(WOOD_BELOW_PX)
    edge = BOARD_X_PX + (_FRET_PX / 2 if layout.has_nut else -_NUT_PX)
    for y in range(top, bottom):
        wave = 0.0 if layout.has_nut else _wave(y - layout.string_y(0))
        pen.rectangle(layout.box(edge + wave, y, WIDTH_PX, y + 1), fill=WOOD)
    for wire in range(layout.last_fret - layout.first_fret + 2):
        x = BOARD_X_PX + layout.fret_width_px * wire
        pen.rectangle(layout.box(x - _FRET_PX / 2, top, x + _FRET_PX / 2, bottom), fill=FRET)
    if layout.has_nut:
        pen.rectangle(layout.box(BOARD_X_PX - _NUT_PX, top, BOARD_X_PX + _FRET_PX / 2, bottom), fill=INK)
    thinning = (_LOWEST_STRING_PX - _HIGHEST_STRING_PX) / (layout.strings - 1)
    for string, name in enumerate(names):
        y, thickness = layout.string_y(string), round(_LOWEST_STRING_PX - thinning * string)
        over = y - thickness // 2
        pen.rectangle(layout.box(edge, over, WIDTH_PX, over + thickness), fill=QUIET)
        letters = stamp(Stroke(lettered(name, CAP_PX, bold=False), QUIET_RAMP))
        letters.lay_on(plane, layout.x(NAMES_X_PX), y)
    for fret in range(layout.first_fret, layout.last_fret + 1):
        _number(fret, layout.number_cap_px, is_used=False).lay_on(plane, *_number_place(layout, fret))
        for x in _dots_x(layout, fret):
            _dot().lay_on(plane, x, layout.below(DOTS_BELOW_PX))
    return plane


def _wave(y: int) -> float:
    """How far the edge of a cut neck swings at a height; it rests where a string ends."""
    return _WAVE_PX * sin(2 * pi * y / STRING_GAP_PX)


def _dots_x(layout: Layout, fret: int) -> tuple[int, ...]:
    """Where the side dots of a fret stand."""
    x = layout.fret_x(fret)
    if fret in _DOUBLE_DOTTED_FRETS:
        return x - 2 * _DOT_PX, x + 2 * _DOT_PX
    return (x,) if fret in _DOTTED_FRETS else ()


@lru_cache(maxsize=128)
def _number(fret: int, cap_px: int, *, is_used: bool) -> Stamp:
    """A fret number: quiet, or strong and covering its quiet form."""
    digits = lettered(str(fret), cap_px, bold=is_used)
    if not is_used:
        return stamp(Stroke(digits, QUIET_RAMP))
    spare = (digits.height - cap_px) // 2 - _NUMBER_MARGIN_PX
    row = digits.crop((0, spare, digits.width, digits.height - spare))
    return stamp(Stroke(row, INK_RAMP), ground=GROUND)


@lru_cache(maxsize=1)
def _dot() -> Stamp:
    """A side dot."""
    disc = moved(scaled(DISC, _DOT_PX), _DOT_PX, _DOT_PX)
    return stamp(Stroke(filled((2 * _DOT_PX, 2 * _DOT_PX), [disc]), QUIET_RAMP))


@lru_cache(maxsize=1)
def _cross() -> Stamp:
    """The cross on a string that is not played."""
    end, stroke = 2.0 * _CROSS_PX, _CROSS_STROKE_PX
    falling = (0.0, stroke), (stroke, 0.0), (end, end - stroke), (end - stroke, end)
    rising = tuple((end - x, y) for x, y in falling)
    return stamp(Stroke(filled((2 * _CROSS_PX, 2 * _CROSS_PX), [falling, rising]), INK_RAMP))
