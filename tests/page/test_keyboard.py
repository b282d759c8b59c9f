"""Every drill played by keyboard alone: no finger, no mouse, and the keyboard never lost."""

from __future__ import annotations

from collections.abc import Callable
from itertools import count
from typing import TYPE_CHECKING

import pytest

from drills.cards.card import Deck
from drills.recipe.known import DRILLS

from .conftest import NewPhone, Quiz
from .student import every_drill, kept, opened

if TYPE_CHECKING:
    from playwright.sync_api import Page

pytestmark = pytest.mark.slow


def tab_to(page: Page, selector: str, *, text: str = "") -> None:
    """Presses Tab until what has the keyboard matches a selector and begins with a text."""
    is_there = """([selector, text]) => {
      const here = document.activeElement;
      return here.matches(selector) && here.textContent.startsWith(text);
    }"""
    for presses in count():
        if page.evaluate(is_there, [selector, text]):
            return
        assert presses < 80, f"Tab does not lead to {selector} {text}"
        page.keyboard.press("Tab")


def answer(page: Page) -> None:
    """Gives some answer that can be checked: a note on the neck, an option, or key after key."""
    for presses in count():
        if page.locator(".question .main:enabled").count() > 0:
            return
        assert presses < 60, "the question takes no answer"
        onward = page.locator(".onward").filter(has_text="That is all")
        if onward.count() > 0:
            tab_to(page, ".onward")
            page.keyboard.press("Enter")
            continue
        tab_to(page, ".answering [role=gridcell], .answering .key, .answering input")
        if page.get_by_role("gridcell").count() > 0:
            page.keyboard.press("ArrowRight")
        page.keyboard.press("Space")


def has_keyboard(page: Page) -> bool:
    """Whether something on the page has it, rather than the page as a whole."""
    found: bool = page.evaluate("document.activeElement !== document.body")
    return found


def test_every_drill_by_keyboard_alone(new_phone: NewPhone, quiz_of: Callable[[Deck], Quiz]) -> None:
    """Answered, checked, marked with a figure, and on; then taken back with one key and marked anew."""
    deck = every_drill()
    page = opened(new_phone(has_touch=False, is_mobile=False), quiz_of(deck).file.as_uri())
    tab_to(page, "button", text="Play")
    page.keyboard.press("Enter")
    played = []
    for _ in deck.cards:
        page.locator(".question").wait_for()
        played.append(page.locator(".top p").inner_text().split(" · ")[0])
        assert has_keyboard(page), played[-1]
        answer(page)
        assert has_keyboard(page), played[-1]
        tab_to(page, "button", text="Check")
        page.keyboard.press("Enter")
        page.locator(".answer").wait_for()
        assert has_keyboard(page), played[-1]
        page.keyboard.press("4")
        page.keyboard.press("Enter")
    assert sorted(played) == sorted(DRILLS)
    page.get_by_role("heading", name="Done for today").wait_for()
    tab_to(page, "button", text="Undo the mark")
    page.keyboard.press("Enter")
    page.locator(".answer").wait_for()
    page.keyboard.press("2")
    page.keyboard.press("Enter")
    page.locator(".question").wait_for()
    marks = [mark for _, mark in kept(page).marks()]
    assert sorted(marks) == [2, *[4] * (len(DRILLS) - 1)]


def test_a_key_held_down_counts_once(new_phone: NewPhone, quiz_of: Callable[[Deck], Quiz]) -> None:
    """Enter on the way to the answer does not go on and mark an answer that nobody has read."""
    page = opened(new_phone(has_touch=False, is_mobile=False), quiz_of(every_drill()).file.as_uri())
    tab_to(page, "button", text="Play")
    page.keyboard.press("Enter")
    tab_to(page, "button", text="Show me")
    page.keyboard.down("Enter")
    page.locator(".answer").wait_for()
    page.keyboard.down("Enter")  # what a keyboard sends again and again while a key is held
    page.keyboard.up("Enter")
    assert page.locator(".answer").count() == 1
    assert kept(page).marks() == []
