"""The handout says on paper what the deck says, in text that can be searched.

Outside checks: pypdfium2 (the PDF engine of a browser) renders pages and reads their text, pypdf their
properties.
Paper sizes: ISO 216 (A4, 210 by 297 mm) and US letter (8.5 by 11 inches).
"""

from __future__ import annotations

import io
from dataclasses import replace
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest

from drills.errors import DrillsError
from drills.pack.handout import SHEETS, Handout, handout_pdf, write_handout
from drills.pack.handout.paper import Setting
from drills.pack.handout.pen import POINT_MM
from drills.pack.handout.version import versions_of
from drills.plan import plan
from drills.recipe.read import parse_recipe
from drills.recipe.shelf import shelf_names

from .conftest import HandoutOf, Opened

WEEK = "weeks-03-05-third-and-seventh-below"


def texts(document: Any) -> list[str]:
    """The text of each page, on one line."""
    return [" ".join(page.get_textpage().get_text_range().split()) for page in document]


@pytest.mark.slow
@pytest.mark.parametrize("name", shelf_names())
def test_every_voicing_of_the_shelf_is_told_in_words(
    handout_of: HandoutOf, opened: Opened, name: str
) -> None:
    """Name, layers, notes and frets, in text that a reader can select."""
    from drills.cards.card import notes_line
    from drills.cards.words import answered_lines, chord_head, spelled

    handout = replace(handout_of(name), sheets=("voicings",))
    told = " ".join(texts(opened(handout_pdf(handout))))
    firsts = {each.turn: each for each in reversed(handout.subjects)}
    for subject in firsts.values():
        words = [chord_head(subject), notes_line(spelled(subject.sounding)), f"frets {subject.grip.text}"]
        words += [line.text for line in answered_lines(subject)]
        for each in words:
            assert " ".join(each.split()) in told, (subject.turn, each)


def test_sheets_come_in_their_order_and_answers_last(week: bytes, opened: Opened) -> None:
    """First page, voicings, a page a voicing, two sets of questions, empty necks, two answer keys."""
    pages = texts(opened(week))
    marks = ("Voicings", "Up C lydian", "Questions, version A", "Questions, version B", "Empty necks")
    firsts = [
        next(n for n, page in enumerate(pages) if mark in page) for mark in (*marks, "Answers, version A")
    ]
    assert firsts == sorted(firsts)
    assert "Answers, version B" in pages[-1]
    assert all("Answers" not in page for page in pages[: firsts[-1]])


def test_every_page_has_caution_title_date_and_number(week: bytes, opened: Opened) -> None:
    """Wherever a page ends up, it says what it belongs to."""
    for number, page in enumerate(texts(opened(week)), start=1):
        assert "If it hurts, stop" in page
        assert f"third and seventh below · 8 December {number} " in page + " "


def test_a_page_is_read_from_its_heading_to_its_foot(week: bytes) -> None:
    """Text lies in the file as it is read: readers aloud go by that, not by where it stands."""
    from pypdf import PdfReader

    pages = PdfReader(io.BytesIO(week)).pages
    for number, heading in ((1, "Riverside evening group"), (len(pages), "Answers")):
        first, *_, caution, last = pages[number - 1].extract_text().splitlines()
        assert first.startswith(heading)
        assert caution.startswith("Warm up")
        assert last.endswith(f" {number}")


def test_a_question_sheet_does_not_tell_the_answer(handout_of: HandoutOf, opened: Opened) -> None:
    """The grips of the answers stand in the key alone."""
    of_places = tuple(card for card in handout_of(WEEK).cards if card.drill == "place")
    handout = replace(handout_of(WEEK), cards=of_places, sheets=("questions",), versions=1)
    pages = texts(opened(handout_pdf(handout)))
    asked = " ".join(page for page in pages if "Questions" in page)
    key = " ".join(page for page in pages if "Answers" in page)
    (version,) = versions_of(handout.cards, 1)
    (places,) = version.drills
    for _, card in places.cards:
        grip = next(line for line in card.back.lines if line.startswith("frets ")).split(" · ")[0]
        assert grip in key
        assert grip not in asked


def test_properties_say_title_and_language_and_embed_the_face(week: bytes) -> None:
    """A screen reader is told; every font travels with the file."""
    from pypdf import PdfReader

    reader = PdfReader(io.BytesIO(week))
    assert reader.metadata is not None
    assert reader.metadata.title == "Riverside evening group, weeks 3–5: third and seventh below"
    root: Any = reader.trailer["/Root"]
    assert root["/Lang"] == "en-GB"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    fonts: Any = reader.pages[0]["/Resources"]
    for font in fonts["/Font"].values():
        descriptor = font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
        assert "/FontFile2" in descriptor


