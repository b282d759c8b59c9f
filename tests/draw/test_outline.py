"""Outlines and the masks they fill."""

from __future__ import annotations

from math import pi

import pytest

from drills.draw.outline import filled
from drills.shapes.marker import DISC
from drills.shapes.outline import curve, moved, scaled


def test_a_curve_goes_through_its_ends() -> None:
    """Every leg begins and ends where it says; a straight leg stays straight."""
    path = curve((0.0, 0.0), ((1.0, 1.0), (2.0, 2.0), (3.0, 3.0)), ((3.0, 2.0), (3.0, 1.0), (3.0, 0.0)))
    assert path[0] == (0.0, 0.0)
    assert (3.0, 3.0) in path
    assert path[-1] == (3.0, 0.0)
    assert all(x == pytest.approx(y) for x, y in path[: path.index((3.0, 3.0))])


def test_a_quarter_circle_is_round() -> None:
    """The usual handles of 0.5523 keep a quarter within a thousandth of its circle (common practice)."""
    arc = curve((1.0, 0.0), ((1.0, 0.5523), (0.5523, 1.0), (0.0, 1.0)))
    assert [x * x + y * y for x, y in arc] == pytest.approx([1.0] * len(arc), abs=2e-3)


@pytest.mark.parametrize("radius", [5, 16, 33])
def test_a_mask_covers_the_area_of_its_outline(radius: int) -> None:
    """The cover of a disc adds up to pi r²."""
    mask = filled((80, 80), [moved(scaled(DISC, radius), 40, 40)])
    area = sum(mask.tobytes()) / 255
    assert area == pytest.approx(pi * radius * radius, rel=0.06)


def test_edges_are_smooth() -> None:
    """A slanting edge has pixels that are neither full nor empty."""
    mask = filled((20, 20), [((0.0, 0.0), (20.0, 0.0), (0.0, 17.0))])
    assert len(set(mask.tobytes())) > 5
