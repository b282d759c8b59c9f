"""deck.js gives back what was packed."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from drills.cards.card import Deck
from drills.cards.task import ChoiceTask
from drills.pack.page_deck import packed_deck
from drills.recipe.shelf import shelf_names

from .decoded import decoded

HARNESS = """
const CARD = ["id", "drill", "key", "voicing", "isLayer", "front", "back", "task", "sound", "names"];
const plain = (name, value) => (value === undefined ? "(undefined)" : value);
const written = (card) => Object.fromEntries(CARD.map((name) => [name, card[name]]));
globalThis.whole = (packed) => {
  const deck = unpack(packed);
  return JSON.stringify({ ...deck, cards: deck.cards.map(written) }, plain);
};
globalThis.codeOf = (packed) => {
  try { unpack(packed); } catch (error) { return [error instanceof Error, error.code].join(" "); }
};
globalThis.isReadOnce = (packed) => {
  const [card] = unpack(packed).cards;
  return ["front", "back", "task", "sound", "names"].every((name) => card[name] === card[name]);
};
"""


@pytest.fixture(scope="module")
def run(checkout: Path) -> Callable[[str, str], Any]:
    """Calls a function of the harness with a packed deck."""
    import quickjs

    context = quickjs.Context()
    context.module((checkout / "drills/page/deck.js").read_text(encoding="utf-8") + HARNESS)
    return lambda name, packed: context.get(name)(packed)


@pytest.mark.parametrize("name", shelf_names())
def test_every_deck_of_the_shelf_comes_back_whole(
    run: Callable[[str, str], Any], shelf_deck: Callable[[str], Deck], name: str
) -> None:
    """Unpacked, a deck equals its cards to the last name, in their order."""
    deck = shelf_deck(name)
    assert json.loads(run("whole", packed_deck(deck))) == decoded(deck)


def test_a_title_of_markup_and_of_our_own_signs_comes_back_as_it_was(
    run: Callable[[str, str], Any], shelf_deck: Callable[[str], Deck]
) -> None:
    """What a recipe's author writes is text, whatever it holds."""
    deck = shelf_deck("seven-strings")
    odd = '~A♭~ </script><!-- \\u003c "{{B}}" \u2028 ~'
    card = deck.cards[0]
    card = replace(card, back=replace(card.back, lines=(odd, *card.back.lines), head_note=odd))
    deck = replace(deck, title=odd, about=(odd,), cards=(card, *deck.cards[1:]))
    assert json.loads(run("whole", packed_deck(deck))) == decoded(deck)


def test_every_look_of_a_marker_comes_back(
    run: Callable[[str, str], Any], shelf_deck: Callable[[str], Deck]
) -> None:
    """The root, the asked and the doubled note, each by itself."""
    deck = shelf_deck("seven-strings")
    card = next(card for card in deck.cards if card.back.picture is not None)
    assert card.back.picture is not None
    markers = [
        replace(marker, is_root=place == 0, is_asked=place == 1, is_doubled=place == 2)
        for place, marker in enumerate(card.back.picture.markers)
    ]
    picture = replace(card.back.picture, markers=tuple(markers))
    deck = replace(deck, cards=(replace(card, back=replace(card.back, picture=picture)),))
    back = json.loads(run("whole", packed_deck(deck)))
    assert back["cards"] == decoded(deck)["cards"]
    shown = back["cards"][0]["back"]["picture"]["markers"]
    assert [[marker[name] for name in ("isRoot", "isAsked", "isDoubled")] for marker in shown[:3]] == [
        [True, False, False],
        [False, True, False],
        [False, False, True],
    ]


def test_a_choice_and_a_card_without_a_task_come_back(
    run: Callable[[str, str], Any], shelf_deck: Callable[[str], Deck]
) -> None:
    """The two kinds that no deck of the shelf has."""
    deck = shelf_deck("seven-strings")
    first, second, *rest = deck.cards
    assert first.quiz is not None
    assert second.quiz is not None
    choice = replace(first, quiz=replace(first.quiz, task=ChoiceTask(("13♯11", "m11"), 1)))
    judged = replace(second, quiz=replace(second.quiz, task=None))
    deck = replace(deck, cards=(choice, judged, *rest))
    back = json.loads(run("whole", packed_deck(deck)))
    assert back == decoded(deck)
    assert [card["task"] for card in back["cards"][:2]] == [
        {"kind": "choice", "options": ["13♯11", "m11"], "right": 1},
        None,
    ]


def test_a_card_is_read_once(run: Callable[[str, str], Any], shelf_deck: Callable[[str], Deck]) -> None:
    """Asked again, a card gives the very same objects."""
    assert run("isReadOnce", packed_deck(shelf_deck("seven-strings")))


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "foreign"),
        ('{"kind": ', "foreign"),
        ("null", "foreign"),
        ('{"format": 1}', "foreign"),
        ('{"kind": "layered-voicing drills", "format": 3}', "newer"),
    ],
)
def test_what_is_no_deck_of_this_page_is_refused_by_its_kind(
    run: Callable[[str, str], Any], text: str, code: str
) -> None:
    """A text of another make, and a deck of a later make, each have their code."""
    assert run("codeOf", text) == f"true {code}"
