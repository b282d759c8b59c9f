"""The two sides of a card: every text shown as it is, pictures told in words, a look that can be read.

Outside checks: `html.parser` reads what we write; contrast is reckoned as W3C's WCAG 2.2 defines it (relative
luminance and contrast ratio, success criterion 1.4.3: 4.5 to 1 for text; from memory).
"""

from __future__ import annotations

import re
from dataclasses import replace
from hashlib import sha256
from html.parser import HTMLParser

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.cards.card import Card, Face, LayerLine, Marker, PictureSpec
from drills.draw import theme
from drills.pack.apkg import ANSWER, LOOK_EDITION, QUESTION
from drills.pack.faces import answer_html, describe, markup, one_line, question_html, stylesheet

from .conftest import SIX, card, neck

PAIR = ("day.png", "night.png")
VOID = {"img"}

THREE_LAYERS = PictureSpec(
    ("B", *SIX),
    (Marker(0, 0, 0, "1", is_root=True), Marker(1, 7, 2, "7"), Marker(3, 8, 1, "♯11", is_doubled=True)),
    5,
    9,
    muted=(2, 6),
)
PICTURES = [
    pytest.param(
        neck(),
        "Neck from fret 3 to fret 7. Lower layer: string 5 fret 4 (♭7), string 4 fret 5 (3). Upper layer: "
        "string 3 fret 5 (13), string 2 fret 6 (9), string 1 fret 5 (♯11). Not played: string 6.",
        id="two-layers",
    ),
    pytest.param(
        replace(THREE_LAYERS, is_left_handed=True),
        "Neck from fret 5 to fret 9. Lower layer: string 7 open (1, root). Middle layer: string 6 fret 7 (7)."
        " Upper layer: string 4 fret 8 (♯11, doubled). Not played: strings 1, 5.",
        id="three-layers-on-seven-strings",
    ),
    pytest.param(
        PictureSpec(SIX, (Marker(3, 2, 0, "1", is_root=True), Marker(4, 1, 0, "♭3")), 1, 4),
        "Neck from the nut to fret 4. Notes: string 3 fret 2 (1, root), string 2 fret 1 (♭3).",
        id="a-single-layer",
    ),
    pytest.param(
        PictureSpec(SIX, (Marker(0, 3, 0, is_root=True, is_doubled=True), Marker(1, 2, 1)), 1, 4),
        "Neck from the nut to fret 4. Lower layer: string 6 fret 3 (root, doubled). "
        "Upper layer: string 5 fret 2.",
        id="degrees-hidden",
    ),
    pytest.param(
        PictureSpec(SIX, (Marker(5, 3, 1, "♯11", is_root=True, is_asked=True, is_doubled=True),), 1, 4),
        "Neck from the nut to fret 4. Upper layer: string 1 fret 3 (asked).",
        id="asked",
    ),
    pytest.param(PictureSpec(SIX, (), 1, 4), "Neck from the nut to fret 4.", id="bare-neck"),
]


class Reading(HTMLParser):
    """What a reader makes of HTML: its text, its tags, and whether every tag is closed in turn."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.text = ""
        self.tags: list[str] = []
        self.attributes: list[dict[str, str | None]] = []
        self.open: list[str] = []
        self.feed(html)
        self.close()
        assert not self.open, self.open

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Notes a tag."""
        self.tags.append(tag)
        self.attributes.append(dict(attrs))
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        """Sees that it closes the last one."""
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        """Gathers text."""
        self.text += data

    def images(self) -> list[dict[str, str | None]]:
        """The attributes of all pictures."""
        return [each for tag, each in zip(self.tags, self.attributes, strict=True) if tag == "img"]


# --- text --------------------------------------------------------------------------------------


@given(st.text(st.characters(exclude_categories=["Cs"], exclude_characters="𝄫𝄪"), max_size=60))
def test_any_text_is_shown_as_it_is(text: str) -> None:
    """What another parser reads is the text, control characters made blanks, and not one tag."""
    reading = Reading(markup(text))
    assert reading.tags == []
    assert reading.text == re.sub(r"[\x00-\x1f\x7f-\x9f\u2028\u2029]", " ", text)


