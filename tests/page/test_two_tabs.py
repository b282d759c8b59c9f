"""Two tabs of one student at the same time."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import pytest

from drills.cards.card import Deck

from .conftest import Quiz, Served
from .student import judge, kept, opened, press, to_play

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
