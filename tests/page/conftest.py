"""The page in two surroundings: its modules in a small JavaScript engine, and all of it in a real browser.

Conventions: a phone is a browser context of its own, 390 by 844 pixels, with touch and nothing stored. A
fault on a page (an error of a script, a broken rule of its policy, a failed request) fails the test at its
end; a test that wants faults takes them out of `faults`.
"""

from __future__ import annotations

import json
import threading
from collections.abc import Callable, Iterator
from contextlib import ExitStack, suppress
from dataclasses import dataclass
from datetime import datetime
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from shutil import which
from typing import TYPE_CHECKING, Any, TypeAlias

import pytest

from drills.cards.card import Deck
from drills.pack.page import page_of, write_file, write_folder
from drills.plan import plan
from drills.recipe.read import read_recipe

if TYPE_CHECKING:
    from playwright.sync_api import Browser, BrowserContext, ConsoleMessage

Call: TypeAlias = Callable[..., Any]
"""Calls one function by name; arguments and result pass as JSON."""


@pytest.fixture(scope="session")
def schedule(checkout: Path) -> Call:
    """The functions of drills/page/memory/schedule.js, and `play`, which marks whole histories with it."""
    import quickjs

    # Frozen memories: a module runs in strict mode, where writing to one throws.
    harness = """
    const play = (paces, histories) => histories.map((history) => {
      let memory = UNSEEN;
      return history.map(([mark, when, pace]) =>
        (memory = Object.freeze(review(memory, mark, when, paces[pace]))));
    });
    const recalls = (rows) => rows.map((row) => recall(...row));
    const refusal = (...given) => {
      try { review(UNSEEN, ...given); return null; } catch (error) { return String(error); }
    };
    const constants = () => ({ MARKS, UNSEEN, PACE });
    const known = { constants, play, recalls, refusal, review, spread };
    globalThis.call = (name, given) => JSON.stringify(known[name](...JSON.parse(given)));
    """
    context = quickjs.Context()
    context.module((checkout / "drills/page/memory/schedule.js").read_text(encoding="utf-8") + harness)
    run = context.get("call")

    def call(name: str, *given: object) -> Any:
        return json.loads(run(name, json.dumps(given)))

    return call


# --- a real browser ------------------------------------------------------------------------------

FLAGS = (
    "--no-sandbox --disable-gpu --no-first-run --disable-background-networking --disable-component-update "
    "--disable-sync"
).split()

PHONE: dict[str, Any] = {
    "viewport": {"width": 390, "height": 844},
    "has_touch": True,
    "is_mobile": True,
    "timezone_id": "UTC",
    "locale": "en-GB",
}

AT_ONCE = """document.addEventListener("DOMContentLoaded", () => {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(".question .doing > *, .answer > .doing > * { animation-duration: 0s !important; }");
  document.adoptedStyleSheets = [sheet];
});"""
"""Lets buttons be pressed as soon as they are there: only the test about that taps twice by mistake."""

NewPhone: TypeAlias = "Callable[..., BrowserContext]"


@dataclass(frozen=True, slots=True)
class Quiz:
    """A deck's page, written in both shapes."""

    file: Path
    folder: Path


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """A Chromium, started once; what needs one is skipped where there is none."""
    path = which("chromium") or which("chromium-browser")
    if path is None:
        pytest.skip("no Chromium on the path, so the page is not tried in a browser")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as player:
        browser = player.chromium.launch(executable_path=path, args=FLAGS)
        yield browser
        browser.close()


@pytest.fixture
def faults() -> Iterator[list[str]]:
    """What went wrong on the phones of a test; nothing may be left at its end."""
    seen: list[str] = []
    yield seen
    assert seen == []


@pytest.fixture
def new_phone(
    chromium: Browser,
    faults: list[str],
    served: Served,  # noqa: ARG001 - asked for only to end after the phones
) -> Iterator[NewPhone]:
    """Makes phones: `new_phone()`, or with other options of a browser context, such as `viewport`.

    They go before the hosts do: a page may still be fetching its service worker when a test ends, and
    Chromium writes a host that hangs up on it into the console as a fault.
    """

    def note(message: ConsoleMessage) -> None:
        if message.type == "error":
            faults.append(message.text)

    with ExitStack() as phones:

        def make(**options: Any) -> BrowserContext:
            context = phones.enter_context(chromium.new_context(**PHONE | options))
            context.set_default_timeout(10_000)
            context.add_init_script(AT_ONCE)
            context.on("weberror", lambda fault: faults.append(str(fault.error)))
            context.on("console", note)
            return context

        yield make


@pytest.fixture
def phone(new_phone: NewPhone) -> BrowserContext:
    """One phone."""
    return new_phone()


@pytest.fixture
def clock_at() -> Callable[[BrowserContext, str], None]:
    """Sets a phone's clock: `clock_at(phone, "2027-01-04 18:30")`, UTC.

    The first time before its pages open; time then goes on from there by itself. Later on it may be set to
    any time ahead, timers that fall due in between go off once; a page's `clock` can do more.
    """
    started: dict[BrowserContext, datetime] = {}

    def set_clock(context: BrowserContext, when: str) -> None:
        moment = datetime.fromisoformat(f"{when}+00:00")
        if context not in started:
            context.clock.install(time=moment)
        else:
            ahead = (moment - started[context]).total_seconds()
            context.clock.fast_forward(round(ahead * 1000))
        started[context] = moment

    return set_clock


class Served:
    """Serves folders on this machine."""

    def __init__(self, servers: ExitStack) -> None:
        self._servers = servers

    def __call__(self, folder: Path) -> str:
        """Serves a folder as it is whenever it is asked for; gives the address, with a slash at its end."""
        server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=str(folder)))
        self._servers.callback(server.server_close)
        self._servers.callback(server.shutdown)
        threading.Thread(target=server.serve_forever, args=(0.02,), daemon=True).start()
        return f"http://127.0.0.1:{server.server_port}/"

    def stop(self) -> None:
        """From now on nobody answers at the addresses given so far: the network is gone."""
        self._servers.close()


@pytest.fixture
def served() -> Iterator[Served]:
    """Serves folders: `served(folder)` gives an address, `served.stop()` takes the network away."""
    with ExitStack() as servers:
        yield Served(servers)


class _Quiet(SimpleHTTPRequestHandler):
    def end_headers(self) -> None:
        """Lets nobody keep a file: a test writes the same one twice in a second, and stamps count seconds."""
        self.send_header("Cache-Control", "no-store")
        super().end_headers()

    def handle(self) -> None:
        """Lets go of a browser that went away."""
        with suppress(OSError):
            super().handle()

    def log_message(self, *_: Any) -> None:
        """Says nothing."""


@pytest.fixture(scope="session")
def shelf_deck() -> Callable[[str], Deck]:
    """Gives the deck of a shelf recipe, planned once."""
    planned: dict[str, Deck] = {}

    def deck(name: str) -> Deck:
        if name not in planned:
            planned[name] = plan(read_recipe(name)).deck
        return planned[name]

    return deck


@pytest.fixture
def quiz_of(tmp_path: Path) -> Callable[[Deck], Quiz]:
    """Writes a deck's page in both shapes, over the one of the same deck that is there."""

    def write(deck: Deck) -> Quiz:
        quiz = Quiz(tmp_path / f"{deck.id}.html", tmp_path / deck.id)
        page = page_of(deck)
        write_file(page, quiz.file)
        write_folder(page, quiz.folder)
        return quiz

    return write
