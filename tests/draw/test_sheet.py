"""A contact sheet shows every voicing of a deck on one picture."""

from __future__ import annotations

import io
from dataclasses import replace

import pytest
from PIL import Image, ImageChops

from drills.cards.card import Marker, PictureSpec
from drills.draw.sheet import MOST_CELLS, Cell, contact_sheet
from drills.draw.theme import DARK, GROUND, LAYERS, LIGHT
from drills.errors import DrillsError

STRINGS = ("E", "A", "D", "G", "B", "E")


def cell(head: str = "C13", *, fret: int = 5) -> Cell:
    """A lower and an upper note."""
    picture = PictureSpec(STRINGS, (Marker(1, fret, 0, "♭7"), Marker(4, fret + 1, 1, "13")), 3, 7)
    return Cell(head, "♭7 | 13", picture)


def opened(data: bytes) -> Image.Image:
    """The picture in full colour."""
    return Image.open(io.BytesIO(data)).convert("RGB")


def changed(before: Cell, after: Cell) -> tuple[int, int, int, int]:
    """Where sheets of one cell differ."""
    one, other = (opened(contact_sheet("week", [each])) for each in (before, after))
    difference = ImageChops.difference(one, other).convert("L")
    box = difference.point(lambda level: 255 * (level > 40)).getbbox()
    assert box is not None
    return box


@pytest.mark.parametrize(("count", "columns"), [(1, 1), (2, 1), (4, 2), (12, 3), (48, 6)])
def test_cells_fill_a_sheet_that_is_about_square(count: int, columns: int) -> None:
    """As many columns as bring width and height together."""
    sheet = opened(contact_sheet("week", [cell()] * count))
    shrink = 2 if count <= 12 else 3
    assert sheet.width == (240 + columns * 1080 + (columns - 1) * 108) // shrink
    if count > 2:
        assert 0.6 < sheet.width / sheet.height < 1.7


@pytest.mark.parametrize("dark", [False, True])
def test_markers_keep_their_layers_colours(dark: bool) -> None:
    """Both colours of every cell are there, exactly, on the theme's ground."""
    palette = DARK if dark else LIGHT
    sheet = opened(contact_sheet("week", [cell(), cell()], dark=dark))
    counted = {colour: count for count, colour in sheet.getcolors(maxcolors=sheet.width * sheet.height) or []}
    assert sheet.getpixel((2, 2)) == palette[GROUND]
    for look in LAYERS[:2]:
        assert counted[palette[look.fill]] > 2 * 100


def test_the_same_cells_are_the_same_bytes() -> None:
    """And another name is another picture."""
    assert contact_sheet("week", [cell()]) == contact_sheet("week", [cell()])
    assert contact_sheet("week", [cell()]) != contact_sheet("week", [cell("Cm11")])


@pytest.mark.parametrize("title", ["", "x" * 500, "<b>&", "Ελλάδα 𝄫", "line\nbreak\x1b[2J"])
def test_any_title_is_set_within_the_sheet(title: str) -> None:
    """Long ones are set smaller; the right margin stays empty."""
    sheet = opened(contact_sheet(title, [cell()]))
    margin = sheet.crop((sheet.width - 50, 0, sheet.width, sheet.height))
    assert margin.getcolors() == [(50 * sheet.height, LIGHT[GROUND])]


def test_a_long_title_goes_on_below_itself() -> None:
    """The sheet grows by its lines; cells keep their size."""
    short, long = (
        opened(contact_sheet(title, [cell()])) for title in ("week", "a week with a long title " * 4)
    )
    assert long.width == short.width
    assert (long.height - short.height) % 63 == 0
    assert long.height > short.height


def test_a_nickname_stands_beside_the_name_in_quiet_type() -> None:
    """It begins to the right of the name, however long it is, and ends with the neck."""
    left, top, right, bottom = changed(cell(), replace(cell(), note="a nickname " * 9))
    assert left > 60 + 60
    assert right <= 60 + 540
    assert bottom - top < 30


def test_name_and_degrees_frame_the_neck_in_type_of_their_own_size() -> None:
    """A short line is not blown up to the width of the neck; one above, the other below."""
    neck_top = (120 + 126 + 50 + 96) // 2
    _, top, _, bottom = changed(replace(cell(), head="C"), replace(cell(), head="M"))
    assert bottom < neck_top
    assert 50 // 2 - 1 <= bottom - top <= 50 // 2 + 3
    _, top, _, bottom = changed(replace(cell(), foot="C"), replace(cell(), foot="M"))
    assert neck_top + 480 // 2 < top
    assert 34 // 2 - 1 <= bottom - top <= 34 // 2 + 3


@pytest.mark.parametrize("strings", [6, 7, 8])
@pytest.mark.parametrize("count", [3, 13, 60])
def test_any_number_of_strings_and_voicings_makes_a_sheet(strings: int, count: int) -> None:
    """Nothing of a cell reaches into the one below it: a strip above each name stays empty."""
    names = ("F♯", "B", *STRINGS)[-strings:]
    each = cell()
    sheet = opened(
        contact_sheet("week", [replace(each, picture=replace(each.picture, string_names=names))] * count)
    )
    shrink = 2 if count <= 12 else 3
    cell_px = 96 + (40 + 70 * (strings - 1) + 90) + 150
    top = 120 + 126 + 50
    for row in range(1, (sheet.height * shrink - top) // cell_px):
        y = (top + row * cell_px) // shrink
        strip = sheet.crop((0, y - 12, sheet.width, y - 2))
        assert strip.getcolors() == [(10 * sheet.width, LIGHT[GROUND])]


@pytest.mark.parametrize("count", [0, MOST_CELLS + 1])
def test_too_many_voicings_are_an_error(count: int) -> None:
    """Nobody sees them at a glance."""
    with pytest.raises(DrillsError, match="for one sheet"):
        contact_sheet("week", [cell()] * count)
