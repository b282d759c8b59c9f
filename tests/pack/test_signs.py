"""The small fonts in the stylesheet. Outside check: fontTools reads them."""

from __future__ import annotations

import base64
import io
import re
import runpy
from pathlib import Path
from typing import Any

import pytest
from fontTools.ttLib import TTFont

from drills.pack.faces import stylesheet

MADE: dict[str, Any] = runpy.run_path(str(Path(__file__).with_name("make_signs.py")))


def shipped() -> dict[int, bytes]:
    """The fonts of the stylesheet by weight."""
    found = re.findall(r"font-weight: (\d+);[^}]*?base64,([^)]+)\)", stylesheet())
    return {int(weight): base64.b64decode(data) for weight, data in found}


def outlines(data: bytes) -> dict[str, object]:
    """Advance and points of every sign."""
    font = TTFont(io.BytesIO(data))
    return {
        chr(sign): (font["hmtx"][name], [tuple(point) for point in font["glyf"][name].coordinates])
        for sign, name in font.getBestCmap().items()
    }


@pytest.mark.parametrize("weight", MADE["WEIGHTS"], ids=["regular", "bold"])
def test_the_fonts_are_those_that_the_script_draws(weight: Any) -> None:
    """Nobody changes the one without the other."""
    drawn = outlines(shipped()[weight.css])
    assert set(drawn) == set("♭♯△")
    assert drawn == outlines(MADE["font"](weight))


def test_a_font_is_small() -> None:
    """Every deck carries both: under 2 KB each."""
    assert {weight: len(data) < 2000 for weight, data in shipped().items()} == {400: True, 700: True}