@pytest.mark.parametrize(("paper", "size_mm"), [("A4", (210, 297)), ("letter", (8.5 * 25.4, 11 * 25.4))])
def test_paper_is_as_large_as_it_says(
    handout_of: HandoutOf, opened: Opened, paper: str, size_mm: tuple[float, float]
) -> None:
    """And nothing is drawn beyond its margins: the outer 8 mm stay white."""
    document = opened(handout_pdf(handout_of(WEEK, paper)))
    for page in document:
        assert page.get_size() == pytest.approx([side / POINT_MM for side in size_mm], abs=0.1)
        picture = page.render(scale=1).to_pil().convert("L")
        edge = round(8 / POINT_MM)
        inner = (edge, edge, picture.width - edge, picture.height - edge)
        picture.paste(255, inner)
        assert picture.getextrema() == (255, 255)


def test_the_same_handout_is_the_same_bytes(handout_of: HandoutOf, week: bytes) -> None:
    """Nothing comes from the clock; the date is what the recipe says."""
    handout = handout_of(WEEK)
    assert handout_pdf(handout) == week
    assert handout_pdf(replace(handout, setting=replace(handout.setting, date="9 December"))) != week


def test_a_file_of_somebody_else_stays(handout_of: HandoutOf, tmp_path: Path) -> None:
    """A handout of ours is replaced, another PDF is not."""
    path = tmp_path / "week.pdf"
    handout = replace(handout_of(WEEK), sheets=("blank",))
    write_handout(handout, path)
    write_handout(handout, path)
    path.write_bytes(b"%PDF-1.4 somebody's")
    with pytest.raises(DrillsError, match="not written by this program"):
        write_handout(handout, path)
    assert path.read_bytes() == b"%PDF-1.4 somebody's"
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.slow
@pytest.mark.parametrize("name", shelf_names())
@pytest.mark.parametrize("paper", ["A4", "letter"])
def test_nothing_reaches_into_the_foot(handout_of: HandoutOf, opened: Opened, name: str, paper: str) -> None:
    """On every page of every recipe a strip above the foot's rule stays white, from edge to edge."""
    for page in opened(handout_pdf(handout_of(name, paper))):
        rule = page.get_height() - (16 - 3 + 8.5) / POINT_MM
        around = (0, page.get_height() - rule + 0.6 / POINT_MM, 0, rule - 2.2 / POINT_MM)
        strip = page.render(scale=2, crop=around).to_pil().convert("L")
        assert strip.width > 1_000
        assert strip.height >= 8
        assert strip.getextrema() == (255, 255)


