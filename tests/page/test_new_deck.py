"""Another deck on the same site: progress goes on with every card that asks the same."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from drills.cards.card import Deck
from drills.pack.page import page_of, write_folder

from .conftest import Served
from .student import (
    deck_of,
    ids,
    is_over,
    judge,
    kept,
    opened,
    press,
    save_progress,
    to_play,
)

if TYPE_CHECKING:
    from playwright.sync_api import BrowserContext, Page

pytestmark = pytest.mark.slow

HEAD = """
title = "{title}"
keys = ["C", "F"]
[drills]
ask = ["place"]
[pace]
fresh_per_day = 9
"""
NAMED = """
[[voicing]]
id = "opening"
chord = "{chord}"
lower = "b7 3"
upper = "{upper}"
"""
PLAIN = """
[[voicing]]
chord = "maj13#11"
lower = "7 3"
upper = "13 9 #11"
"""
GONE = """
[[voicing]]
chord = "m11"
lower = "5 b3"
upper = "11 b7 9"
"""
ADDED = """
[[voicing]]
chord = "m9"
lower = "b3 b7"
upper = "9 5 1"
"""


def deck(title: str, *voicings: str) -> Deck:
    """A deck of voicings in two keys, one drill."""
    return deck_of(HEAD.format(title=title) + "".join(voicings))


WEEK = deck("Week 3", NAMED.format(chord="13#11", upper="13 9 #11"), PLAIN, GONE)
CORRECTED = deck("Week 3, corrected", NAMED.format(chord="13", upper="13 9 5"), PLAIN, ADDED)
NEXT_WEEK = deck("Week 4", ADDED, PLAIN, GONE)


def played(page: Page) -> None:
    """All that today asks."""
    press(page, "Play")
    while not is_over(page):
        judge(page, 4)
    press(page, "Home")


def only(deck: Deck, other: Deck) -> set[str]:
    """Cards that the other deck does not have."""
    return set(ids(deck)) - set(ids(other))


def test_a_corrected_deck_goes_on_where_the_old_one_stopped(
    phone: BrowserContext, served: Served, tmp_path: Path
) -> None:
    """A voicing corrected under its id, one added, one gone, a new title: what is asked alike stays known."""
    assert len(only(CORRECTED, WEEK)) == len(only(WEEK, CORRECTED)) == 2
    site = tmp_path / "week"
    write_folder(page_of(WEEK), site)
    address = served(site)
    page = opened(phone, address)
    played(page)
    before = kept(page)
    assert set(before.memories) == set(ids(WEEK))

    write_folder(page_of(CORRECTED), site)
    page.evaluate("async () => (await navigator.serviceWorker.getRegistration()).update()")
    press(page, "Go over to it")
    page.get_by_role("heading", name="Week 3, corrected").wait_for()
    assert to_play(page) == 2
    played(page)
    after = kept(page)
    assert set(after.memories) == set(ids(WEEK)) | set(ids(CORRECTED))
    assert {card: after.memories[card] for card in ids(WEEK)} == before.memories
    file = json.loads(save_progress(page, tmp_path / "progress.json").read_text(encoding="utf-8"))
    assert only(WEEK, CORRECTED) < set(file["cards"])
    assert file["cards"] == after.journal


def test_next_weeks_deck_goes_on_where_this_weeks_stopped(
    phone: BrowserContext, served: Served, tmp_path: Path
) -> None:
    """Beside the other one on the same site: cards that both hold are known already."""
    for name, each in (("week-03", CORRECTED), ("week-04", NEXT_WEEK)):
        write_folder(page_of(each), tmp_path / name)
    address = served(tmp_path)
    page = opened(phone, f"{address}week-03/")
    played(page)
    known = kept(page).memories
    page.close()
    page = opened(phone, f"{address}week-04/")
    assert page.get_by_role("heading", level=1).inner_text() == "Week 4"
    assert to_play(page) == len(only(NEXT_WEEK, CORRECTED)) == 2
    assert kept(page).memories == known
