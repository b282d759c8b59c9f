"""Type is set where it should be, broken where it may be, and drawn whatever it holds.

Outside checks: pypdfium2 (the PDF engine of a browser) reads and renders; pypdf takes files apart, fontTools
opens the embedded faces.
"""

from __future__ import annotations

import io
from typing import Any

import pytest

from drills.pack.handout.paper import Paper
from drills.pack.handout.pen import POINT_MM

from .conftest import Opened


def test_text_breaks_at_its_dots_first(paper: Paper) -> None:
    """What belongs together stays together: the degrees of a layer, a voice and its step."""
    text = "on top: D major triad, close, second inversion · 13 9 ♯11"
    within = paper.text_width("on top: D major triad, close, second inversion · 13", size=8)
    assert paper.wrapped(text, size=8, within=within) == [
        "on top: D major triad, close, second inversion",
        "13 9 ♯11",
    ]
    assert paper.wrapped(text, size=8, within=500) == [text]
    assert paper.wrapped("", size=8, within=50) == []


@pytest.mark.parametrize("text", ["one two three four five six", "x" * 80, "a · b · c · d", "B♭ → A · " * 6])
def test_every_line_fits_or_is_one_word(paper: Paper, text: str) -> None:
    """And nothing is lost."""
    lines = paper.wrapped(text, size=9, within=30)
    assert all(paper.text_width(line, size=9) <= 30 or " " not in line for line in lines)
    assert "".join("".join(lines).replace("·", "").split()) == "".join(text.replace("·", "").split())


def test_a_line_too_wide_is_set_smaller_then_cut(paper: Paper, opened: Opened) -> None:
    """It never reaches beyond its place."""
    paper.text(20, 50, "w" * 200, within=60)
    page = opened(paper.finish())[0]
    assert "…" in page.get_textpage().get_text_range()
    picture = page.render(scale=2).to_pil().convert("L")
    left, top, right, bottom = (round(at / POINT_MM * 2) for at in (80.5, 46, 205, 52))
    assert picture.crop((left, top, right, bottom)).getextrema() == (255, 255)


@pytest.mark.parametrize("text", ["Ελλάδα", "🎸 strange", "é ő Å ﷽", "日本", "\x00\x1b[2J", "e\u0301"])
def test_any_text_is_set_without_a_warning(
    paper: Paper, opened: Opened, text: str, caplog: pytest.LogCaptureFixture
) -> None:
    """What the face lacks is an empty box; warnings are errors here, and nothing is logged."""
    paper.text(20, 50, text, size=12)
    paper.text(20, 60, text, size=12, bold=True)
    assert len(opened(paper.finish())) == 1
    assert [record.getMessage() for record in caplog.records] == []


def test_embedded_letters_have_their_outlines_and_no_hints(paper: Paper) -> None:
    """Of letters that are put together, the parts are clean as well."""
    from fontTools.ttLib import TTFont
    from pypdf import PdfReader

    paper.text(20, 50, "Åé ő ♭♯ xyz")
    resources: Any = PdfReader(io.BytesIO(paper.finish())).pages[0]["/Resources"]
    for font in resources["/Font"].values():
        descriptor = font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"]
        face: Any = TTFont(io.BytesIO(descriptor["/FontFile2"].get_data()))
        assert not {"fpgm", "prep", "cvt "} & set(face.keys())
        glyphs = [face["glyf"][name] for name in face.getGlyphOrder()]
        assert all(not hasattr(glyph, "program") or not glyph.program.getBytecode() for glyph in glyphs)
        assert sum(glyph.numberOfContours != 0 for glyph in glyphs) >= 5
