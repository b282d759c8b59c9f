"""Outlines are closed paths of points; curves go where their handles pull them."""

from __future__ import annotations

import pytest

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


def test_outlines_can_be_moved_and_scaled() -> None:
    """Around their origin first, then away."""
    assert moved(scaled(((1.0, 2.0), (3.0, 4.0)), 2), 10, 1) == ((12.0, 5.0), (16.0, 9.0))
