"""Necks on paper are those of the cards: the same proportions, every note at its place.

Outside check: pypdfium2 (the PDF engine of a browser) renders the pages.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from drills.cards.answer import neck_of
from drills.cards.card import PictureSpec
from drills.draw import layout, theme
from drills.pack.handout import marker, neck
from drills.pack.handout.paper import Paper
from drills.pack.handout.pen import FRET, INK, POINT_MM, QUIET, WHITE, WOOD

from .conftest import HandoutOf, Opened

SIX = PictureSpec(("E",) * 6, (), 3, 7)


def scale_in(picture: PictureSpec, width: float, height: float) -> float:
    """The scale at which a picture of six strings fills a box."""
    frets = picture.last_fret - picture.first_fret + 1
    return min(height / neck.neck_height(6, 1), width / (174 + 72 * frets))


@pytest.mark.parametrize("is_left_handed", [False, True])
@pytest.mark.parametrize(("width", "height"), [(150.0, 66.0), (44.0, 40.0)])
def test_markers_stand_where_the_frets_are(
    handout_of: HandoutOf, opened: Opened, is_left_handed: bool, width: float, height: float
) -> None:
    """Every note of a neck has its layer's colour at the place that fret and string give it."""
    handout = handout_of("weeks-08-09-leave-the-bass-out")
    for subject in handout.subjects[::6]:
        paper = Paper(handout.setting)
        paper.begin_page("one neck")
        picture = replace(neck_of(subject), is_left_handed=is_left_handed)
        neck.draw_neck(paper, picture, 30, 60, width, height)
        image = opened(paper.finish())[0].render(scale=6).to_pil().convert("RGB")
        scale = scale_in(picture, width, height)
        drawn = neck.Neck(picture, 30, 60, scale, min(neck.UNITS_WIDE, width / scale))
        assert drawn.fret_x(picture.last_fret) != drawn.fret_x(0)
        for each in picture.markers:
            x, y = drawn.place(each)
            body = drawn.radius * (0.78 if each.is_root else 1)
            spot = (round(x / POINT_MM * 6), round((y - 0.86 * body) / POINT_MM * 6))
            assert image.getpixel(spot) == marker.LOOKS[each.layer].fill, each


def test_colours_and_proportions_are_those_of_the_cards() -> None:
    """Paper and phone show one picture: the same layers' colours, the same measures."""
    assert [look.fill for look in marker.LOOKS] == [theme.LIGHT[look.fill] for look in theme.LAYERS]
    assert [look.on for look in marker.LOOKS] == [theme.LIGHT[look.text] for look in theme.LAYERS]
    assert neck.UNITS_WIDE == layout.WIDTH_PX
    ours = neck.Neck(SIX, 0, 0, 1)
    theirs = layout.Layout(6, 3, 7, is_left_handed=False)
    for fret in (0, 3, 5, 7):
        assert abs(ours.fret_x(fret) - theirs.fret_x(fret)) <= 1
    assert [ours.string_y(string) for string in range(6)] == [theirs.string_y(string) for string in range(6)]
    assert neck.neck_height(6, 1) == theirs.height_px


def test_what_a_player_goes_by_is_drawn(paper: Paper, opened: Opened) -> None:
    """Nut, wires, side dots and the cross on a string that is not played; up the neck the wood is cut."""
    scale, nut, up = 0.14, replace(SIX, first_fret=1, last_fret=12, muted=(0,)), replace(SIX, last_fret=12)
    at_nut, cut = neck.Neck(nut, 20, 40, scale), neck.Neck(up, 20, 130, scale)
    for each in (at_nut, cut):
        neck.draw_at(paper, each)
    image = opened(paper.finish())[0].render(scale=6).to_pil().convert("RGB")

    def colour(x: float, y: float) -> object:
        return image.getpixel((round(x / POINT_MM * 6), round(y / POINT_MM * 6)))

    between = at_nut.string_y(2) + 35 * scale
    assert colour(at_nut.x(158), between) == INK
    assert colour(at_nut.x(158 + at_nut.fret_width), between) == FRET
    assert colour(at_nut.fret_x(1), between) == WOOD
    assert colour(at_nut.x(140), between) == WHITE
    for each in (at_nut, cut):
        for fret, places in ((3, (0,)), (4, ()), (11, ()), (12, (-10, 10))):
            dots = [
                dx for dx in (-10, 0, 10) if colour(each.fret_x(fret) + dx * scale, each.below(43)) == QUIET
            ]
            assert tuple(dots) == places, fret
    for dx, dy in ((-8, -8), (8, 8), (-8, 8), (8, -8), (0, 0)):
        place = at_nut.fret_x(0) + dx * scale, at_nut.string_y(0) + dy * scale
        assert colour(*place) == INK
        assert colour(place[0], at_nut.string_y(1) + dy * scale) == WHITE
    edge = cut.string_y(2) + 35 * scale
    assert colour(cut.x(158), edge) == FRET
    assert (colour(cut.x(150), edge), colour(cut.x(138), edge)) == (WOOD, WHITE)


def test_numbers_of_a_small_neck_are_larger_for_it() -> None:
    """Capitals of 1.8 mm can be read; where there is room for that anyway, they are the cards'."""
    caps = [neck._cap(neck.Neck(SIX, 0, 0, scale)) for scale in (0.03, 0.06, 0.10)]
    assert caps == pytest.approx([33, 30, 27])


@pytest.mark.parametrize("box", [(200, 30), (40, 100), (85, 38), (12, 12)])
@pytest.mark.parametrize("last_fret", [7, 10, 14])
def test_a_neck_stays_in_its_box_and_markers_off_each_other(
    paper: Paper, opened: Opened, box: tuple[float, float], last_fret: int
) -> None:
    """Whatever the box and the window, nothing is drawn outside, and a fret is wider than a marker."""
    width, height = box
    picture = replace(SIX, last_fret=last_fret)
    assert neck.draw_neck(paper, picture, 5, 60, width, height) <= height + 0.01
    image = opened(paper.finish())[0].render(scale=4).to_pil().convert("L")
    right, top, bottom = (round(at / POINT_MM * 4) for at in (6 + width, 59, 61 + height))
    assert image.crop((right, top, image.width, bottom)).getextrema() == (255, 255)
    scale = scale_in(picture, width, height)
    drawn = neck.Neck(picture, 5, 60, scale, min(neck.UNITS_WIDE, width / scale))
    assert 2 * drawn.radius < drawn.fret_width * scale
    assert drawn.radius == pytest.approx(33 * scale)
