"""Every screen of the quiz for those who see little, listen, or enlarge what they read.

Outside check: axe-core, which is not ours, looks at each screen in both themes; the browser's own measures
say whether anything runs out of a narrow or an enlarged screen (WCAG 2.2, success criteria 1.4.4 and 1.4.10).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from axe_playwright_python.sync_playwright import Axe

from drills.cards.card import Deck

from .conftest import NewPhone, Quiz
from .student import every_drill, opened

if TYPE_CHECKING:
    from playwright.sync_api import Page

pytestmark = pytest.mark.slow

ONE_OF_A_KIND = ("place", "top", "name", "spell", "spot", "hear")
"""Drills of every kind of answer; top because it begins with notes that are there."""

RUNS_OUT = """() => {
  const { scrollWidth, clientWidth: width } = document.documentElement;
  const scrolls = (it) => it.closest(".tap-neck, .unseen-words");
  const isCut = (it) => it.scrollWidth > it.clientWidth + 1 && getComputedStyle(it).overflowX !== "visible";
  const isWide = (it) => it.getBoundingClientRect().right > width + 1 && !scrolls(it);
  const texts = ["button", "label", "p", "h1", "h2"].map((tag) => `#screen ${tag}`).join();
  const isOut = (it) => it.offsetParent && (isWide(it) || isCut(it));
  const outs = [...document.querySelectorAll(texts)].filter(isOut);
  const said = outs.map((it) => `${it.tagName}.${it.className} ${it.textContent.slice(0, 40)}`);
  return scrollWidth > width ? [`page: ${scrollWidth} of ${width}`, ...said] : said;
}"""
"""What is cut off or has to be scrolled sideways; the neck, a picture, scrolls in a box of its own."""


def click(page: Page, name: str) -> None:
    """Presses a button, whatever kind of screen this is."""
    page.get_by_role("button", name=name, exact=True).click()


def home(page: Page) -> None:
    """Home, from a screen beside the way."""
    page.get_by_role("button", name="Home").click()
    page.locator(".home").first.wait_for()


def screens(page: Page) -> Iterator[str]:
    """Walks through every screen there is, from home to home, and names each while it is shown."""
    page.locator(".today").wait_for()
    yield "home"
    click(page, "Play")
    is_first = True
    while True:
        page.locator(".question, .done").first.wait_for()
        if page.locator(".done").count() > 0:
            break
        drill = page.locator(".top p").inner_text().split(" · ")[0]
        yield f"question of {drill}"
        if page.get_by_role("gridcell").count() > 0:
            page.locator("[role=gridcell]:not([aria-disabled], [aria-selected=true])").first.dispatch_event(
                "click"
            )
            click(page, "Check")
        else:
            click(page, "Show me, I judge myself")
        page.locator(".answer").wait_for()
        yield f"answer of {drill}"
        page.keyboard.press("1" if is_first else "4")
        click(page, "Next")
        is_first = False
    yield "done"
    click(page, "Home")
    page.locator(".today").wait_for()
    yield "home when all is done"
    click(page, "Where you are, in full")
    yield "where you are"
    home(page)
    for name in ("Settings", "Help"):
        click(page, name)
        page.get_by_role("heading", name=name, exact=True).wait_for()
        yield name.lower()
        home(page)
    click(page, "On the wall")
    yield "the wall, to be set"
    click(page, "Begin")
    yield "a question on the wall"
    page.keyboard.press("Space")
    yield "an answer on the wall"
    click(page, "Leave")
    click(page, "Rounds")
    yield "rounds"
    click(page, "Start")
    page.locator(".beats .now").wait_for()
    click(page, "Show the neck")
    yield "a round"
    click(page, "Stop")
    page.get_by_text("played").first.wait_for()
    yield "the end of a round"
    home(page)


@pytest.fixture
def address(quiz_of: Callable[[Deck], Quiz]) -> str:
    """A deck of every drill, a card each."""
    return quiz_of(every_drill()).file.as_uri()


def serious(page: Page, **options: object) -> list[tuple[str, str]]:
    """What axe-core holds to be serious or critical, and where."""
    found = Axe().run(page, options=options).response["violations"]
    faults = [fault for fault in found if fault["impact"] in {"serious", "critical"}]
    return [(fault["id"], node["html"][:90]) for fault in faults for node in fault["nodes"]]


def test_axe_finds_nothing_serious_on_any_screen(
    new_phone: NewPhone, quiz_of: Callable[[Deck], Quiz]
) -> None:
    """Through every kind of answer; at night, where only the colours differ, these once more."""
    deck = every_drill()
    cards = tuple(card for card in deck.cards if card.drill in ONE_OF_A_KIND)
    page = opened(new_phone(), quiz_of(replace(deck, cards=cards)).file.as_uri())
    found, seen = [], []
    for screen in screens(page):
        seen.append(screen)
        found += [(screen, *fault) for fault in serious(page)]
        page.emulate_media(color_scheme="dark")
        page.locator("html[data-theme=dark]").wait_for()
        found += [(screen, *fault) for fault in serious(page, runOnly=["color-contrast"])]
        page.emulate_media(color_scheme="light")
        page.locator("html[data-theme=light]").wait_for()
    assert found == []
    assert len(set(seen)) == 12 + 2 * len(ONE_OF_A_KIND)


@pytest.mark.parametrize(
    ("width", "height", "is_mobile"),
    [(320, 256, False), (320, 568, True), (640, 400, False)],
    ids=["desktop at 400 %", "narrowest phone", "desktop at 200 %"],
)
def test_nothing_runs_out_of_a_narrow_screen(
    new_phone: NewPhone, address: str, width: int, height: int, is_mobile: bool
) -> None:
    """Also one of 1280 pixels on which everything is shown two and four times as large."""
    phone = new_phone(viewport={"width": width, "height": height}, is_mobile=is_mobile, has_touch=is_mobile)
    page = opened(phone, address)
    found = {screen: out for screen in screens(page) if (out := page.evaluate(RUNS_OUT))}
    assert found == {}
