"""Browsers that lack something: what it means is said in words, and the quiz goes on."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from drills.cards.card import Deck

from .conftest import Quiz
from .student import every_drill, is_over, judge, opened, press, read_progress, save_progress, to_play

if TYPE_CHECKING:
    from playwright.sync_api import BrowserContext

pytestmark = pytest.mark.slow

NO_STORE = {
    "absent": "Object.defineProperty(globalThis, 'indexedDB', { value: undefined });",
    "forbidden": """Object.defineProperty(globalThis, 'indexedDB', {
      get() { throw new DOMException("not here", "SecurityError"); },
    });""",
    "throwing": "indexedDB.open = () => { throw new DOMException('not here', 'SecurityError'); };",
    "refusing": """indexedDB.open = () => {
      const request = { error: new DOMException("not here", "UnknownError") };
      setTimeout(() => request.onerror(new Event("error")));
      return request;
    };""",
}
NO_SOUND = "delete globalThis.AudioContext; delete globalThis.webkitAudioContext;"
NO_MANNERS = """
delete globalThis.BroadcastChannel;
delete Navigator.prototype.storage;
delete Navigator.prototype.wakeLock;
delete Navigator.prototype.serviceWorker;
history.pushState = history.replaceState = () => { throw new DOMException("not here", "SecurityError"); };
"""


@pytest.fixture
def address(quiz_of: Callable[[Deck], Quiz], shelf_deck: Callable[[str], Deck]) -> str:
    """The first two weeks, as a file."""
    return quiz_of(shelf_deck("weeks-01-02-one-layer")).file.as_uri()


@pytest.mark.parametrize("lack", NO_STORE.values(), ids=NO_STORE)
def test_without_a_store_a_day_is_played_and_saved(
    phone: BrowserContext, address: str, tmp_path: Path, lack: str
) -> None:
    """It says at once that nothing is kept; a progress file brings the day back after the page was closed."""
    phone.add_init_script(lack)
    page = opened(phone, address)
    assert page.get_by_role("alert").get_by_text("This browser keeps nothing for this page").is_visible()
    whole = to_play(page)
    press(page, "Play")
    for _ in range(2):
        judge(page, 4)
    press(page, "Home")
    assert to_play(page) == whole - 2
    file = save_progress(page, tmp_path / "progress.json")
    assert json.loads(file.read_text(encoding="utf-8"))["count"] == 2
    page.reload()
    assert to_play(page) == whole
    assert read_progress(page, file).startswith("2 new reviews of 2 cards")
    assert to_play(page) == whole - 2


def test_without_sound_a_day_is_played(phone: BrowserContext, quiz_of: Callable[[Deck], Quiz]) -> None:
    """Its buttons do nothing, the settings say why, and a round counts its beats in silence; `hear` waits."""
    phone.add_init_script(NO_SOUND)
    deck = every_drill()
    page = opened(phone, quiz_of(deck).file.as_uri())
    assert to_play(page) == len(deck.cards) - 1
    press(page, "Play")
    press(page, "Show me, I judge myself")
    press(page, "▷ arpeggio")
    press(page, "▷ chord")
    press(page, "Next")
    while not is_over(page):
        judge(page, 4)
    press(page, "Home")
    press(page, "Settings")
    assert page.get_by_role("main").get_by_text("This browser makes no sound.").is_visible()
    press(page, "Home")
    press(page, "Rounds")
    press(page, "Start")
    page.locator(".beats .now").wait_for()
    press(page, "Stop")
    page.get_by_role("main").get_by_text("No key was played to its end").wait_for()


def test_while_sound_is_off_the_drill_by_ear_waits(
    phone: BrowserContext, quiz_of: Callable[[Deck], Quiz]
) -> None:
    """It is not among the cards of the day, and comes back with the sound."""
    deck = every_drill()
    page = opened(phone, quiz_of(deck).file.as_uri())
    for waiting in (1, 0):
        press(page, "Settings")
        page.get_by_role("checkbox", name="Sound on").tap()
        press(page, "Home")
        assert to_play(page) == len(deck.cards) - waiting


def test_a_bare_browser_plays_a_day(phone: BrowserContext, address: str) -> None:
    """One without channels between tabs, without promises to keep, and whose history may not be written."""
    phone.add_init_script(NO_MANNERS)
    page = opened(phone, address)
    press(page, "Play")
    while not is_over(page):
        judge(page, 4)
    press(page, "Home")
    assert to_play(page) == 0
    press(page, "Settings")
    page.get_by_role("main").get_by_text("does not say whether it will keep your progress").wait_for()


def test_an_answer_that_says_markup_is_text(phone: BrowserContext, address: str) -> None:
    """A name for the progress file goes out, comes back and is shown as it was typed."""
    from playwright.sync_api import expect

    page = opened(phone, address)
    name = "<img src=x onerror=alert(1)>"
    press(page, "Settings")
    page.get_by_role("textbox").fill(name)
    with page.expect_download():
        press(page, "Save a progress file")
    page.reload()
    press(page, "Settings")
    expect(page.get_by_role("textbox")).to_have_value(name)
    assert page.locator("#screen img").count() == 0
