"""Markers: shape and colour carry the layer, every degree fits, the asked note gives nothing away."""

from __future__ import annotations

from itertools import combinations, groupby

import pytest
from PIL import Image, ImageChops, ImageFilter, ImageOps

from drills.draw.marker import marked
from drills.draw.stamp import Stamp
from drills.draw.theme import GROUND, INK, LAYERS

DEGREES = (
    *("1", "♭9", "9", "♯9", "♭3", "3", "4", "11", "♯11", "♭5", "5", "♯5", "♭13", "13", "6", "♭7", "7"),
    *("𝄫7", "𝄫3", "♭11", "♯13", "♭1", "♯1", "♯3", "♭4", "♯4", "♭6", "♯7", "𝄪4", "𝄪11", "𝄫13"),
)
"""The degrees of the design, and the rare ones that a typed degree may bring."""
PHONE = 390 / 1080
BARE = 255


def marker(
    layer: int = 0,
    text: str = "",
    *,
    is_root: bool = False,
    is_doubled: bool = False,
    is_asked: bool = False,
    radius_px: int = 33,
    echo_side: int = 1,
) -> Stamp:
    """A marker, plain unless something is said."""
    return marked(
        layer,
        text,
        is_root=is_root,
        is_doubled=is_doubled,
        is_asked=is_asked,
        radius_px=radius_px,
        echo_side=echo_side,
    )


def where(stamp: Stamp, *paints: int) -> Image.Image:
    """A mask of the pixels that have one of those paints."""
    return stamp.paints.point([255 * (value in paints) for value in range(256)])


def count(mask: Image.Image) -> int:
    """How many pixels a mask has."""
    return mask.histogram()[255]


