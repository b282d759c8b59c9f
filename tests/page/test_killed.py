"""The browser itself killed while marks are being written.

Outside check: the library `fsrs` makes of what was written (see reference.py) what the page keeps.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from shutil import which
from typing import TYPE_CHECKING, TypeAlias

import pytest

from drills.cards.card import Deck

from .conftest import FLAGS, PHONE, Quiz
from .reference import reference_for
from .student import kept, opened

if TYPE_CHECKING:
    from playwright.sync_api import Browser, BrowserContext, Page

pytestmark = pytest.mark.slow

HURRY = """() => {
  globalThis.marked = 0;
  const buttons = () => [...document.querySelectorAll("button")];
  const button = (name) => buttons().find((each) => each.textContent.startsWith(name));
  let last = null;
  const look = () => {
    const told = document.querySelector(".before");
    if (told && told !== last) marked += 1;
    last = told;
    (button("Next") ?? button("Show me") ?? button("Play"))?.click();
    setTimeout(look);
  };
  look();
}"""
"""Plays as fast as the page lets anyone, and counts the marks that the page has told as noted."""


Start: TypeAlias = "Callable[[], BrowserContext]"


@pytest.fixture
def start(chromium: Browser, tmp_path: Path) -> Start:
    """Starts a browser of its own that keeps what it stores, again and again the same one."""
    path = which("chromium") or which("chromium-browser")
    launch = chromium.browser_type.launch_persistent_context
    return lambda: launch(tmp_path / "profile", executable_path=path, args=FLAGS, **PHONE)


def crash(page: Page) -> None:
    """Ends the page's browser as a phone does that needs the room: at once, with nothing said."""
    from playwright.sync_api import Error

    session = page.context.new_cdp_session(page)
    with page.context.expect_event("close"), suppress(Error):  # nobody is left to answer
        session.send("Browser.crash")


@pytest.mark.parametrize("least", [3, 12])
def test_a_killed_browser_has_kept_all_it_told(
    start: Start,
    quiz_of: Callable[[Deck], Quiz],
    shelf_deck: Callable[[str], Deck],
    checkout: Path,
    least: int,
) -> None:
    """Every mark that the page said was noted is there, each with what follows from it."""
    deck = replace(shelf_deck("weeks-01-02-one-layer"), fresh_per_day=50)
    address = quiz_of(deck).file.as_uri()
    page = opened(start(), address)
    page.evaluate(HURRY)
    page.wait_for_function("count => marked >= count", arg=least)
    told = page.evaluate("marked")
    crash(page)
    phone = start()
    found = kept(opened(phone, address))
    phone.close()
    assert len(found.marks()) >= told
    reference = reference_for(deck, checkout / "drills/page")
    assert found.memories == {
        card: reference.memory(card, marks) for card, marks in found.histories().items()
    }
