"""Where things are: mirrored for the left hand, nothing on top of anything else."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.draw.layout import (
    BOARD_X_PX,
    CAP_PX,
    DOTS_BELOW_PX,
    NUMBERS_BELOW_PX,
    WIDTH_PX,
    WOOD_BELOW_PX,
    Layout,
)
from drills.draw.lettering import lettered

LAYOUTS = st.builds(
    lambda strings, first, frets, is_left_handed: Layout(strings, first, first + frets - 1, is_left_handed),
    st.integers(6, 8),
    st.integers(1, 24),
    st.integers(1, 24),
    st.booleans(),
)


@pytest.mark.parametrize(("strings", "height"), [(6, 480), (7, 550), (8, 620)])
def test_height_grows_with_the_strings(strings: int, height: int) -> None:
    """Six strings make a picture 480 high; strings keep their distance in larger ones."""
    layout = Layout(strings, 1, 5, is_left_handed=False)
    assert layout.height_px == height
    assert {b - a for a, b in pairwise(layout.string_y(s) for s in range(strings))} == {-70}


@given(LAYOUTS)
def test_markers_have_room(layout: Layout) -> None:
    """Markers of neighbouring frets and strings do not touch, and all lie within the picture."""
    frets = [0, *range(layout.first_fret, layout.last_fret + 1)]
    places = sorted(layout.fret_x(fret) for fret in frets)
    across = 2 * layout.marker_radius_px
    assert all(b - a > across for a, b in pairwise(places))
    assert across < layout.string_y(0) - layout.string_y(1)
    assert places[0] - layout.marker_radius_px >= 0
    assert places[-1] + layout.marker_radius_px <= WIDTH_PX


@given(LAYOUTS)
def test_the_left_hand_sees_the_mirror_image(layout: Layout) -> None:
    """Mirrored places add up to the width; heights stay."""
    other = Layout(layout.strings, layout.first_fret, layout.last_fret, not layout.is_left_handed)
    for fret in (0, layout.first_fret, layout.last_fret):
        assert abs(layout.fret_x(fret) + other.fret_x(fret) - WIDTH_PX) <= 1
    assert layout.string_y(0) == other.string_y(0)


@given(LAYOUTS)
def test_boxes_mirror_without_a_slip(layout: Layout) -> None:
    """A box and its mirror image have the same width and lie equally far from their sides."""
    other = Layout(layout.strings, layout.first_fret, layout.last_fret, not layout.is_left_handed)
    left, _, right, _ = layout.box(BOARD_X_PX, 0, 200, 10)
    mirrored_left, _, mirrored_right, _ = other.box(BOARD_X_PX, 0, 200, 10)
    assert (left, right) == (WIDTH_PX - 1 - mirrored_right, WIDTH_PX - 1 - mirrored_left)


@given(LAYOUTS)
def test_rows_below_the_strings_keep_apart(layout: Layout) -> None:
    """Downwards: a ringed marker, side dots, the end of the wood, numbers, the end of the picture."""
    ring_end = layout.marker_radius_px + 4
    numbers_top = NUMBERS_BELOW_PX - layout.number_cap_px / 2
    assert ring_end + 5 <= DOTS_BELOW_PX < WOOD_BELOW_PX < numbers_top
    assert layout.below(NUMBERS_BELOW_PX) + layout.number_cap_px / 2 < layout.height_px


@given(LAYOUTS)
def test_two_digits_fit_a_narrow_fret(layout: Layout) -> None:
    """Strong numbers of neighbouring frets do not run together."""
    ink = lettered("20", layout.number_cap_px, bold=True).getbbox()
    assert ink is not None
    assert ink[2] - ink[0] < layout.fret_width_px


def test_small_text_is_large_enough_for_the_phone() -> None:
    """Names and numbers are set in 11 or more on a phone 390 wide (a cap height is 0.69 of the size)."""
    assert CAP_PX / 0.69 * 390 / 1080 >= 11
    assert Layout(6, 5, 16, is_left_handed=False).number_cap_px == CAP_PX
