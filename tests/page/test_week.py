"""Whole weeks, played by touch on a phone whose clock we set, beside what should have come.

Outside check: the Python library `fsrs`, fed with the same marks at the same moments (see reference.py), says
what is known of every card and on which day it comes back; the store is read past the page's own code.
"""

from __future__ import annotations

import json
import random
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

import pytest

from drills.cards.card import Deck

from .conftest import NewPhone, Quiz
from .reference import DAY_MS, Reference, reference_for
from .student import (
    chosen_mark,
    deck_of,
    ids,
    is_over,
    judge,
    kept,
    opened,
    press,
    read_progress,
    shown,
    tap_grip,
    tap_names,
    to_play,
)

if TYPE_CHECKING:
    from playwright.sync_api import BrowserContext, Page

pytestmark = pytest.mark.slow

RECIPE = """
title = "Riverside evening group"
keys = ["C", "F", "Bb", "Eb"]

[[voicing]]
chord = "13#11"
lower = "b7 3"
upper = "13 9 #11"

[[voicing]]
chord = "maj13#11"
lower = "7 3"
upper = "13 9 #11"

[drills]
ask = ["place", "name", "spell", "spot", "layer"]

[pace]
fresh_per_day = 4
target_recall = 0.88
"""

BERLIN = ZoneInfo("Europe/Berlin")
"""Clocks there go from 2:00 to 3:00 on 2027-03-28, within the week that is played."""
START_HOUR = 4
MOST_OF_A_DAY = 30
"""Or ten times the fresh ones, when these are more."""


@pytest.fixture(scope="session")
def deck() -> Deck:
    """Forty cards, five drills."""
    return deck_of(RECIPE)


@pytest.fixture(scope="session")
def reference(checkout: Path, deck: Deck) -> Reference:
    """The outside check, with our spread and our chance in place of its own."""
    return reference_for(deck, checkout / "drills/page")


def local_ms(day: datetime, hour: int, minute: int = 0) -> int:
    """A moment by the clock on the wall, in ms."""
    return round(datetime(day.year, day.month, day.day, hour, minute, tzinfo=BERLIN).timestamp() * 1000)


