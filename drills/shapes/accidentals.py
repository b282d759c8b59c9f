"""♭ ♯ 𝄫 𝄪 as outlines of our own: as heavy as the digits beside them, and narrow.

Conventions: coordinates in cap heights, x to the right from the sign's left edge, y upwards from the
baseline. A digit reaches from 0 to 1.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from drills.shapes.outline import Outline, curve, moved


def _box(left: float, bottom: float, right: float, top: float, *, rise: float = 0.0) -> Outline:
    """An upright bar, or a bar whose right end lies higher by `rise`."""
    return (left, bottom), (right, bottom + rise), (right, top + rise), (left, top)


_STEM: Final = 0.135

_FLAT_BODY: Final = curve(
    (0.0, 0.58),
    ((0.20, 0.74), (0.54, 0.72), (0.54, 0.43)),
    ((0.54, 0.22), (0.28, 0.06), (0.0, -0.13)),
)
_FLAT_HOLE: Final = curve(
    (_STEM, 0.44),
    ((0.22, 0.54), (0.37, 0.55), (0.37, 0.40)),
    ((0.37, 0.29), (0.26, 0.19), (_STEM, 0.11)),
)
_FLAT_STEM: Final = _box(0.0, -0.13, _STEM, 1.14)

_SHARP: Final = (
    _box(0.13, -0.16, 0.25, 1.10),
    _box(0.36, -0.10, 0.48, 1.16),
    _box(0.0, 0.18, 0.61, 0.355, rise=0.13),
    _box(0.0, 0.535, 0.61, 0.71, rise=0.13),
)

_BLOCK: Final = 0.21
_CROSS: Final = (
    *(_box(x, y, x + _BLOCK, y + _BLOCK) for x in (0.0, 0.66 - _BLOCK) for y in (0.17, 0.83 - _BLOCK)),
    ((0.0, 0.26), (0.09, 0.17), (0.66, 0.74), (0.57, 0.83)),
    ((0.0, 0.74), (0.57, 0.17), (0.66, 0.26), (0.09, 0.83)),
)

_SECOND_FLAT: Final = 0.42
"""How far the second flat of 𝄫 stands from the first: its stem closes the first one's bowl."""


@dataclass(frozen=True, slots=True)
class Sign:
    """An accidental: outlines that are filled, then others that are cut out of them."""

    filled: tuple[Outline, ...]
    holes: tuple[Outline, ...] = ()


SIGNS: Final[Mapping[str, Sign]] = MappingProxyType(
    {
        "♭": Sign((_FLAT_BODY, _FLAT_STEM), (_FLAT_HOLE,)),
        "𝄫": Sign(
            (_FLAT_BODY, _FLAT_STEM, moved(_FLAT_BODY, _SECOND_FLAT), moved(_FLAT_STEM, _SECOND_FLAT)),
            (_FLAT_HOLE, moved(_FLAT_HOLE, _SECOND_FLAT)),
        ),
        "♯": Sign(_SHARP),
        "𝄪": Sign(_CROSS),
    }
)
"""The four signs by their characters."""
