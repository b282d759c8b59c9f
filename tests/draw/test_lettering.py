"""Texts have the size they are asked for, and accidentals are signs of their own."""

from __future__ import annotations

import pytest
from PIL import Image, ImageDraw

from drills.draw.lettering import lettered
from drills.shapes.accidentals import SIGNS


def ink_rows(text: str, cap_px: int, *, bold: bool = False) -> tuple[int, int, int]:
    """First and last row with solid ink, and the height of the mask."""
    mask = lettered(text, cap_px, bold=bold)
    box = mask.point([255 * (cover > 127) for cover in range(256)]).getbbox()
    assert box is not None
    return box[1], box[3], mask.height


def ink(text: str, *, bold: bool = True) -> float:
    """How much ink a text takes at a cap height of 40, in pixels."""
    return sum(lettered(text, 40, bold=bold).tobytes()) / 255


def holes(text: str) -> int:
    """How many closed counters a text has, when drawn large."""
    mask = lettered(text, 60, bold=True).point([255 * (cover > 127) for cover in range(256)])
    sheet = Image.new("L", (mask.width + 2, mask.height + 2))
    sheet.paste(mask, (1, 1))
    ImageDraw.floodfill(sheet, (0, 0), 128)
    count = 0
    while (at := sheet.tobytes().find(0)) >= 0:
        ImageDraw.floodfill(sheet, (at % sheet.width, at // sheet.width), 128)
        count += 1
    return count


@pytest.mark.parametrize("cap_px", [12, 20, 27, 34])
@pytest.mark.parametrize("text", ["E", "1", "7"])
def test_capitals_and_digits_are_as_high_as_asked(text: str, cap_px: int) -> None:
    """What is asked for is the cap height, and its middle is the middle of the mask."""
    top, bottom, height = ink_rows(text, cap_px)
    assert bottom - top == pytest.approx(cap_px, abs=1)
    assert (top + bottom) / 2 == pytest.approx(height / 2, abs=1)


@pytest.mark.parametrize("text", ["1", "♭13", "F♯"])
def test_masks_are_as_wide_as_their_ink(text: str) -> None:
    """No white at the sides but what makes the width even."""
    mask = lettered(text, 30, bold=True)
    box = mask.getbbox()
    assert box is not None
    assert mask.width % 2 == 0
    assert mask.width - (box[2] - box[0]) <= 2


def test_bold_takes_more_ink() -> None:
    """Bold digits are heavier than plain ones."""
    assert ink("8", bold=True) > 1.2 * ink("8", bold=False)


@pytest.mark.parametrize(("text", "count"), [("♭", 1), ("𝄫", 2), ("♯", 1), ("𝄪", 0), ("8", 2), ("7", 0)])
def test_signs_have_their_counters(text: str, count: int) -> None:
    """A flat is open in its bowl, a double flat in both, a sharp in its middle: none is a blot."""
    assert holes(text) == count


@pytest.mark.parametrize("sign", SIGNS)
def test_signs_are_as_heavy_as_digits(sign: str) -> None:
    """An accidental takes about as much ink for its width as the digit 5."""
    density = ink(sign) / lettered(sign, 40, bold=True).width
    assert 0.6 < density / (ink("5") / lettered("5", 40, bold=True).width) < 1.4


def test_signs_are_four_different_ones() -> None:
    """♭ ♯ 𝄫 𝄪 and no two alike."""
    assert set(SIGNS) == {"♭", "♯", "𝄫", "𝄪"}
    assert len({lettered(sign, 30, bold=True).tobytes() for sign in SIGNS}) == 4


def test_a_double_flat_is_closer_than_two_flats() -> None:
    """𝄫 is one sign: narrower than ♭♭, wider than ♭."""
    one, double, two = (lettered(text, 40, bold=True).width for text in ("♭", "𝄫", "♭♭"))
    assert one < double < two


@pytest.mark.parametrize("sign", SIGNS)
def test_signs_stay_within_the_line(sign: str) -> None:
    """Nothing of a sign is cut off at the top or the bottom."""
    mask = lettered(sign, 40, bold=True)
    box = mask.getbbox()
    assert box is not None
    assert box[1] > 0
    assert box[3] < mask.height
