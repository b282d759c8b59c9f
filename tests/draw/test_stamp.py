"""Stamps cover what they paint and nothing else."""

from __future__ import annotations

from PIL import Image

from drills.draw.stamp import Stroke, stamp


def row(*values: int) -> Image.Image:
    """One row of pixels."""
    return Image.frombytes("L", (len(values), 1), bytes(values))


def test_fuller_cover_goes_further_along_the_ramp() -> None:
    """A little cover leaves things bare, a half takes the edge paint, a whole the full paint."""
    made = stamp(Stroke(row(0, 60, 128, 190, 255), (3, 7)))
    assert list(made.stencil.tobytes()) == [0, 0, 255, 255, 255]
    assert list(made.paints.tobytes())[2:] == [3, 3, 7]


def test_later_strokes_lie_on_top() -> None:
    """Where two strokes meet, the second shows."""
    made = stamp(Stroke(row(255, 255, 0), (5,)), Stroke(row(0, 255, 255), (6,)))
    assert list(made.paints.tobytes()) == [5, 6, 6]


def test_ground_covers_everything() -> None:
    """A stamp with a ground hides all that lies beneath."""
    made = stamp(Stroke(row(0, 255), (5,)), ground=4)
    assert list(made.paints.tobytes()) == [4, 5]
    assert list(made.stencil.tobytes()) == [255, 255]


def test_a_stamp_is_laid_by_its_middle() -> None:
    """Only painted pixels change, around the place named."""
    plane = row(*[1] * 8)
    stamp(Stroke(row(255, 0, 0, 255), (9,))).lay_on(plane, 4, 0)
    assert list(plane.tobytes()) == [1, 1, 9, 1, 1, 9, 1, 1]
