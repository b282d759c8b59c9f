"""Masks hold what outlines cover."""

from __future__ import annotations

from math import pi

import pytest

from drills.draw.outline import filled
from drills.shapes.marker import DISC
from drills.shapes.outline import moved, scaled


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