@pytest.mark.parametrize(
    ("name", "per_page", "sheets"),
    [
        ("template", 6, ("voicings", "questions")),
        ("template", 12, ("voicings",)),
        ("template", 6, ("questions",)),
        ("seven-strings", 8, ("voicings", "overview")),
    ],
)
def test_no_words_lie_on_others(
    handout_of: HandoutOf, name: str, per_page: int, sheets: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every text ends before the next one begins, and rows keep apart; all within the margins."""
    from fpdf import FPDF

    placed: dict[int, list[tuple[float, float, float, str]]] = {}
    set_text = FPDF.text

    def noted(pdf: FPDF, x: float, y: float, text: str) -> None:
        placed.setdefault(pdf.page_no(), []).append((y, x, x + pdf.get_string_width(text), text))
        set_text(pdf, x, y, text)

    monkeypatch.setattr(FPDF, "text", noted)
    handout_pdf(replace(handout_of(name), sheets=sheets, versions=1, per_page=per_page))
    for page in placed.values():
        assert max(right for _, _, right, _ in page) < 210 - 15
        assert 297 - 15 < max(y for y, *_ in page) < 297 - 12
        for (y, x, right, text), (other_y, other_x, other_right, other) in combinations(page, 2):
            apart = abs(y - other_y) > 1.8 or right <= other_x + 0.1 or other_right <= x + 0.1
            assert apart, (text, other)


@pytest.mark.parametrize("per_page", [2, 4, 6, 8, 12])
def test_voicings_fit_however_many_share_a_page(handout_of: HandoutOf, opened: Opened, per_page: int) -> None:
    """As many as asked for stand on a page, seven strings and letter paper included; none is lost."""
    handout = handout_of("seven-strings", "letter")
    voicings = tuple({each.turn: each for each in handout.subjects}.values()) * 10
    handout = replace(handout, subjects=voicings, about="", sheets=("voicings",), per_page=per_page)
    pages = [page.count("frets ") for page in texts(opened(handout_pdf(handout)))]
    assert pages[1] == per_page
    assert sum(pages) == len(voicings)


@pytest.mark.parametrize("name", ["template", "seven-strings"])
def test_type_is_large_enough_to_be_read(
    handout_of: HandoutOf, name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """No word is asked for below 7.2 points, names and numbers of strings and frets not below 7."""
    from drills.pack.handout.pen import Pen

    sizes: dict[float, str] = {}
    set_text = Pen.text

    def noted(pen: Pen, x: float, y: float, text: str, *, size: float = 9, **more: Any) -> None:
        sizes.setdefault(round(size, 1), text)
        set_text(pen, x, y, text, size=size, **more)

    monkeypatch.setattr(Pen, "text", noted)
    handout_pdf(handout_of(name))
    assert len(sizes) > 8
    assert {size: text for size, text in sizes.items() if size < (7.2 if len(text) > 2 else 6.9)} == {}


LONG_NAMES = """
title = "long names"
keys = ["Gb"]
hand = "small"
[[voicing]]
chord = "7b9#9b13"
lower = "b7 3"
upper = "b13 b9 #9"
nickname = "Dark"
"""


@pytest.mark.parametrize("per_page", [8, 12])
def test_quiet_words_without_room_beside_a_name_stand_below(
    opened: Opened, per_page: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """They would have to be set too small to read; nothing on the page is, and nothing is cut."""
    from drills.pack.handout.pen import Pen

    sizes: dict[str, float] = {}
    fitted = Pen._fitted

    def noted(pen: Pen, *asked: Any) -> tuple[float, str]:
        size, text = fitted(pen, *asked)
        sizes[text] = size
        return size, text

    monkeypatch.setattr(Pen, "_fitted", noted)
    made = plan(parse_recipe(LONG_NAMES, source="long", default_id="long"))
    setting = Setting("long names", "A4", "", "")
    handout = Handout(setting, "", made.subjects, (), (), sheets=("voicings",), per_page=per_page)
    (page,) = texts(opened(handout_pdf(handout)))
    assert "no root · without its lowest note" in page
    assert "Dark" in page
    assert min(sizes.values()) >= 7.2


@pytest.mark.parametrize("title", ["<b>&\\(week\\)</b>", "🎸 Ελλάδα", "x" * 400, "𝄫 and 𝄪"])
def test_any_title_is_set_and_stays_on_the_page(handout_of: HandoutOf, opened: Opened, title: str) -> None:
    """Long ones are broken or cut, what the face lacks does not stop the press."""
    handout = handout_of(WEEK)
    handout = replace(handout, setting=replace(handout.setting, title=title), sheets=("blank",))
    for page in opened(handout_pdf(handout)):
        picture = page.render(scale=1).to_pil().convert("L")
        picture.paste(255, (0, 0, round(200 / POINT_MM), picture.height))
        assert picture.getextrema() == (255, 255)


def test_the_first_page_says_what_is_out_of_reach(handout_of: HandoutOf, opened: Opened) -> None:
    """Voicing and keys, as the plan told them; nothing where all can be held."""
    handout = replace(handout_of(WEEK), sheets=("voicings",))
    assert "Out of reach" not in texts(opened(handout_pdf(handout)))[0]
    told = replace(handout, out_of_reach=("m11 1 5 | b3 b7: D E",) * 60)
    pages = texts(opened(handout_pdf(told)))
    assert "Out of reach m11 1 5 | b3 b7: D E" in pages[0]
    assert sum(page.count("b3 b7: D E") for page in pages) == 60


def test_a_handout_of_questions_alone_lists_what_it_asks_about(handout_of: HandoutOf, opened: Opened) -> None:
    """A line a voicing, since none is shown; with the voicings there the list would say it twice."""
    handout = handout_of(WEEK)
    asked = texts(opened(handout_pdf(replace(handout, sheets=("questions",)))))[0]
    assert "What it asks about Bright window · 7 3 | 13 9 ♯11 △13♯11 · all twelve keys" in asked
    assert "What it asks about" not in texts(opened(handout_pdf(replace(handout, sheets=("voicings",)))))[0]


def test_keys_are_those_of_the_deck(handout_of: HandoutOf, opened: Opened) -> None:
    """Only a voicing that is there in all of them is said to be held in all twelve."""
    handout = replace(handout_of(WEEK), sheets=("voicings",))
    assert "held in all twelve keys" in texts(opened(handout_pdf(handout)))[0]
    in_two = replace(handout, subjects=handout.subjects[:2])
    told = texts(opened(handout_pdf(in_two)))[0]
    assert f"here in {in_two.subjects[0].root.shown} {in_two.subjects[1].root.shown}" in told
    assert "held in" not in told


def test_about_keeps_its_lines(handout_of: HandoutOf, opened: Opened) -> None:
    """A new line in the recipe is one on paper; an empty one does not stop the press."""
    handout = replace(handout_of(WEEK), about="one\n\ntwo", sheets=("voicings",))
    lines = opened(handout_pdf(handout))[0].get_textpage().get_text_range().splitlines()
    assert lines.index("two") == lines.index("one") + 1


def test_an_unknown_sheet_would_be_noticed() -> None:
    """The names of sheets are the ones that are written."""
    assert SHEETS == ("voicings", "questions", "overview", "blank")
    assert Handout.__dataclass_fields__["sheets"].default == ("voicings", "questions", "blank")
