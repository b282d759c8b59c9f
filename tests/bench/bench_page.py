"""Measures the quiz page in a real Chromium of a phone's size; exits 1 on a miss.

Run it by hand: `python tests/bench/bench_page.py`, on a machine that does nothing else.

The deck: 2,000 cards, the first of those that bench_build.py makes. Times are taken inside the page, from the
event's or the navigation's own stamp to the moment after the frame that shows the result; a median of several
runs counts. What is slowed runs at a quarter of the processor's speed, about that of a cheap phone.

Limits are for a tab at rest. A browser that has just made a tab, and here a whole phone's profile with it, is
busy for most of a second: on two processors an empty page took 160 ms in a tab just made, and 57 ms in one a
second old. The first card in a tab just made is printed besides.

    first card   from opening the file to home, and from the tap on Play to the first question, both slowed
    mark         from the tap on Next, which notes the mark, to the next question; not slowed
    start        from opening the file to home, slowed, with 10,000 cards of which each was reviewed ten times
    sound        from the tap on the chord's button to its first sample at the loudspeaker; not slowed
"""

from __future__ import annotations

import gzip
import json
import os
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from shutil import which
from statistics import median
from typing import TYPE_CHECKING

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from playwright.sync_api import sync_playwright

from drills.cards.card import Deck
from drills.cards.identity import short_id
from drills.pack.page import page_of, write_file
from drills.pack.page_deck import packed_deck
from drills.plan import plan
from drills.recipe.read import parse_recipe
from tests.bench.bench_build import recipe_text
from tests.page.conftest import FLAGS, PHONE
from tests.page.student import opened, press, read_progress

if TYPE_CHECKING:
    from playwright.sync_api import Browser, BrowserContext, ConsoleMessage

N_CARDS, N_COPIES, N_REVIEWS = 2000, 5, 10
N_RUNS, N_MARKS, N_SOUNDS = 7, 25, 9
SLOWED = 4
REST_MS = 1000
DAY_MS = 86_400_000
NOW_MS = 1_767_225_600_000

WATCH = """
const painted = (name) => requestAnimationFrame(() => setTimeout(() => note(name, performance.now())));
const note = (name, stamp_ms) => console.debug("bench", name, stamp_ms);
const NAMES = ["home", "question"];
const look = (added) => NAMES.filter((name) => added.classList?.contains(name)).forEach(painted);
new MutationObserver((changes) => changes.forEach(({ addedNodes }) => addedNodes.forEach((added) => {
  [added, ...(added.querySelectorAll?.(".question") ?? [])].forEach(look);
}))).observe(document, { childList: true, subtree: true });
addEventListener("click", ({ timeStamp }) => note("click", timeStamp), true);
const { start } = AudioBufferSourceNode.prototype;
AudioBufferSourceNode.prototype.start = function (when = 0) {
  const ahead_s = Math.max(0, when - this.context.currentTime) + this.context.baseLatency;
  note("sound", performance.now() + 1000 * ahead_s);
  return start.call(this, when);
};
"""
"""Notes on the console when a screen was painted, a button clicked, and when a string will sound.

Nothing is asked of the page meanwhile: a driver's own questions cost it time.
"""


def chromium_path() -> str:
    """The browser on the path."""
    path = which("chromium") or which("chromium-browser")
    if path is None:
        raise SystemExit("no Chromium on the path")
    return path


def write(deck: Deck, folder: Path) -> str:
    """Writes a deck's page as one file; gives its address."""
    file = folder / f"{deck.id}.html"
    write_file(page_of(deck), file)
    return file.as_uri()


def bench_deck() -> Deck:
    """Two thousand cards."""
    whole = plan(parse_recipe(recipe_text(), source="bench.toml", default_id="bench")).deck
    if len(whole.cards) < N_CARDS:
        raise SystemExit(f"the recipe makes {len(whole.cards)} cards, not {N_CARDS}")
    return replace(whole, cards=whole.cards[:N_CARDS], fresh_per_day=N_MARKS + 5)


def large_deck(deck: Deck) -> Deck:
    """The same cards again and again, each time as others."""
    copies = [replace(card, identity=f"{card.identity} {n}") for n in range(N_COPIES) for card in deck.cards]
    return replace(deck, id="large", cards=tuple(copies))


def long_history(deck: Deck) -> bytes:
    """A progress file with ten reviews of every card; its form stands in drills/page/memory/journal.js."""
    cards = {
        short_id(card.identity): [
            [f"review{nth:02}", NOW_MS - (N_REVIEWS - nth) ** 2 * DAY_MS - place, 1 + (nth + place) % 4, 4000]
            for nth in range(N_REVIEWS)
        ]
        for place, card in enumerate(deck.cards)
    }
    head = {"format": "layered-voicing drills progress", "version": 1, "saved": NOW_MS, "student": ""}
    return json.dumps(head | {"count": N_REVIEWS * len(cards), "cards": cards}).encode()


