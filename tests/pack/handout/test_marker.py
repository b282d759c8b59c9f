"""Markers on paper: shapes that read in grey, degrees that a reader can select.

Outside check: pypdfium2 (the PDF engine of a browser) renders and reads them.
"""

from __future__ import annotations

import pytest

from drills.cards.card import Marker
from drills.pack.handout.marker import LOOKS, draw_marker, shape
from drills.pack.handout.paper import Paper
from drills.pack.handout.pen import INK, POINT_MM

from .conftest import Opened

SCALE = 4
WHITE = (255, 255, 255)


def spot(x: float, y: float) -> tuple[int, int]:
    """A place of the page in the rendered picture."""
    return round(x / POINT_MM * SCALE), round(y / POINT_MM * SCALE)


def test_layers_can_be_told_apart_in_grey(paper: Paper, opened: Opened) -> None:
    """A disc has no corners, a rounded square has: shape carries the layer where colour is gone."""
    for layer in range(3):
        shape(paper, layer, 40 + 40 * layer, 100, 10, fill=INK)
    image = opened(paper.finish())[0].render(scale=SCALE).to_pil().convert("L")

    def is_inked(layer: int, dx: float, dy: float) -> bool:
        return bool(image.getpixel(spot(40 + 40 * layer + 10 * dx, 100 + 10 * dy)) < 128)

    corner, lower_corner = (0.82, -0.82), (0.82, 0.82)
    assert [is_inked(layer, *corner) for layer in range(3)] == [False, True, True]
    assert [is_inked(layer, *lower_corner) for layer in range(3)] == [False, True, False]


@pytest.mark.parametrize("text", ["1", "13", "♭7", "♯11", "♭13", "𝄫7", "𝄪4"])
@pytest.mark.parametrize("layer", [0, 1, 2])
def test_a_degree_fits_its_marker_and_can_be_read(
    paper: Paper, opened: Opened, text: str, layer: int
) -> None:
    """Its ink stays inside the shape, and its text says the degree, accidental and all."""
    draw_marker(paper, Marker(0, 1, layer, text), 100, 100, 10)
    page = opened(paper.finish())[0]
    said = {"𝄫7": "♭♭7", "𝄪4": "×4"}.get(text, text)  # as the face can write it
    assert said in page.get_textpage().get_text_range()
    image = page.render(scale=SCALE).to_pil().convert("RGB")
    assert all(image.getpixel(spot(100 + x, 100 + y)) == WHITE for x in (-12.5, 12.5) for y in range(-11, 12))
    near = [image.getpixel(spot(100 + x / 4, 100 + y / 4)) for x in range(-30, 31) for y in range(-16, 17)]
    assert near.count(LOOKS[layer].on) > 40


def test_a_root_is_ringed_a_doubled_note_echoed_and_an_asked_one_empty(paper: Paper, opened: Opened) -> None:
    """Each of the three is told by its ink; an echo changes sides with the hand."""
    markers = [
        Marker(0, 1, is_root=True),
        Marker(0, 1, is_doubled=True),
        Marker(0, 1, is_doubled=True),
        Marker(0, 1, is_asked=True),
    ]
    for place, marker in enumerate(markers):
        draw_marker(paper, marker, 30 + 40 * place, 100, 10, is_mirrored=place == 2)
    image = opened(paper.finish())[0].render(scale=SCALE).to_pil().convert("RGB")
    fill = LOOKS[0].fill
    assert image.getpixel(spot(30 - 10, 100)) == INK
    assert image.getpixel(spot(70 + 13.2, 100)) == fill
    assert image.getpixel(spot(70 - 13.2, 100)) == WHITE
    assert image.getpixel(spot(110 - 13.2, 100)) == fill
    assert image.getpixel(spot(150 - 5, 100)) == WHITE
