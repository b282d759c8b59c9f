"""Stamps: small pieces of picture that are made once and laid down many times."""

from __future__ import annotations

from dataclasses import dataclass

from PIL import Image

from drills.draw.theme import Paint

_BARE = 255
"""Stands in a piece of picture where nothing has been painted yet."""


@dataclass(frozen=True, slots=True)
class Stamp:
    """A piece of picture.

    Attributes:
        paints: paint numbers.
        stencil: 255 where the stamp covers what lies beneath, 0 where it does not.
    """

    paints: Image.Image
    stencil: Image.Image

    def lay_on(self, plane: Image.Image, x: int, y: int) -> None:
        """Lay the stamp on a plane of paint numbers, its middle at (x, y)."""
        plane.paste(self.paints, (x - self.paints.width // 2, y - self.paints.height // 2), self.stencil)


@dataclass(frozen=True, slots=True)
class Stroke:
    """What is painted where: the fuller the cover, the further along the ramp.

    Attributes:
        coverage: a mask, 0 to 255.
        ramp: paints from the faintest edge to full cover.
    """

    coverage: Image.Image
    ramp: tuple[Paint, ...]


def stamp(*strokes: Stroke, ground: Paint | None = None) -> Stamp:
    """The stamp made by strokes of one size, the later over the earlier.

    Args:
        strokes: at least one.
        ground: what fills the rest; unless given, the rest stays bare and covers nothing.
    """
    paints = Image.new("L", strokes[0].coverage.size, _BARE if ground is None else ground)
    for stroke in strokes:
        steps = [round(cover * len(stroke.ramp) / 255) for cover in range(256)]
        chosen = stroke.coverage.point([stroke.ramp[max(step, 1) - 1] for step in steps])
        paints.paste(chosen, (0, 0), stroke.coverage.point([255 if step else 0 for step in steps]))
    return Stamp(paints, paints.point([255] * _BARE + [0]))