class Watched:
    """A tab with what its page notes.

    Args:
        context: the phone.
        slowed: how many times.
        rest_ms: how old the tab is when it comes into use.
    """

    def __init__(self, context: BrowserContext, slowed: int = 1, rest_ms: float = REST_MS) -> None:
        self.page = context.new_page()
        self.page.wait_for_timeout(rest_ms)
        context.new_cdp_session(self.page).send("Emulation.setCPUThrottlingRate", {"rate": slowed})
        self._stamps: dict[str, float] = {}
        self.page.on("console", self._take)

    def after(self, act: Callable[[], object], name: str) -> float:
        """When a thing was noted for the first time after an act, in ms since the page was asked for."""
        self._stamps.clear()
        act()
        until = time.monotonic() + 60
        while name not in self._stamps:
            if time.monotonic() > until:
                raise SystemExit(f"the page never came to its {name}")
            self.page.wait_for_timeout(10)
        return self._stamps[name]

    def after_click(self, act: Callable[[], object], name: str) -> float:
        """The same since the click in the act."""
        return self.after(act, name) - self._stamps["click"]

    def _take(self, message: ConsoleMessage) -> None:
        words = message.text.split()
        if words[:1] == ["bench"]:
            self._stamps.setdefault(words[1], float(words[2]))


@contextmanager
def phone(browser: Browser) -> Iterator[BrowserContext]:
    """A phone with nothing stored, watched."""
    context = browser.new_context(**PHONE)
    context.add_init_script(WATCH)
    yield context
    context.close()


def first_card_ms(browser: Browser, address: str, rest_ms: float = REST_MS) -> tuple[float, float]:
    """To home, and from there to the first question."""
    with phone(browser) as context:
        tab = Watched(context, SLOWED, rest_ms)
        home_ms = tab.after(lambda: tab.page.goto(address), "home")
        return home_ms, tab.after_click(lambda: press(tab.page, "Play"), "question")


def marks_ms(browser: Browser, address: str) -> list[float]:
    """From mark to next question, card after card."""
    with phone(browser) as context:
        tab = Watched(context)
        tab.page.goto(address)
        press(tab.page, "Play")
        waits = []
        for _ in range(N_MARKS):
            press(tab.page, "Show me, I judge myself")
            waits.append(tab.after_click(lambda: press(tab.page, "Next"), "question"))
        return waits


def starts_ms(browser: Browser, address: str, history: bytes) -> list[float]:
    """To home with all that history, time after time."""
    with phone(browser) as context:
        context.set_default_timeout(180_000)
        page = opened(context, address)
        said = read_progress(page, history)
        if not said.startswith("100000 new reviews of 10000 cards"):
            raise SystemExit(said)
        page.close()
        return [start_ms(context, address) for _ in range(N_RUNS)]


def start_ms(context: BrowserContext, address: str) -> float:
    """To home in a new tab."""
    tab = Watched(context, SLOWED)
    home_ms = tab.after(lambda: tab.page.goto(address), "home")
    tab.page.close()
    return home_ms


def sounds_ms(browser: Browser, address: str) -> list[float]:
    """From a tap on the chord's button to the chord, answer after answer."""
    with phone(browser) as context:
        tab = Watched(context)
        tab.page.goto(address)
        press(tab.page, "Play")
        waits = []
        for _ in range(N_SOUNDS):
            press(tab.page, "Show me, I judge myself")
            tab.page.wait_for_timeout(500)  # the answer has begun to sound by itself
            waits.append(tab.after_click(lambda: press(tab.page, "▷ chord"), "sound"))
            press(tab.page, "Next")
        return waits


class Report:
    """Prints each figure beside its limit, and keeps whether all of them hold."""

    def __init__(self) -> None:
        self.is_missed = False

    def line(self, what: str, found: float, limit: float, unit: str) -> None:
        """One figure."""
        holds = found <= limit
        self.is_missed |= not holds
        print(f"{what:<62} {found:7.1f} {unit:<5} at most {limit:g}: {'holds' if holds else 'MISSED'}")


def main() -> int:
    """Prints what was measured, and whether it holds."""
    deck = bench_deck()
    report = Report()
    packed = packed_deck(deck).encode()
    report.line("deck, a card", len(packed) / N_CARDS, 250, "bytes")
    report.line("deck, a card, gzip", len(gzip.compress(packed, mtime=0)) / N_CARDS, 60, "bytes")
    with tempfile.TemporaryDirectory() as name, sync_playwright() as player:
        browser = player.chromium.launch(executable_path=chromium_path(), args=FLAGS)
        address, large_address = (write(each, Path(name)) for each in (deck, large_deck(deck)))
        firsts = [first_card_ms(browser, address) for _ in range(N_RUNS)]
        home_ms, question_ms = (median(column) for column in zip(*firsts, strict=True))
        print(f"2,000 cards, slowed: home {home_ms:.0f} ms, from Play to the question {question_ms:.0f} ms")
        at_once_ms = median(sum(first_card_ms(browser, address, rest_ms=0)) for _ in range(N_RUNS))
        print(f"both together in a tab just made: {at_once_ms:.0f} ms")
        report.line("first card, both together", median(map(sum, firsts)), 500, "ms")
        marks = marks_ms(browser, address)
        report.line(f"from mark to next question (slowest {max(marks):.0f} ms)", median(marks), 50, "ms")
        starts = starts_ms(browser, large_address, long_history(large_deck(deck)))
        report.line("start with 10,000 cards and 100,000 reviews, slowed", median(starts), 1500, "ms")
        sounds = sounds_ms(browser, address)
        report.line(f"from tap to sound (slowest {max(sounds):.0f} ms)", median(sounds), 50, "ms")
        browser.close()
    print(f"load of the machine: {os.getloadavg()[0]:.1f} on {os.cpu_count()} processors")
    return int(report.is_missed)


if __name__ == "__main__":
    sys.exit(main())
