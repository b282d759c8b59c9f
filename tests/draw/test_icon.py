"""The icon of the quiz page.

Outside checks: Pillow reads it; the safe zone of the manifest (W3C) holds its notes.
"""

from __future__ import annotations

import io
from math import dist

import pytest
from PIL import Image

from drills.draw.icon import icon
from drills.draw.theme import LAYERS, LIGHT, WOOD

LOWER, UPPER = (LIGHT[look.fill] for look in LAYERS[:2])
NOTES = {LOWER, UPPER}


def drawn(side_px: int, *, is_maskable: bool = False) -> Image.Image:
    """The icon with its transparency."""
    with Image.open(io.BytesIO(icon(side_px, is_maskable=is_maskable))) as picture:
        assert picture.format == "PNG"
        return picture.convert("RGBA")


def places(picture: Image.Image, colours: set[tuple[int, int, int]]) -> list[tuple[float, float]]:
    """Where an icon has one of the colours: the middles of those pixels in shares of the side."""
    pixels = picture.convert("RGB").load()
    assert pixels is not None
    side = picture.width
    return [
        ((x + 0.5) / side, (y + 0.5) / side)
        for x in range(side)
        for y in range(side)
        if pixels[x, y] in colours
    ]


@pytest.mark.parametrize("side_px", [48, 192, 512])
def test_it_is_as_large_as_asked_and_small_in_bytes(side_px: int) -> None:
    """A square of that many pixels, under 10 KB."""
    data = icon(side_px)
    assert drawn(side_px).size == (side_px, side_px)
    assert len(data) < 10_000


def test_the_same_icon_is_the_same_bytes() -> None:
    """A rebuilt page is the same."""
    assert icon(192) == icon(192)


@pytest.mark.parametrize("side_px", [48, 512])
def test_both_notes_can_be_seen(side_px: int) -> None:
    """Lower layer below at the left, upper above at the right, each a twentieth of the sheet at least."""
    for colour, is_low in ((LOWER, True), (UPPER, False)):
        found = places(drawn(side_px), {colour})
        assert len(found) > side_px**2 / 20
        assert all((x < 0.5) == (y > 0.5) == is_low for x, y in found)


def test_a_disc_and_a_square_differ_in_shape_too() -> None:
    """A square fills the corners of its box, a disc does not."""
    filled = []
    for colour in (LOWER, UPPER):
        found = places(drawn(512), {colour})
        wide, high = (
            max(each[axis] for each in found) - min(each[axis] for each in found) for axis in (0, 1)
        )
        filled.append(len(found) / (wide * high * 512**2))
    assert filled[0] == pytest.approx(0.785, abs=0.02)
    assert filled[1] > 0.93


def test_what_the_phone_may_cut_off_holds_no_note() -> None:
    """All of both lies within 0.4 of the middle, and the sheet reaches into every corner."""
    cut = drawn(512, is_maskable=True)
    assert max(dist(place, (0.5, 0.5)) for place in places(cut, NOTES)) <= 0.4
    assert cut.getchannel("A").getextrema() == (255, 255)
    assert cut.getpixel((0, 0)) == (*LIGHT[WOOD], 255)


def test_elsewhere_its_corners_are_round() -> None:
    """What lies behind shines through them."""
    picture = drawn(192)
    assert [picture.getchannel("A").getpixel(corner) for corner in ((0, 0), (191, 191))] == [0, 0]
    assert picture.getchannel("A").getpixel((96, 0)) == 255
