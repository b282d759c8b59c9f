"""Closed outlines with curved sides.

Conventions: an outline is a tuple of corner points.
"""

from __future__ import annotations

from typing import Final, TypeAlias

Point: TypeAlias = tuple[float, float]
Outline: TypeAlias = tuple[Point, ...]

_STEPS: Final = 12


def curve(start: Point, *legs: tuple[Point, Point, Point]) -> Outline:
    """The points of a path of cubic Bézier curves, each leg two handles and an end."""
    points = [start]
    for one, two, end in legs:
        here = points[-1]
        for step in range(1, _STEPS + 1):
            t = step / _STEPS
            weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
            x, y = (
                sum(
                    weight * point[axis] for weight, point in zip(weights, (here, one, two, end), strict=True)
                )
                for axis in (0, 1)
            )
            points.append((x, y))
    return tuple(points)


def moved(outline: Outline, dx: float, dy: float = 0.0) -> Outline:
    """The outline elsewhere."""
    return tuple((x + dx, y + dy) for x, y in outline)


def scaled(outline: Outline, factor: float) -> Outline:
    """The outline larger or smaller around (0, 0)."""
    return tuple((x * factor, y * factor) for x, y in outline)
