"""The colours of the neck picture, for day and for night.

Conventions: a picture is one plane of paint numbers, 0 to 15. A theme gives every paint its colour, so that
day and night share the plane. What carries a layer's paint number shows that layer's colour exactly. Edges
are smoothed by paints that lie between two others: fret and quiet between ink and ground, a ribbon between
its layer and the wood, one paint between each layer and the text on it. Paints that meet in an edge have
neighbouring numbers (15 and 0 are neighbours too): the same few differences then come back all over a
picture, and files are 7 % smaller than with the numbers in reading order.

Colours: blue and orange from the colour-blind-safe set of Okabe and Ito (2008, from memory), and a rose found
by search: far from both in normal, protan, deutan and tritan sight, and between them in lightness. Shape
carries the layer; colour repeats it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, TypeAlias

Rgb: TypeAlias = tuple[int, int, int]
Paint: TypeAlias = int

INK: Final[Paint] = 1
QUIET: Final[Paint] = 2
FRET: Final[Paint] = 3
GROUND: Final[Paint] = 4
WOOD: Final[Paint] = 5
_WHITE: Final[Paint] = 9
_BLACK: Final[Paint] = 13

INK_RAMP: Final[tuple[Paint, ...]] = (FRET, QUIET, INK)
"""Paints of ink on the ground, from the faintest edge inwards."""
QUIET_RAMP: Final[tuple[Paint, ...]] = (FRET, QUIET)


@dataclass(frozen=True, slots=True)
class LayerLook:
    """The paints of one layer.

    Attributes:
        ribbon, fill: its ribbon and its markers.
        text, text_edge: a degree on a marker, and that degree's smooth edge.
    """

    ribbon: Paint
    fill: Paint
    text_edge: Paint
    text: Paint

    @property
    def fill_ramp(self) -> tuple[Paint, ...]:
        """A marker's paints from its edge inwards."""
        return self.ribbon, self.fill

    @property
    def text_ramp(self) -> tuple[Paint, ...]:
        """A degree's paints from its edge inwards."""
        return self.text_edge, self.text


LAYERS: Final = (
    LayerLook(ribbon=6, fill=7, text_edge=8, text=_WHITE),
    LayerLook(ribbon=0, fill=15, text_edge=14, text=_BLACK),
    LayerLook(ribbon=10, fill=11, text_edge=12, text=_BLACK),
)
"""The looks of the lower, the upper and the middle layer, in the order of `drills.cards.card`."""


@dataclass(frozen=True, slots=True)
class Theme:
    """A colour for every paint.

    Attributes:
        colours: red, green and blue, 0 to 255, by paint number.
    """

    colours: tuple[Rgb, ...]

    def __getitem__(self, paint: Paint) -> Rgb:
        """The colour of a paint."""
        return self.colours[paint]


def _rgb(code: str) -> Rgb:
    """The colour written as six hexadecimal digits."""
    red, green, blue = bytes.fromhex(code)
    return red, green, blue


def _between(one: Rgb, other: Rgb, share: float) -> Rgb:
    """The colour that lies that share of the way from one to the other."""
    red, green, blue = (round(a + (b - a) * share) for a, b in zip(one, other, strict=True))
    return red, green, blue


_LAYER_CODES: Final = ("0072B2", "E69F00", "DE5B78")


def _theme(neutral_codes: Mapping[Paint, str], *, ribbon_share: float) -> Theme:
    """A theme from its own neutral colours; the layers' colours are the same in all.

    Args:
        neutral_codes: the colours of ground, wood, fret, quiet and ink.
        ribbon_share: how strongly a ribbon covers the wood, 0 to 1.
    """
    colours = {paint: _rgb(code) for paint, code in neutral_codes.items()}
    colours |= {_WHITE: _rgb("FFFFFF"), _BLACK: _rgb("1A1400")}
    for look, code in zip(LAYERS, _LAYER_CODES, strict=True):
        colours[look.fill] = _rgb(code)
        colours[look.ribbon] = _between(colours[WOOD], colours[look.fill], ribbon_share)
        colours[look.text_edge] = _between(colours[look.fill], colours[look.text], 0.5)
    return Theme(tuple(colours[paint] for paint in range(16)))


LIGHT: Final = _theme(
    {GROUND: "FBF8F1", WOOD: "F3ECDD", FRET: "B9AD98", QUIET: "6E675C", INK: "22201C"}, ribbon_share=0.38
)
DARK: Final = _theme(
    {GROUND: "17181C", WOOD: "22242A", FRET: "4B4F59", QUIET: "9AA0AB", INK: "ECE8DF"}, ribbon_share=0.50
)
