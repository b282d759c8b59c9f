"""The handout says on paper what the deck says, in text that can be searched.

Outside checks: pypdfium2 (the PDF engine of a browser) renders pages and reads their text, pypdf their
properties.
Paper sizes: ISO 216 (A4, 210 by 297 mm) and US letter (8.5 by 11 inches).
"""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from drills.cards.answer import neck_of
from drills.cards.card import PictureSpec
from drills.errors import DrillsError
from drills.pack.handout import SHEETS, Handout, handout_pdf, write_handout
from drills.pack.handout.paper import POINT_MM
from drills.pack.handout.questions import MOST_QUESTIONS, versions_of
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


def test_questions_and_answers_have_the_same_numbers(handout_of: HandoutOf) -> None:
    """The key is dealt from the same cards, in the same order; versions share none where there are enough."""
    handout = handout_of(WEEK)
    one, two = versions_of(handout.cards, 2)
    assert [drill for drill, _ in one.drills] == [drill for drill, _ in two.drills]
    for (drill, first), (_, second) in zip(one.drills, two.drills, strict=True):
        available = sum(card.drill == drill for card in handout.cards)
        assert 1 <= len(first) <= MOST_QUESTIONS
        if available >= 2:
            assert not {card.identity for card in first} & {card.identity for card in second}
    (only,) = versions_of(handout.cards, 1)
    assert only.heading("Questions") == "Questions"


def test_a_question_sheet_does_not_tell_the_answer(handout_of: HandoutOf, opened: Opened) -> None:
    """The grips of the answers stand in the key alone."""
    of_places = tuple(card for card in handout_of(WEEK).cards if card.drill == "place")
    handout = replace(handout_of(WEEK), cards=of_places, sheets=("questions",), versions=1)
    pages = texts(opened(handout_pdf(handout)))
    asked = " ".join(page for page in pages if "Questions" in page)
    key = " ".join(page for page in pages if "Answers" in page)
    (version,) = versions_of(handout.cards, 1)
    ((_, places),) = version.drills
    for card in places:
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


def test_markers_stand_where_the_frets_are(handout_of: HandoutOf, opened: Opened) -> None:
    """Every note of a neck has its layer's colour at the place that fret and string give it."""
    from drills.pack.handout.neck import LOOKS, Neck, draw_neck
    from drills.pack.handout.paper import Paper

    handout = handout_of("weeks-08-09-leave-the-bass-out")
    for is_left_handed in (False, True):
        for subject in handout.subjects[::5]:
            paper = Paper(handout.setting)
            paper.begin_page("one neck")
            picture = replace(neck_of(subject), is_left_handed=is_left_handed)
            draw_neck(paper, picture, 30, 60, 150)
            image = opened(paper.finish())[0].render(scale=4).to_pil().convert("RGB")
            neck = Neck(picture, 30, 60, 150 / 1080)
            assert neck.fret_x(picture.last_fret) != neck.fret_x(0)
            for marker in picture.markers:
                x, y = neck.place(marker)
                beside = x - 0.72 * neck.radius * (0.78 if marker.is_root else 1)
                spot = tuple(round(at / POINT_MM * 4) for at in (beside, y))
                assert image.getpixel(spot) == LOOKS[marker.layer].fill


def test_colours_and_proportions_are_those_of_the_cards() -> None:
    """Paper and phone show one picture: the same layers' colours, the same measures."""
    from drills.draw import layout, theme
    from drills.pack.handout import neck

    assert [look.fill for look in neck.LOOKS] == [theme.LIGHT[look.fill] for look in theme.LAYERS]
    assert [look.on for look in neck.LOOKS] == [theme.LIGHT[look.text] for look in theme.LAYERS]
    assert neck.UNITS_WIDE == layout.WIDTH_PX
    ours = neck.Neck(PictureSpec(("E",) * 6, (), 3, 7), 0, 0, 1)
    theirs = layout.Layout(6, 3, 7, is_left_handed=False)
    for fret in (0, 3, 5, 7):
        assert abs(ours.fret_x(fret) - theirs.fret_x(fret)) <= 1
    assert [ours.string_y(string) for string in range(6)] == [theirs.string_y(string) for string in range(6)]


def test_layers_can_be_told_apart_in_grey() -> None:
    """A disc has no corners, a rounded square has: shape carries the layer where colour is gone."""
    from drills.pack.handout.neck import shape
    from drills.pack.handout.paper import INK, Paper, Setting

    paper = Paper(Setting("shapes", "A4", "", ""))
    paper.begin_page("shapes")
    for layer in range(3):
        shape(paper, layer, 40 + 40 * layer, 100, 10, fill=INK)
    import pypdfium2

    image = pypdfium2.PdfDocument(paper.finish())[0].render(scale=4).to_pil().convert("L")

    def is_inked(layer: int, dx: float, dy: float) -> bool:
        x, y = (40 + 40 * layer + 10 * dx) / POINT_MM * 4, (100 + 10 * dy) / POINT_MM * 4
        return bool(image.getpixel((round(x), round(y))) < 128)

    corner, lower_corner = (0.82, -0.82), (0.82, 0.82)
    assert [is_inked(layer, *corner) for layer in range(3)] == [False, True, True]
    assert [is_inked(layer, *lower_corner) for layer in range(3)] == [False, True, False]


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


@pytest.mark.parametrize("per_page", [2, 4, 6, 8, 12])
def test_voicings_fit_however_many_share_a_page(handout_of: HandoutOf, opened: Opened, per_page: int) -> None:
    """The last line of every voicing stands above the foot, seven strings and letter paper included."""
    handout = replace(handout_of("seven-strings", "letter"), sheets=("voicings",), per_page=per_page)
    handout = replace(handout, subjects=handout.subjects * 5)
    document = opened(handout_pdf(handout))
    for page in list(document)[1:]:
        text = page.get_textpage()
        lines = [text.get_rect(n) for n in range(text.count_rects())]
        foot_top = min(top for _, _, _, top in lines if top < 45 / POINT_MM / 2) if lines else 0
        body = [bottom for _, bottom, _, _ in lines if bottom > foot_top]
        assert min(body) - foot_top > 2


@pytest.mark.parametrize("title", ["<b>&\\(week\\)</b>", "🎸 Ελλάδα", "x" * 400, "𝄫 and 𝄪"])
def test_any_title_is_set_and_stays_on_the_page(handout_of: HandoutOf, opened: Opened, title: str) -> None:
    """Long ones are cut, what the face lacks does not stop the press."""
    handout = handout_of(WEEK)
    handout = replace(handout, setting=replace(handout.setting, title=title), sheets=("blank",))
    (page, *_) = opened(handout_pdf(handout))
    picture = page.render(scale=1).to_pil().convert("L")
    picture.paste(255, (0, 0, round(200 / POINT_MM), picture.height))
    assert picture.getextrema() == (255, 255)


def test_an_unknown_sheet_would_be_noticed() -> None:
    """The names of sheets are the ones that are written."""
    assert SHEETS == ("voicings", "questions", "overview", "blank")
    assert Handout.__dataclass_fields__["sheets"].default == ("voicings", "questions", "blank")
