"""Question sheets can be answered, and answer keys answer what is asked, with the same numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

import pytest

from drills.cards.card import Card, Face
from drills.cards.kinds import drill_names
from drills.cards.task import NeckTask
from drills.pack.handout import handout_pdf
from drills.pack.handout.answers import told
from drills.pack.handout.pen import Pen, Rgb
from drills.pack.handout.version import MOST_QUESTIONS, Version, is_on_neck, versions_of
from drills.plan import plan
from drills.recipe.read import parse_recipe, read_recipe
from drills.shapes.outline import Point

from .conftest import HandoutOf, Opened

WEEK = "weeks-03-05-third-and-seventh-below"


@pytest.fixture(scope="session")
def by_drill() -> dict[str, Card]:
    """A card of every drill: the template's, twins from a week that has them."""
    of_template = plan(replace(read_recipe("template"), ask=drill_names())).deck.cards
    return {card.drill: card for card in reversed((*of_template, *plan(read_recipe(WEEK)).deck.cards))}


def asked(version: Version) -> Iterator[tuple[int, Card]]:
    """All questions of a version."""
    for drill in version.drills:
        yield from drill.cards


def test_numbers_run_through_a_version(handout_of: HandoutOf) -> None:
    """No number stands for two questions; versions share no card where there are enough."""
    handout = handout_of(WEEK)
    one, two = versions_of(handout.cards, 2)
    assert [drill.name for drill in one.drills] == [drill.name for drill in two.drills]
    for version in (one, two):
        numbers = [number for number, _ in asked(version)]
        assert numbers == list(range(1, 1 + len(numbers)))
    for mine, theirs in zip(one.drills, two.drills, strict=True):
        available = sum(card.drill == mine.name for card in handout.cards)
        assert 1 <= len(mine.cards) <= MOST_QUESTIONS
        if available >= 2:
            assert not {card.identity for _, card in mine.cards} & {card.identity for _, card in theirs.cards}
    (only,) = versions_of(handout.cards, 1)
    assert (only.heading("Questions"), one.heading("Questions")) == ("Questions", "Questions, version A")


def test_questions_come_from_all_over_the_deck(handout_of: HandoutOf) -> None:
    """A progression of three chords is not asked about one step only, though its steps take turns."""
    (version,) = versions_of(handout_of("weeks-10-12-home-by-half-steps").cards, 1)
    steps = next(drill for drill in version.drills if drill.name == "connect")
    kinds = {card.front.ask.split(" is the nearest ")[1].lstrip("ABCDEFG♭♯") for _, card in steps.cards}
    assert len(kinds) >= 3


@pytest.mark.parametrize("available", [*range(1, 30), 100])
def test_no_card_is_asked_twice(handout_of: HandoutOf, available: int) -> None:
    """However many there are to choose from; as many are asked as may be."""
    cards = tuple(card for card in handout_of(WEEK).cards if card.drill == "place") * 3
    numbered = [replace(card, identity=str(place)) for place, card in enumerate(cards[:available])]
    (version,) = versions_of(numbered, 1)
    chosen = [card.identity for _, card in asked(version)]
    assert len(set(chosen)) == len(chosen) == min(available, MOST_QUESTIONS)


def test_what_is_heard_is_not_asked_on_paper() -> None:
    """A drill that has one card is in both versions."""
    card = Card("a", "hear", "C", "C", Face(""), Face(""))
    assert versions_of([card], 2) == ()
    both = versions_of([replace(card, drill="spot")], 2)
    assert [len(list(asked(version))) for version in both] == [1, 1]


def test_the_key_answers_exactly_what_is_asked(by_drill: dict[str, Card]) -> None:
    """Each drill in its own words: no stretch, no fingers, no remark, and nothing cut off."""
    assert set(by_drill) == set(drill_names())
    answers = {drill: told(card) for drill, card in by_drill.items() if drill != "hear"}
    for drill, answer in answers.items():
        assert answer, drill
        assert not any(word in line for line in answer for word in ("stretch", "fingers", "Warm up")), drill
        assert answer[-1].startswith("frets ") == is_on_neck(by_drill[drill]), drill
    notes = [note.name for layer in by_drill["spell"].back.notes for note in layer]
    assert [answer.replace("| ", "").split() for answer in answers["spell"]] == [notes]
    assert " is " in answers["join"][0]
    assert answers["split"][0].startswith(("on top: ", "below: "))
    assert by_drill["spot"].back.lines[:1] == tuple(answers["spot"])
    assert "→" in answers["connect"][0]
    assert len(answers["twin"]) == 1


BARE_INTERVALS = """
title = "intervals"
keys = ["E"]
[drills]
ask = ["name", "join"]
[[voicing]]
chord = "m11"
lower = "b3 11"
upper = "b7 9"
[[voicing]]
layer = "1 5 1'"
"""


def test_layers_without_a_name_of_three_notes_are_answered_too() -> None:
    """Asked "which layers?", paper takes intervals for an answer, though there are no parts to tap."""
    cards = plan(parse_recipe(BARE_INTERVALS, source="bare", default_id="bare")).deck.cards
    answers = {card.back.head: told(card) for card in cards if card.drill == "name"}
    assert answers["Em11"][:2] == ["♭7 9 · major third", "♭3 11 · major second"]
    assert answers["E perfect fifth, one note doubled"] == ["wide, root position · 1 5 1'"]
    (join,) = (card for card in cards if card.drill == "join")
    assert not any("third" in line for line in told(join))