@given(st.text(st.sampled_from("{}[]<>&\"'cd1:$! "), max_size=30))
def test_no_text_is_taken_for_a_template_or_a_sound(text: str) -> None:
    """Neither braces nor brackets reach the reader as such."""
    assert not re.search(r"[{}\[\]<>\"']", markup(text))


@given(st.text(max_size=60))
def test_one_line_is_one_line(text: str) -> None:
    """Nothing is left that breaks a line or cannot be written; doing it twice changes nothing."""
    line = one_line(text)
    line.encode()
    assert len(line.splitlines()) <= 1
    assert one_line(line) == line == line.strip()


@pytest.mark.parametrize(
    ("text", "shown", "said"),
    [
        pytest.param("E𝄫", "E♭♭", "double flat", id="double-flat"),
        pytest.param("F𝄪", "F\N{MULTIPLICATION SIGN}", "double sharp", id="double-sharp"),
    ],
)
def test_signs_that_few_fonts_have_are_put_together(text: str, shown: str, said: str) -> None:
    """They look right on any phone, and a screen reader says what they are."""
    reading = Reading(markup(text))
    assert reading.text == shown
    assert reading.attributes == [{"class": "rare", "role": "img", "aria-label": said}]


# --- sides -------------------------------------------------------------------------------------


def lines_of(html: str) -> list[str]:
    """The texts of a side in reading order, pictures as [picture]."""
    html = re.sub(r"<img class=\"day\"[^>]*>", "[picture]", html)
    return [line for line in Reading(html).text.split("\n") if line]


def test_a_question_reads_from_the_drill_to_the_neck() -> None:
    """Drill, chord, quiet word, layers, facts, question, picture."""
    assert lines_of(question_html(card("spot", "E♭"), PAIR)) == [
        "spot",
        "E♭13♯11",
        "no root",
        "major triad, close · 13 9 ♯11",
        "♭7 and 3",
        "strings 5 to 1",
        "Which degree is missing?",
        "[picture]",
    ]
    assert "<img" not in question_html(card("place", "E♭"), None)


def test_an_answer_reads_from_the_reminder_to_the_facts() -> None:
    """What was asked is repeated small, then chord, layers, picture, facts."""
    assert lines_of(answer_html(card("spot", "E♭", head="over E♭"), PAIR)) == [
        "spot · over E♭ · Which degree is missing?",
        "E♭13♯11",
        "major triad, close · 13 9 ♯11",
        "♭7 and 3",
        "[picture]",
        "D♭ G | C F A",
        "stretch 56 mm",
    ]


def test_a_reminder_does_not_repeat_the_chord_that_stands_below_it() -> None:
    """Only a head of its own is worth repeating."""
    assert lines_of(answer_html(card("place", "E♭"), PAIR))[:2] == ["place · Where does it lie?", "E♭13♯11"]


def test_an_empty_side_still_names_its_drill() -> None:
    """A side without words is no empty field, which readers would drop."""
    empty = Card("x", "place", "C", "C", Face(""), Face(""))
    assert lines_of(question_html(empty, None)) == lines_of(answer_html(empty, None)) == ["place"]


@pytest.mark.parametrize("role", ["lower", "middle", "upper", "single"])
def test_a_layer_line_wears_its_marker(role: str) -> None:
    """The class names the role, and the stylesheet has a shape and a colour for it."""
    face = Face("C", layers=(LayerLine(role, "C major triad"),))  # type: ignore[arg-type]
    html = question_html(replace(card("place", "C"), front=face), None)
    assert f'<li class="{role}">C major triad</li>' in html


def test_both_pictures_say_the_same() -> None:
    """Day and night, with the same words for who cannot see them."""
    images = Reading(answer_html(card("place", "E♭"), PAIR)).images()
    assert [(image["class"], image["src"]) for image in images] == [
        ("day", "day.png"),
        ("night", "night.png"),
    ]
    assert {image["alt"] for image in images} == {describe(neck())}


@pytest.mark.parametrize(("picture", "words"), PICTURES)
def test_a_picture_is_told_in_words(picture: PictureSpec, words: str) -> None:
    """Strings are counted as guitarists count them: 1 is the highest."""
    assert describe(picture) == words


