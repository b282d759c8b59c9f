"""The folder without a network: kept whole, renewed whole, one deck beside another.

Outside check: Chromium keeps the files, goes without a network, and says whether it would install the page.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeAlias

import pytest

from drills.cards.card import Deck

from .conftest import Quiz, Served

if TYPE_CHECKING:
    from playwright.sync_api import BrowserContext, Page

pytestmark = pytest.mark.slow

QuizOf: TypeAlias = Callable[[Deck], Quiz]

CONTROLLED = "() => navigator.serviceWorker?.controller"
LOOKED_FOR_NEWER = """async () => {
  const registration = await navigator.serviceWorker.getRegistration();
  await registration.update();
  const worker = registration.installing;
  while (worker?.state === "installing") await new Promise((done) => setTimeout(done, 20));
}"""
KEPT = """async () => {
  const entries = [];
  for (const name of await caches.keys())
    entries.push([name, (await (await caches.open(name)).keys()).map(({ url }) => url)]);
  return Object.fromEntries(entries);
}"""


@pytest.fixture
def deck(shelf_deck: Callable[[str], Deck]) -> Deck:
    """A deck of few cards."""
    whole = shelf_deck("weeks-01-02-one-layer")
    return replace(whole, id="week-01", title="Riverside evening group", cards=whole.cards[:12])


def opened(phone: BrowserContext, address: str) -> Page:
    """The page, once its files are kept."""
    page = phone.new_page()
    page.goto(address)
    page.wait_for_function(CONTROLLED)
    return page


def title(page: Page) -> str:
    """What stands at the top of the first screen."""
    page.get_by_role("button").first.wait_for()
    return page.get_by_role("heading", level=1).inner_text()


def kept(page: Page) -> dict[str, list[str]]:
    """What the browser keeps for the page's site: addresses by the name of the cache."""
    found: dict[str, list[str]] = page.evaluate(KEPT)
    return found


def test_a_page_that_was_opened_once_opens_without_a_network(
    phone: BrowserContext, served: Served, quiz_of: QuizOf, deck: Deck
) -> None:
    """By its address, by the name of its file, with something behind it, and in a new tab."""
    address = served(quiz_of(deck).folder)
    page = opened(phone, address)
    served.stop()
    page.reload()
    assert title(page) == deck.title
    for ending in ("", "index.html", "?from=home", "#x"):
        other = phone.new_page()
        other.goto(address + ending)
        assert title(other) == deck.title


def test_all_of_the_folder_is_kept_and_nothing_else(
    phone: BrowserContext, served: Served, quiz_of: QuizOf, deck: Deck
) -> None:
    """One cache with every file but the worker, which the browser itself keeps."""
    quiz = quiz_of(deck)
    address = served(quiz.folder)
    (addresses,) = kept(opened(phone, address)).values()
    names = {path.name for path in quiz.folder.iterdir()} - {"index.html", "service-worker.js"} | {""}
    assert sorted(addresses) == sorted(address + name for name in names)


def test_a_newer_deck_is_offered_and_comes_when_it_is_taken(
    phone: BrowserContext, served: Served, quiz_of: QuizOf, deck: Deck
) -> None:
    """Until then the page is the old one, all of it; afterwards nothing of the old one is kept."""
    address = served(quiz_of(deck).folder)
    page = opened(phone, address)
    (old,) = kept(page)
    quiz_of(replace(deck, title="Corrected"))
    page.reload()
    assert title(page) == deck.title
    page.get_by_role("button", name="Go over to it").tap()
    page.get_by_role("heading", name="Corrected").wait_for()
    (new,) = kept(page)
    assert new != old
    served.stop()
    page.reload()
    assert title(page) == "Corrected"


def test_a_newer_deck_that_another_tab_has_taken_comes_too(
    phone: BrowserContext, served: Served, quiz_of: QuizOf, deck: Deck
) -> None:
    """The button of a tab that was left behind still leads over."""
    address = served(quiz_of(deck).folder)
    behind, ahead = opened(phone, address), opened(phone, address)
    quiz_of(replace(deck, title="Corrected"))
    behind.evaluate(LOOKED_FOR_NEWER)
    for page in (ahead, behind):
        page.bring_to_front()
        page.get_by_role("button", name="Go over to it").tap()
        page.get_by_role("heading", name="Corrected").wait_for()


def test_half_a_version_is_never_kept(
    phone: BrowserContext, served: Served, quiz_of: QuizOf, deck: Deck, faults: list[str]
) -> None:
    """While a host is being filled, the page stays as it is; the next visit finds the whole."""
    quiz = quiz_of(deck)
    address = served(quiz.folder)
    page = opened(phone, address)
    before = kept(page)
    cards = (quiz.folder / "deck.json").read_bytes()
    newer = replace(deck, title="Corrected", cards=deck.cards[:6])
    quiz_of(newer)
    whole = (quiz.folder / "deck.json").read_bytes()
    assert whole != cards
    (quiz.folder / "deck.json").write_bytes(cards)
    page.reload()
    page.evaluate(LOOKED_FOR_NEWER)
    assert title(page) == deck.title
    assert {name: files for name, files in kept(page).items() if files} == before
    faults[:] = [fault for fault in faults if "integrity" not in fault]
    (quiz.folder / "deck.json").write_bytes(whole)
    page.reload()
    page.get_by_role("button", name="Go over to it").tap()
    page.get_by_role("heading", name="Corrected").wait_for()


def test_decks_on_one_site_leave_each_other_alone(
    phone: BrowserContext, served: Served, quiz_of: QuizOf, deck: Deck, tmp_path: Path
) -> None:
    """Even one that lies within the other's folder: each is kept, and each shows its own."""
    site = tmp_path / "site"
    shutil.copytree(quiz_of(deck).folder, site)
    inner = quiz_of(replace(deck, id="week-02", title="Riverside, week 2"))
    shutil.copytree(inner.folder, site / "week-02")
    address = served(site)
    opened(phone, address)
    page = phone.new_page()
    page.goto(f"{address}week-02/")
    assert title(page) == "Riverside, week 2"
    page.wait_for_function("() => navigator.serviceWorker.controller?.scriptURL.includes('week-02')")
    assert len(kept(page)) == 2
    served.stop()
    for ending, expected in (("", deck.title), ("week-02/", "Riverside, week 2")):
        page.goto(address + ending)
        assert title(page) == expected


def test_a_browser_would_install_it(
    phone: BrowserContext, served: Served, quiz_of: QuizOf, deck: Deck
) -> None:
    """It finds nothing missing in the manifest, the icons or the worker."""
    page = opened(phone, served(quiz_of(deck).folder))
    tools = phone.new_cdp_session(page)
    assert tools.send("Page.getAppManifest")["errors"] == []
    found: list[dict[str, Any]] = tools.send("Page.getInstallabilityErrors")["installabilityErrors"]
    # A test's phone is a private window, where nothing can be installed.
    assert [each["errorId"] for each in found if each["errorId"] != "in-incognito"] == []
