"""The three shapes are about as large as each other, and each is told by its corners."""

from __future__ import annotations

from itertools import pairwise
from math import dist, pi

import pytest

from drills.shapes.marker import DISC, PLECTRUM, SQUARE
from drills.shapes.outline import Outline


def area(outline: Outline) -> float:
    """By the shoelace formula."""
    return abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairwise((*outline, outline[0])))) / 2


@pytest.mark.parametrize(("outline", "share"), [(DISC, 1.0), (SQUARE, 1.10), (PLECTRUM, 1.03)])
def test_shapes_weigh_about_the_same(outline: Outline, share: float) -> None:
    """Within a tenth or so of a disc, so that no layer shouts."""
    assert area(outline) / pi == pytest.approx(share, abs=0.05)


@pytest.mark.parametrize("outline", [DISC, SQUARE, PLECTRUM])
def test_shapes_are_the_same_left_and_right(outline: Outline) -> None:
    """A mirrored neck shows the same shapes."""
    assert all(min(dist((-x, y), other) for other in outline) < 1e-9 for x, y in outline)