@given(st.integers(1, 5))
def test_the_words_for_a_picture_do_not_tell_the_asked_degree(asked: int) -> None:
    """Even if the card were to leave it in."""
    markers = [
        replace(marker, is_asked=marker.string == asked, text=f"<{marker.string}>")
        for marker in neck().markers
    ]
    words = describe(replace(neck(), markers=tuple(markers)))
    assert words.count("(asked)") == 1
    assert f"<{asked}>" not in words
    assert all(f"<{marker.string}>" in words for marker in markers if not marker.is_asked)


# --- the look ----------------------------------------------------------------------------------


def luminance(colour: str) -> float:
    """WCAG's relative luminance of #RRGGBB."""
    parts = [value / 255 for value in bytes.fromhex(colour.removeprefix("#"))]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return sum(weight * part for weight, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def contrast(one: str, other: str) -> float:
    """WCAG's contrast ratio."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def palettes() -> list[dict[str, str]]:
    """The colours of each rule of the stylesheet that sets the ground: by day, by night twice."""
    rules = re.findall(r"\{([^{}]*--ground[^{}]*)\}", stylesheet())
    return [dict(re.findall(r"--(\w+): (#[0-9A-F]{6})", rule)) for rule in rules]


def hexadecimal(rgb: theme.Rgb) -> str:
    """A colour of the neck picture as the stylesheet writes it."""
    return f"#{bytes(rgb).hex().upper()}"


def test_contrast_is_reckoned_as_defined() -> None:
    """Black on white is 21 to 1 and #767676 the lightest grey that passes on white (WCAG, from memory)."""
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)
    assert contrast("#767676", "#FFFFFF") >= 4.5 > contrast("#777777", "#FFFFFF")


def test_night_is_one_night() -> None:
    """Whether the system or the reader says that it is dark, the colours are the same."""
    _, system, reader = palettes()
    assert system == reader


def test_the_query_and_both_classes_turn_the_card_and_the_picture() -> None:
    """The classes are those of the open format."""
    css = stylesheet()
    assert css.count("@media (prefers-color-scheme: dark)") == 2
    for night in (".nightMode", ".night_mode"):
        assert f"{night}.card, {night} .card" in css
        assert f"{night} .face .day" in css
        assert f"{night} .face .night" in css


@pytest.mark.parametrize("text", ["ink", "quiet"])
def test_text_stands_out_from_the_ground(text: str) -> None:
    """At least 4.5 to 1 by day and by night."""
    for palette in palettes():
        assert contrast(palette[text], palette["ground"]) >= 4.5


def test_cards_and_necks_share_their_colours() -> None:
    """The picture's ground is the card's, and a layer's legend has that layer's colour."""
    day, night, _ = palettes()
    for palette, drawn in ((day, theme.LIGHT), (night, theme.DARK)):
        assert palette["ground"] == hexadecimal(drawn[theme.GROUND])
        assert palette["ink"] == hexadecimal(drawn[theme.INK])
        assert palette["quiet"] == hexadecimal(drawn[theme.QUIET])
    fills = [hexadecimal(theme.LIGHT[layer.fill]) for layer in theme.LAYERS]
    assert [day["lower"], day["upper"], day["middle"]] == fills


def test_no_text_is_too_small_for_a_phone() -> None:
    """15 px at least (common practice, no source)."""
    sizes = [int(size) for size in re.findall(r"font(?:-size)?: (\d+)px", stylesheet())]
    assert len(sizes) >= 7
    assert min(sizes) >= 15


def test_nothing_is_fetched_and_nothing_runs() -> None:
    """Cards work offline: fonts are in the stylesheet, and there is no script."""
    whole = stylesheet() + QUESTION + ANSWER + answer_html(card("place", "E♭"), PAIR)
    assert set(re.findall(r"url\((.{5})", whole)) == {"data:"}
    for word in ("<script", "javascript:", "http", "@import", "expression("):
        assert word not in whole


def test_a_changed_look_has_a_new_edition() -> None:
    """Readers take a new look only if it is newer: with the look change its edition and these figures."""
    look = sha256((stylesheet() + QUESTION + ANSWER).encode()).hexdigest()[:12]
    assert (LOOK_EDITION, look) == (2, "1b0002166ca6")