def set_clock(phone: BrowserContext, when_ms: int) -> None:
    """The phone's clock stands at a moment until it is set anew; timers run on."""
    phone.clock.set_fixed_time(datetime.fromtimestamp(when_ms // 1000, UTC))


class Expected:
    """What the days should ask, from the marks given so far, by the reference."""

    def __init__(self, deck: Deck, reference: Reference, fresh_per_day: int) -> None:
        self.cards = ids(deck)
        self.fresh_per_day = fresh_per_day
        self.reference = reference
        self.memories: dict[str, dict[str, Any]] = {}

    def take(self, histories: dict[str, list[tuple[int, int]]]) -> None:
        """Takes in all marks so far."""
        self.memories = {card: self.reference.memory(card, marks) for card, marks in histories.items()}

    def asked(self, day: datetime) -> set[str]:
        """The cards of a day that has not begun to be played."""
        end = local_ms(day + timedelta(days=1), START_HOUR)
        due = {card for card, memory in self.memories.items() if memory["due"] < end}
        unseen = [card for card in self.cards if card not in self.memories]
        return due | set(unseen[: self.fresh_per_day])


def play_day(
    page: Page, phone: BrowserContext, deck: Deck, when_ms: int, dice: random.Random
) -> list[tuple[int, int]]:
    """Plays until nothing is left; gives the marks and their moments."""
    given = []
    press(page, "Play")
    while not is_over(page):
        when_ms += 1000 * dice.randrange(7, 60)
        set_clock(phone, when_ms)
        given.append((when_ms, play_card(page, deck, dice)))
    return given


def play_card(page: Page, deck: Deck, dice: random.Random) -> int:
    """Judges a card, or answers it, rightly or not, and takes the mark that is proposed."""
    drill = page.locator(".top p").inner_text().split(" · ")[0]
    if drill not in {"place", "spell"} or dice.random() < 0.4:
        mark = dice.choices([1, 2, 3, 4], [15, 15, 45, 25])[0]
        judge(page, mark)
        return mark
    card, is_right = shown(page, deck), drill == "spell" or dice.random() < 0.7
    if drill == "spell":
        tap_names(page, card)
    else:
        tap_grip(page, card, frets_off=0 if is_right else 1)
    press(page, "Check")
    mark = chosen_mark(page)
    assert (mark > 1) == is_right
    press(page, "Next")
    return mark


def test_a_week_a_holiday_and_what_comes_after(
    new_phone: NewPhone, quiz_of: Callable[[Deck], Quiz], deck: Deck, reference: Reference
) -> None:
    """Seven evenings, two weeks away, one more: each day's count and cards, and every card's memory."""
    phone = new_phone(timezone_id="Europe/Berlin")
    dice = random.Random(7)
    expected = Expected(deck, reference, deck.fresh_per_day)
    address = quiz_of(deck).file.as_uri()
    first = datetime(2027, 3, 25, tzinfo=BERLIN)
    given: list[tuple[int, int]] = []
    for day in [first + timedelta(days=ahead) for ahead in (*range(7), 21)]:
        set_clock(phone, local_ms(day, 18, 30))
        page = opened(phone, address)
        asked = expected.asked(day)
        assert to_play(page) == len(asked), day
        today = play_day(page, phone, deck, local_ms(day, 18, 30), dice)
        given += today
        found = kept(page)
        assert found.marks() == given
        histories = found.histories()
        assert {card for card, marks in histories.items() if marks[-1][1] >= today[0][0]} == asked, day
        expected.take(histories)
        assert found.memories == expected.memories, day
        tomorrow = len(expected.asked(day + timedelta(days=1)))
        coming = page.locator(".coming").inner_text()
        assert coming.startswith(f"Tomorrow: {tomorrow} card" if tomorrow else "In "), day
        page.close()
    assert len(given) > 80


def test_a_new_day_starts_at_the_hour_that_is_set(
    new_phone: NewPhone, quiz_of: Callable[[Deck], Quiz], deck: Deck
) -> None:
    """Just before it the evening is still going on; set later, the night is longer."""
    phone = new_phone(timezone_id="Europe/Berlin")
    evening = datetime(2027, 3, 27, tzinfo=BERLIN)
    morning = evening + timedelta(days=1)  # after a night of one hour less
    set_clock(phone, local_ms(evening, 23, 50))
    page = opened(phone, quiz_of(deck).file.as_uri())
    press(page, "Play")
    while not is_over(page):
        judge(page, 4)
    press(page, "Home")

    def at(hour: int, minute: int) -> int:
        set_clock(phone, local_ms(morning, hour, minute))
        page.reload()
        page.locator(".today").wait_for()
        return to_play(page)

    assert (at(3, 59), at(4, 0)) == (0, deck.fresh_per_day)
    press(page, "Settings")
    page.get_by_role("combobox", name="A new day").select_option("6")
    press(page, "Home")
    assert to_play(page) == 0
    assert (at(5, 59), at(6, 0)) == (0, deck.fresh_per_day)


def settled_long_ago(deck: Deck, now_ms: int) -> dict[str, list[tuple[int, int]]]:
    """Marks of a student who settled every card three weeks ago or longer, no two on the same day."""
    dice = random.Random(3)
    days = dice.sample(range(21, 120), len(deck.cards))
    firsts = [(dice.choice([1, 2, 3]), now_ms - ago * DAY_MS) for ago in days]
    return {
        card: [first, (3, first[1] + 700_000), (3, first[1] + 1_400_000)]
        for card, first in zip(ids(deck), firsts, strict=True)
    }


def progress_file(histories: dict[str, list[tuple[int, int]]], target_recall: float) -> bytes:
    """Marks as a progress file; its form stands in drills/page/memory/journal.js."""
    cards = {
        card: [[f"review{nth:02}", when, mark, 3000, target_recall] for nth, (mark, when) in enumerate(marks)]
        for card, marks in histories.items()
    }
    head = {"format": "layered-voicing drills progress", "version": 1, "saved": 0, "student": ""}
    return json.dumps(head | {"count": sum(map(len, cards.values())), "cards": cards}).encode()


def test_a_pile_comes_over_several_days(
    phone: BrowserContext, quiz_of: Callable[[Deck], Quiz], deck: Deck, reference: Reference
) -> None:
    """Of all that waits, the cards least likely to be known come first; the page says how many come later."""
    today = datetime(2027, 5, 3, tzinfo=BERLIN)
    now_ms = local_ms(today, 18, 30)
    histories = settled_long_ago(deck, now_ms)
    set_clock(phone, now_ms)
    page = opened(phone, quiz_of(deck).file.as_uri())
    assert read_progress(page, progress_file(histories, deck.target_recall)).startswith(
        "111 new reviews of 37 cards"
    )
    expected = Expected(deck, reference, 3)
    expected.take(histories)
    assert kept(page).memories == expected.memories
    assert len(expected.asked(today)) == len(deck.cards) == MOST_OF_A_DAY + 7
    assert to_play(page) == len(deck.cards)  # four new ones a day let forty come
    set_fresh_per_day(page, 3)
    assert to_play(page) == MOST_OF_A_DAY
    assert "7 more wait; the coming days bring them" in page.locator(".today").inner_text()

    press(page, "Play")
    while not is_over(page):
        judge(page, 4)
    found = kept(page).histories()
    played = {card for card, marks in found.items() if marks[-1][1] == now_ms}
    known_least = sorted(histories, key=lambda card: reference.recall(histories[card], now_ms))
    assert played == set(known_least[:MOST_OF_A_DAY])
    expected.take(found)
    set_clock(phone, now_ms + DAY_MS)
    press(page, "Home")
    assert to_play(page) == len(expected.asked(today + timedelta(days=1))) >= 7


def set_fresh_per_day(page: Page, count: int) -> None:
    """From home and back."""
    press(page, "Settings")
    page.get_by_role("radio", name="my own number").tap()
    page.get_by_role("spinbutton", name="Fresh cards").fill(str(count))
    press(page, "Home")
