"""The folder without a network: kept whole, renewed whole, one deck beside another.

Outside check: Chromium keeps the files, goes without a network, and says whether it would install the page.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import replace
from http.server import SimpleHTTPRequestHandler
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


def test_a_host_that_leads_on_to_the_file_is_kept_too(
    phone: BrowserContext, served: Served, quiz_of: QuizOf, deck: Deck, monkeypatch: pytest.MonkeyPatch
) -> None:
    """From the folder to index.html, as some hosts do: the page opens again, with the host and without it."""
    plain = SimpleHTTPRequestHandler.send_head

    def leading_on(request: SimpleHTTPRequestHandler) -> Any:
        if request.path != "/":
            return plain(request)
        request.send_response(302)
        request.send_header("Location", "/index.html")
        request.end_headers()
        return None

    monkeypatch.setattr(SimpleHTTPRequestHandler, "send_head", leading_on)
    address = served(quiz_of(deck).folder)
    page = opened(phone, address)
    assert page.url == f"{address}index.html"
    for is_hosted in (True, False):
        if not is_hosted:
            served.stop()
        for ending in ("", "index.html"):
            page.goto(address + ending)
            assert title(page) == deck.title


@pytest.mark.parametrize(("shape", "registered"), [("folder", "./service-worker.js"), ("file", None)])
def test_the_folder_alone_has_a_worker(
    phone: BrowserContext,
    served: Served,
    quiz_of: QuizOf,
    deck: Deck,
    tmp_path: Path,
    shape: str,
    registered: str | None,
) -> None:
    """A single file on a host leaves alone the one that may lie beside it."""
    phone.add_init_script("""if (navigator.serviceWorker) navigator.serviceWorker.register = (name) => {
      globalThis.registered = name;
      return new Promise(() => {});
    };""")
    quiz = quiz_of(deck)
    address = served(tmp_path)
    page = phone.new_page()
    page.goto(address + (f"{quiz.folder.name}/" if shape == "folder" else quiz.file.name))
    assert title(page) == deck.title
    assert page.evaluate("globalThis.registered ?? null") == registered


def test_a_host_without_https_serves_the_folder_all_the_same(
    phone: BrowserContext, served: Served, quiz_of: QuizOf, deck: Deck
) -> None:
    """Browsers give such a page no workers."""
    phone.add_init_script("delete Navigator.prototype.serviceWorker;")
    page = phone.new_page()
    page.goto(served(quiz_of(deck).folder))
    assert title(page) == deck.title
    assert page.evaluate("navigator.serviceWorker ?? null") is None


def test_a_host_that_lacks_the_cards_is_told(
    phone: BrowserContext, served: Served, quiz_of: QuizOf, deck: Deck, faults: list[str]
) -> None:
    """As while it is being filled: nothing is damaged, the rest is still to come."""
    quiz = quiz_of(deck)
    (quiz.folder / "deck.json").unlink()
    page = phone.new_page()
    page.goto(served(quiz.folder))
    page.get_by_role("main").get_by_text("The page was not loaded to its end.").wait_for()
    assert any("deck.json" in fault or "404" in fault for fault in faults)
    faults.clear()


def test_all_of_the_folder_is_kept_and_nothing_else(
    phone: BrowserContext, served: Served, quiz_of: QuizOf, deck: Deck
) -> None:
    """One cache with every file but the worker, which the browser itself keeps; nothing newer is offered."""
    quiz = quiz_of(deck)
    address = served(quiz.folder)
    page = opened(phone, address)
    assert page.get_by_role("button", name="Go over to it").count() == 0
    (addresses,) = kept(page).values()
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
    page.evaluate(LOOKED_FOR_NEWER)
    offer = page.get_by_role("button", name="Go over to it")
    for _ in range(2):
        page.reload()
        offer.wait_for()
        assert title(page) == deck.title
    assert old in kept(page)
    offer.tap()
    page.get_by_role("heading", name="Corrected").wait_for()
    (new,) = kept(page)
    assert new != old
    served.stop()
    page.reload()
    assert title(page) == "Corrected"


def test_a_newer_deck_comes_from_a_host_whose_files_may_be_kept(
    phone: BrowserContext, served: Served, quiz_of: QuizOf, deck: Deck, monkeypatch: pytest.MonkeyPatch
) -> None:
    """For a day, says the host; what the browser kept of the old ones is passed over."""
    plain = SimpleHTTPRequestHandler.send_header

    def for_a_day(request: SimpleHTTPRequestHandler, name: str, value: str) -> None:
        # The worker itself is asked for anew by any browser, but by its stamp, which counts seconds.
        is_worker = request.path.endswith("service-worker.js")
        plain(request, name, "max-age=86400" if name == "Cache-Control" and not is_worker else value)

    monkeypatch.setattr(SimpleHTTPRequestHandler, "send_header", for_a_day)
    page = opened(phone, served(quiz_of(deck).folder))
    quiz_of(replace(deck, title="Corrected"))
    page.evaluate(LOOKED_FOR_NEWER)
    page.get_by_role("button", name="Go over to it").tap()
    page.get_by_role("heading", name="Corrected").wait_for()


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
    page.evaluate(LOOKED_FOR_NEWER)
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
