"""A contact sheet shows every voicing of a deck on one picture."""

from __future__ import annotations

import io

import pytest
from PIL import Image

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


@pytest.mark.parametrize(("count", "columns"), [(1, 1), (2, 1), (4, 2), (12, 3), (48, 6)])
def test_cells_fill_a_sheet_that_is_about_square(count: int, columns: int) -> None:
    """As many columns as bring width and height together."""
    sheet = opened(contact_sheet("week", [cell()] * count))
    assert sheet.width == 80 + columns * 360 + (columns - 1) * 36
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
    margin = sheet.crop((sheet.width - 36, 0, sheet.width, 90))
    assert margin.getcolors() == [(36 * 90, LIGHT[GROUND])]


@pytest.mark.parametrize("count", [0, MOST_CELLS + 1])
def test_too_many_voicings_are_an_error(count: int) -> None:
    """Nobody sees them at a glance."""
    with pytest.raises(DrillsError, match="for one sheet"):
        contact_sheet("week", [cell()] * count)