def middle(stamp: Stamp) -> int:
    """The paint of the middle."""
    return stamp.paints.tobytes()[stamp.paints.width * (stamp.paints.height // 2) + stamp.paints.width // 2]


@pytest.mark.parametrize("is_root", [False, True], ids=["plain", "root"])
@pytest.mark.parametrize("layer", range(3))
def test_an_empty_marker_is_filled_with_its_layers_paint(layer: int, is_root: bool) -> None:
    """The middle and most of the rest have the layer's own paint, and no other layer's."""
    stamp = marker(layer, is_root=is_root)
    assert middle(stamp) == LAYERS[layer].fill
    assert count(where(stamp, LAYERS[layer].fill)) > 1800
    for other in LAYERS[:layer] + LAYERS[layer + 1 :]:
        assert count(where(stamp, other.fill, other.ribbon)) == 0


@pytest.mark.parametrize(("one", "other"), list(combinations(range(3), 2)))
def test_shapes_differ_without_colour(one: int, other: int) -> None:
    """Outlines of two layers differ by more than a twelfth of their area, though they are alike in size."""
    first, second = marker(one).stencil, marker(other).stencil
    assert count(first) == pytest.approx(count(second), rel=0.2)
    assert count(ImageChops.difference(first, second)) > count(first) / 12


@pytest.mark.parametrize("is_root", [False, True], ids=["plain", "root"])
@pytest.mark.parametrize("layer", range(3))
@pytest.mark.parametrize("text", DEGREES)
def test_every_degree_fits_its_marker(text: str, layer: int, is_root: bool) -> None:
    """No pixel of a degree comes within two of the marker's edge."""
    look = LAYERS[layer]
    stamp = marker(layer, text, is_root=is_root)
    letters = where(stamp, look.text, look.text_edge)
    body = where(stamp, look.text, look.text_edge, look.fill)
    assert count(where(stamp, look.text)) > 40
    assert not ImageChops.subtract(letters, body.filter(ImageFilter.MinFilter(5))).getbbox()


@pytest.mark.parametrize("layer", range(3))
@pytest.mark.parametrize("text", [degree for degree in DEGREES if len(degree) < 4])
def test_degrees_can_be_read_on_the_phone(text: str, layer: int) -> None:
    """At 390 pixels a degree is at least 7 high, one with a single digit and no sign at least 11."""
    box = where(marker(layer, text), LAYERS[layer].text).getbbox()
    assert box is not None
    least = 11 if len(text) == 1 else 7
    assert (box[3] - box[1]) * PHONE >= least


@pytest.mark.parametrize("layer", range(3))
def test_a_root_wears_a_ring(layer: int) -> None:
    """Going outwards from the middle: layer, gap, ink, and nothing more; other markers have no ink."""
    stamp = marker(layer, is_root=True)
    half, row = stamp.paints.width // 2, stamp.paints.width * (stamp.paints.height // 2)
    paints, stencil = stamp.paints.tobytes(), stamp.stencil.tobytes()
    outwards = [paints[at] if stencil[at] else BARE for at in range(row + half, row + 2 * half)]
    flat = [paint for paint in outwards if paint in {LAYERS[layer].fill, GROUND, INK, BARE}]
    seen = [paint for paint, _ in groupby(flat)]
    assert seen == [LAYERS[layer].fill, GROUND, INK, BARE]
    assert count(where(marker(layer), INK)) == 0


@pytest.mark.parametrize("layer", range(3))
def test_the_asked_marker_is_empty_and_stands_out(layer: int) -> None:
    """Outline in the layer's colour, ground within, and a question mark in ink."""
    stamp = marker(layer, is_asked=True)
    assert count(where(stamp, LAYERS[layer].fill)) > 500
    assert count(where(stamp, GROUND)) > 700
    assert count(where(stamp, INK)) > 100
    assert stamp.stencil.tobytes() == marker(layer).stencil.tobytes()


@pytest.mark.parametrize("layer", range(3))
def test_the_asked_marker_gives_nothing_away(layer: int) -> None:
    """Neither text nor ring nor echo shows on it."""
    told = marker(layer, "1", is_asked=True, is_root=True, is_doubled=True)
    assert told.paints.tobytes() == marker(layer, is_asked=True).paints.tobytes()


@pytest.mark.parametrize("is_root", [False, True], ids=["plain", "root"])
@pytest.mark.parametrize("layer", range(3))
def test_a_doubled_note_has_an_echo_at_its_side(layer: int, is_root: bool) -> None:
    """The marker itself is unchanged; something apart from it is added on one side only."""
    plain, doubled = marker(layer, "5", is_root=is_root), marker(layer, "5", is_root=is_root, is_doubled=True)
    added = ImageChops.subtract(doubled.stencil, plain.stencil)
    assert not ImageChops.subtract(plain.stencil, doubled.stencil).getbbox()
    assert not ImageChops.multiply(
        ImageChops.difference(plain.paints, doubled.paints), plain.stencil
    ).getbbox()
    assert count(added) > 150
    box = added.getbbox()
    assert box is not None
    assert box[0] > added.width / 2


def test_the_echo_changes_sides_for_left_handed_players() -> None:
    """To the left it is the mirror image of the one to the right."""
    right, left = marker(is_doubled=True), marker(is_doubled=True, echo_side=-1)
    apart = count(ImageChops.difference(ImageOps.mirror(right.stencil), left.stencil))
    assert apart < 0.06 * count(right.stencil)
    assert right.stencil.tobytes() != left.stencil.tobytes()


@pytest.mark.parametrize("radius_px", [13, 16, 20, 28, 33])
@pytest.mark.parametrize("layer", range(3))
def test_small_markers_are_small(layer: int, radius_px: int) -> None:
    """A marker for a narrow fret keeps within its radius, a plectrum within a seventh more."""
    box = marker(layer, "♭13", radius_px=radius_px).stencil.getbbox()
    assert box is not None
    assert box[2] - box[0] <= 2 * radius_px * 8 / 7 + 2
    assert box[3] - box[1] <= 2 * radius_px * 8 / 7 + 2
