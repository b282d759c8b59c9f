"""A deck packed for the quiz page is small, stable, and safe inside a script element."""

from __future__ import annotations

import gzip
import json
import os
import subprocess
import sys
from dataclasses import replace
from itertools import accumulate
from pathlib import Path

import pytest

from drills.cards.card import Deck
from drills.cards.identity import short_id
from drills.pack.page_deck import FORMAT, KIND, packed_deck
from drills.plan import plan
from drills.recipe.read import parse_recipe, read_recipe
from tests.bench.bench_build import recipe_text

from .conftest import riverside

MOST_BYTES_A_CARD = 250
MOST_BYTES_A_CARD_GZIPPED = 60


@pytest.fixture(scope="module")
def two_thousand() -> Deck:
    """The deck of the build benchmark: forty voicings in twelve keys, seven drills."""
    return plan(parse_recipe(recipe_text(), source="bench.toml", default_id="bench")).deck


@pytest.fixture(scope="module")
def template() -> Deck:
    """The deck of the template, which has most drills."""
    return plan(read_recipe("template")).deck


def test_a_card_costs_few_bytes(two_thousand: Deck) -> None:
    """Within 250 bytes as text and 60 as a host sends it, ids and pads and all."""
    text, cards = packed_deck(two_thousand).encode(), len(two_thousand.cards)
    assert cards > 2000
    assert len(text) / cards <= MOST_BYTES_A_CARD
    assert len(gzip.compress(text, 9)) / cards <= MOST_BYTES_A_CARD_GZIPPED


def test_the_same_deck_gives_the_same_text_in_every_run() -> None:
    """Nothing hangs on the order of sets, which differs from run to run."""
    script = (
        "from drills.pack.page_deck import packed_deck; from drills.plan import plan; "
        "from drills.recipe.read import read_recipe; import sys; "
        "sys.stdout.buffer.write(packed_deck(plan(read_recipe('template')).deck).encode())"
    )
    root = Path(__file__).parents[2]
    texts = {
        subprocess.run(
            [sys.executable, "-c", script],
            cwd=root,
            env=os.environ | {"PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(texts) == 1


def test_it_is_json_that_says_what_it_is(template: Deck) -> None:
    """Kind and format come first, so that a page knows what it reads."""
    whole = json.loads(packed_deck(template))
    assert list(whole)[:2] == ["kind", "format"]
    assert (whole["kind"], whole["format"]) == (KIND, FORMAT) == ("layered-voicing drills", 2)
    assert whole["title"] == template.title


def test_no_text_can_leave_a_script_element(template: Deck) -> None:
    """A title of markup is escaped, and is the same title when it is read."""
    title = "</script><script>alert(1)</script><!--"
    text = packed_deck(replace(template, title=title, about=(title,)))
    assert "<" not in text
    assert json.loads(text)["title"] == title


def test_every_column_has_a_step_for_every_card_and_every_card_an_id(template: Deck) -> None:
    """Ids stand together, twelve characters each, in the order of the rows."""
    whole = json.loads(packed_deck(template))
    turns, turn = [], 0
    for step in whole["cards"]["turn"]:
        turn += step
        turns.append(turn)
    assert sorted(turns) == list(range(len(template.cards)))
    assert {len(column) for column in whole["cards"].values()} == {len(template.cards)}
    expected = [short_id(template.cards[turn].identity) for turn in turns]
    assert [whole["ids"][at : at + 12] for at in range(0, len(whole["ids"]), 12)] == expected


def test_neighbours_are_alike(template: Deck) -> None:
    """Voicing by voicing, within it drill by drill, within that in the order of the deck."""
    cards = json.loads(packed_deck(template))["cards"]
    rows = list(zip(*(accumulate(cards[name]) for name in ("voicing", "drill", "turn")), strict=True))
    assert rows == sorted(rows)
    assert rows[-1][0] > 0


def test_a_neck_of_another_make_is_told() -> None:
    """Strings, capo, frets and hand are those of the recipe."""
    recipe = parse_recipe(
        'title = "Riverside evening group"\nkeys = ["Eb"]\n\n'
        '[instrument]\ntuning = "seven strings"\ncapo = 2\nfrets = 22\nleft_handed = true\n\n'
        '[[voicing]]\nlower = "b7 3"\nupper = "13 9 #11"\n',
        source="week.toml",
        default_id="week",
    )
    assert json.loads(packed_deck(plan(recipe).deck))["instrument"] == {
        "names": ["C♯", "F♯", "B", "E", "A", "C♯", "F♯"],
        "midi": [37, 42, 47, 52, 57, 61, 66],
        "frets": 20,
        "isLeftHanded": True,
    }


def test_cards_for_packages_only_are_refused() -> None:
    """Without a task and names there is nothing that a page could ask."""
    with pytest.raises(ValueError, match="nothing for a page on the card"):
        packed_deck(riverside())
