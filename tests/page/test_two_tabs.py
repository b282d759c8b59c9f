"""Two tabs of one student at the same time, the other one of a newer page too."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from drills.cards.card import Deck

from .conftest import Quiz, Served
from .student import judge, kept, opened, press, save_progress, to_play

if TYPE_CHECKING:
    from playwright.sync_api import BrowserContext, Page

pytestmark = pytest.mark.slow


def head(page: Page) -> str:
    """What the question says."""
    page.locator(".question").wait_for()
    return page.locator(".question .face").inner_text()


def test_marks_in_two_tabs_are_both_kept_and_counted(
    phone: BrowserContext, quiz_of: Callable[[Deck], Quiz], shelf_deck: Callable[[str], Deck], served: Served
) -> None:
    """Of the same card too; each tab goes on with what the other has left, and home counts for both."""
    address = served(quiz_of(shelf_deck("weeks-01-02-one-layer")).folder)
    one, other, third = (opened(phone, address) for _ in range(3))
    whole = to_play(third)
    for page in (one, other):
        page.bring_to_front()
        press(page, "Play")
    assert head(one) == head(other)
    judge(other, 4)
    one.bring_to_front()
    judge(one, 1)  # of the same card, which this tab was still showing
    assert head(one) == head(other)
    for page in (other, one):
        page.bring_to_front()
        judge(page, 4)
        assert head(page) != ""
    found = kept(third)
    histories = sorted([mark for mark, _ in marks] for marks in found.histories().values())
    assert histories == [[4, 1], [4, 4]]
    assert [memory["count"] for memory in found.memories.values()] == [2, 2]
    third.locator(".today .count", has_text=str(whole - 1)).wait_for()
    for page in (one, other):
        page.bring_to_front()
        press(page, "Home")
        page.locator(".today .count", has_text=str(whole - 1)).wait_for()
    press(third, "Where you are, in full")
    before = third.get_by_role("main").inner_text()
    other.bring_to_front()
    press(other, "Play")
    judge(other, 4)
    third.wait_for_function("before => document.querySelector('main').innerText !== before", arg=before)


TAKE_OVER = """() => new Promise((resolve, reject) => {
  const request = indexedDB.open("layered-voicing drills", 99);
  request.onerror = () => reject(request.error);
  request.onsuccess = () => { request.result.close(); resolve(); };
})"""


def test_marks_after_a_newer_page_has_taken_over_are_saved_to_a_file(
    phone: BrowserContext,
    quiz_of: Callable[[Deck], Quiz],
    shelf_deck: Callable[[str], Deck],
    served: Served,
    tmp_path: Path,
) -> None:
    """The older page offers to load anew as long as nothing would be lost by it, and a file from then on."""
    address = served(quiz_of(shelf_deck("weeks-01-02-one-layer")).folder)
    older, newer = opened(phone, address), opened(phone, address)
    newer.evaluate(TAKE_OVER)
    load_anew = older.get_by_role("button", name="Load anew")
    load_anew.wait_for()
    older.bring_to_front()
    press(older, "Play")
    judge(older, 4)
    told = older.get_by_role("main").get_by_text(
        "Your marks count while this page is open: save a progress file"
    )
    told.wait_for()
    press(older, "Home")
    told.wait_for()
    assert load_anew.count() == 0
    late = opened(phone, address)
    late.get_by_role("alert").get_by_text("A newer version of this quiz has been here.").wait_for()
    file = json.loads(save_progress(older, tmp_path / "progress.json").read_text(encoding="utf-8"))
    assert [[mark for _, _, mark, _ in rows] for rows in file["cards"].values()] == [[4]]
