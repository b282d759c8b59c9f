"""Progress leaves a phone as one file and comes back from it, and a bad file takes nothing away."""

from __future__ import annotations

import json
import random
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from drills.cards.card import Deck

from .conftest import Quiz, Served
from .student import (
    is_over,
    judge,
    kept,
    opened,
    press,
    read_progress,
    save_progress,
    to_play,
)

if TYPE_CHECKING:
    from playwright.sync_api import BrowserContext, Page

pytestmark = pytest.mark.slow


@pytest.fixture
def page(
    phone: BrowserContext,
    quiz_of: Callable[[Deck], Quiz],
    shelf_deck: Callable[[str], Deck],
    served: Served,
    clock_at: Callable[[BrowserContext, str], None],
) -> Page:
    """At home, after two evenings, the second broken off; one mark was taken back."""
    dice = random.Random(4)
    address = served(quiz_of(shelf_deck("weeks-01-02-one-layer")).folder)
    clock_at(phone, "2027-01-04 18:30")
    page = opened(phone, address)
    press(page, "Play")
    while not is_over(page):
        judge(page, dice.choice([1, 3, 3, 4, 4]))
    press(page, "Home")
    clock_at(phone, "2027-01-05 18:30")
    page.reload()
    press(page, "Play")
    for _ in range(3):
        judge(page, dice.choice([3, 4]))
    press(page, "Undo the mark")
    press(page, "Next")
    press(page, "Home")
    return page


def standing(page: Page) -> tuple[int, list[str]]:
    """Today's count, and every table and picture of where the student stands, as it is read out."""
    count = to_play(page)
    press(page, "Where you are, in full")
    tables = page.get_by_role("table").all_text_contents()
    bars = [bar.get_attribute("aria-label") or "" for bar in page.get_by_role("img").all()]
    press(page, "Home")
    return count, tables + bars


def clear_site(phone: BrowserContext, page: Page) -> None:
    """What the browser's own button does: nothing of the site is left."""
    origin = {"origin": page.evaluate("origin"), "storageTypes": "all"}
    phone.new_cdp_session(page).send("Storage.clearDataForOrigin", origin)
    page.reload()
    page.get_by_role("button", name="Help").wait_for()


def test_a_phone_that_was_wiped_is_itself_again(phone: BrowserContext, page: Page, tmp_path: Path) -> None:
    """Counts, pictures, due moments and every record, out of the file alone."""
    before, shown_before = kept(page), standing(page)
    file = save_progress(page, tmp_path / "progress.json")
    clear_site(phone, page)
    assert kept(page).memories == {}
    assert standing(page) != shown_before
    said = read_progress(page, file)
    records = sum(map(len, before.journal.values()))
    assert said.startswith(f"{records} new reviews of {len(before.journal)} cards")
    assert kept(page) == before
    assert standing(page) == shown_before
    assert read_progress(page, file).startswith(f"Nothing new: {records} reviews were here already.")
    assert kept(page) == before
    again = save_progress(page, tmp_path / "again.json")
    stamp = json.loads(file.read_text())["saved"]
    assert json.loads(again.read_text()) | {"saved": stamp} == json.loads(file.read_text())


def test_a_bad_file_is_told_and_takes_nothing_away(page: Page, tmp_path: Path) -> None:
    """Foreign, newer, damaged and huge ones; of a file that was cut off, what is whole is taken."""
    before, shown_before = kept(page), standing(page)
    text = save_progress(page, tmp_path / "progress.json").read_text(encoding="utf-8")
    huge = tmp_path / "huge.json"
    with huge.open("wb") as file:
        file.write(text.encode())
        file.truncate(20_000_001)
    bad: list[tuple[bytes | Path, str]] = [
        (b"The rehearsal is at eight.", "This is no progress file of these drills."),
        (b'{"format": "something else", "cards": {}}', "This is no progress file of these drills."),
        (bytes(range(256)) * 40, "This is no progress file of these drills."),
        (text.replace('"version": 1', '"version": 2').encode(), "saved by a newer page"),
        (text.partition('"cards"')[0].encode(), "is damaged, and nothing in it could be read"),
        (huge, "far larger than progress can be"),
    ]
    for given, words in bad:
        said = read_progress(page, given)
        assert words in said
        assert "Nothing was changed." in said
        assert kept(page) == before
    cut = text[: len(text) * 2 // 3].encode()
    assert "could not be read, the file is damaged; everything else was taken in." in read_progress(page, cut)
    assert kept(page) == before
    page.reload()
    assert standing(page) == shown_before