def test_lines_to_write_on_have_room_above_them(
    by_drill: dict[str, Card], handout_of: HandoutOf, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A chord and its layers get two lines, notes one: 8 mm each, below the words and the neck."""
    drawn: list[float] = []
    draw_line = Pen.line

    def noted(pen: Pen, points: Sequence[Point], *, colour: Rgb, width: float) -> None:
        (x1, y1), *_, (x2, y2) = points or [(0.0, 0.0)] * 2
        if y1 == y2 > 30 and x2 - x1 > 60 and width == 0.25:
            drawn.append(y1)
        draw_line(pen, points, colour=colour, width=width)

    monkeypatch.setattr(Pen, "line", noted)
    for drill, count in (("name", 2), ("spell", 1)):
        drawn.clear()
        handout_pdf(replace(handout_of(WEEK), cards=(by_drill[drill],), sheets=("questions",), versions=1))
        assert len(drawn) == count
        assert [round(b - a, 3) for a, b in pairwise(drawn)] == [8.0] * (count - 1)
        assert min(drawn) > (60 if drill == "name" else 48)


def test_further_grips_count_in_the_key(handout_of: HandoutOf) -> None:
    """Where a grip lies at two places, both are right, and the key says so."""
    twice = [
        card
        for card in handout_of(WEEK).cards
        if card.quiz and isinstance(card.quiz.task, NeckTask) and len(card.quiz.task.accepts) > 1
    ]
    assert twice
    assert all(" or " in told(card)[-1] for card in twice)


def test_a_card_without_a_task_is_told_in_full(by_drill: dict[str, Card]) -> None:
    """A step that no hand holds is played in turn: the key gives its degrees."""
    card = by_drill["step"]
    assert card.quiz is not None
    back = Face("D", lines=("up", "1 | 3", "play its notes in turn"))
    assert told(replace(card, back=back, quiz=replace(card.quiz, task=None))) == list(back.lines)
    assert told(replace(card, quiz=None)) == list(card.back.lines)


def test_all_empty_necks_are_equally_long(handout_of: HandoutOf, opened: Opened) -> None:
    """A longer one would tell that its answer lies far up the neck."""
    handout = handout_of(WEEK)
    places = tuple(card for card in handout.cards if card.drill == "place")
    handout = replace(handout, cards=places, sheets=("questions",), versions=1)
    pages = [" ".join(page.get_textpage().get_text_range().split()) for page in opened(handout_pdf(handout))]
    numbers = " ".join(page for page in pages if "Questions" in page)
    (version,) = versions_of(places, 1)
    last = max(12, *(card.back.picture.last_fret for _, card in asked(version) if card.back.picture))
    assert last > 12
    assert numbers.count(" ".join(map(str, range(1, last + 1)))) == len(list(asked(version)))
    assert f" {last + 1} " not in numbers


def test_a_sheet_says_all_that_a_question_says(
    by_drill: dict[str, Card], handout_of: HandoutOf, opened: Opened
) -> None:
    """Its number, head and quiet words, its layers, its lines, and what it asks."""
    cards = tuple(card for drill, card in by_drill.items() if drill != "hear")
    handout = replace(handout_of(WEEK), cards=cards, sheets=("questions",), versions=1)
    pages = [" ".join(page.get_textpage().get_text_range().split()) for page in opened(handout_pdf(handout))]
    sheets = " ".join(page for page in pages if "Questions" in page)
    (version,) = versions_of(cards, 1)
    for number, card in asked(version):
        front = card.front
        assert f"{number} {front.head}" in sheets
        for text in (front.head_note, front.ask, *(layer.text for layer in front.layers), *front.lines):
            assert " ".join(text.replace(" · ", " ").split()) in sheets.replace(" · ", " "), (
                card.drill,
                text,
            )


def test_the_shared_question_stands_once(handout_of: HandoutOf, opened: Opened) -> None:
    """Beside the name of the drill, a page; where cards ask different things, each asks its own."""
    handout = replace(handout_of(WEEK), sheets=("questions",), versions=1)
    (version,) = versions_of(handout.cards, 1)
    asks = {drill.name: drill.ask for drill in version.drills}
    assert (asks["place"], asks["split"]) == ("Where does it lie?", "")
    pages = [page.get_textpage().get_text_range() for page in opened(handout_pdf(handout))]
    asking = [page for page in pages if page.startswith("Questions") or "Questions" in page]
    assert 2 <= sum(page.count("Where does it lie?") for page in asking) <= 2 * len(asking)
    assert sum(page.count("Which ") for page in asking) >= 6


def test_the_melody_is_completed_where_it_stands(
    by_drill: dict[str, Card], handout_of: HandoutOf, opened: Opened
) -> None:
    """The neck that shows the melody is the one to draw on; no second, empty one follows it."""
    handout = replace(handout_of(WEEK), cards=(by_drill["top"],), sheets=("questions",), versions=1)
    pages = [" ".join(page.get_textpage().get_text_range().split()) for page in opened(handout_pdf(handout))]
    (page,) = [page for page in pages if "Questions" in page]
    assert "1 2 3 4 5 6 7 8 9 10 11 12" not in page
