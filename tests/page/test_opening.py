"""How the page opens: from a file and from a host, with and without scripts, asking nobody outside."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from drills.cards.card import Deck

from .conftest import NewPhone, Quiz, Served

if TYPE_CHECKING:
    from playwright.sync_api import BrowserContext, Page

pytestmark = pytest.mark.slow

RECIPE = "weeks-01-02-one-layer"
SAVE = """() => {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob(["progress"], { type: "application/json" }));
  link.download = "progress.json";
  link.click();
}"""


@pytest.fixture
def quiz(quiz_of: Callable[[Deck], Quiz], shelf_deck: Callable[[str], Deck]) -> Quiz:
    """A page in both shapes."""
    return quiz_of(shelf_deck(RECIPE))


@pytest.fixture(params=["file", "folder"])
def address(request: pytest.FixtureRequest, quiz: Quiz, served: Served) -> str:
    """Where each shape opens."""
    return quiz.file.as_uri() if request.param == "file" else served(quiz.folder)


def opened(phone: BrowserContext, address: str) -> Page:
    """The page when its first screen stands."""
    page = phone.new_page()
    page.goto(address)
    page.get_by_role("button").first.wait_for()
    return page


def test_the_page_asks_for_nothing_outside(phone: BrowserContext, address: str) -> None:
    """Each request goes to where the page came from, or stays within it."""
    asked: list[str] = []
    phone.on("request", lambda request: asked.append(request.url))
    opened(phone, address).wait_for_timeout(300)
    assert asked
    assert [url for url in asked if not url.startswith((address, "data:", "blob:"))] == []


def test_a_script_that_is_not_the_pages_own_does_not_run(
    phone: BrowserContext, address: str, faults: list[str]
) -> None:
    """Nor does text as code; the page's policy sees to both."""
    page = opened(phone, address)
    page.evaluate(
        """() => {
          const script = document.createElement("script");
          script.textContent = "globalThis.strange = true";
          document.body.append(script);
        }"""
    )
    assert page.evaluate("() => globalThis.strange ?? null") is None
    assert faults
    assert all("Content Security Policy" in fault for fault in faults)
    faults.clear()


def test_a_file_can_be_saved_out_of_the_page(phone: BrowserContext, address: str) -> None:
    """The policy lets a download of the page's own making pass."""
    page = opened(phone, address)
    with page.expect_download() as saved:
        page.evaluate(SAVE)
    assert saved.value.suggested_filename == "progress.json"
    assert saved.value.path().read_text() == "progress"


def test_without_scripts_the_page_says_where_to_open_it(new_phone: NewPhone, address: str) -> None:
    """After a moment in which a script would have begun; with the cautions of the deck."""
    phone = new_phone(java_script_enabled=False)
    page = phone.new_page()
    pace = phone.new_cdp_session(page)
    pace.send("Animation.enable")
    pace.send("Animation.setPlaybackRate", {"playbackRate": 0})
    page.goto(address)
    words = page.get_by_text("it does not run here yet")
    assert not words.is_visible()
    pace.send("Animation.setPlaybackRate", {"playbackRate": 1})
    words.wait_for(state="visible", timeout=5_000)
    assert page.get_by_text("open it with a browser").is_visible()
    assert page.get_by_text("If it hurts, stop").is_visible()


def test_those_words_wait_for_no_motion_where_none_is_wanted(new_phone: NewPhone, address: str) -> None:
    """They stand there at once."""
    page = new_phone(java_script_enabled=False, reduced_motion="reduce").new_page()
    page.goto(address)
    assert page.get_by_text("it does not run here yet").is_visible()


@pytest.mark.parametrize(
    ("shape", "cut_at", "words"),
    [
        ("file", '"fourths"', "Its cards cannot be read"),
        ("file", '<script type="application/json"', "The page was not loaded to its end."),
        ("folder", None, "A browser does not open this folder from disk."),
    ],
    ids=["cut off within the cards", "cut off before the cards", "a folder on disk"],
)
def test_a_page_that_cannot_start_says_why(
    phone: BrowserContext, quiz: Quiz, faults: list[str], shape: str, cut_at: str | None, words: str
) -> None:
    """Half a download, and the folder that only a host can open."""
    if cut_at is not None:
        quiz.file.write_text(quiz.file.read_text(encoding="utf-8").partition(cut_at)[0], encoding="utf-8")
    page = phone.new_page()
    page.goto((quiz.file if shape == "file" else quiz.folder / "index.html").as_uri())
    page.get_by_role("heading", name="This quiz cannot start").wait_for()
    assert page.get_by_text(words).is_visible()
    assert faults
    faults.clear()


def test_a_title_of_markup_is_shown_as_it_is_written(
    phone: BrowserContext, quiz_of: Callable[[Deck], Quiz], shelf_deck: Callable[[str], Deck], served: Served
) -> None:
    """In the tab and on the first screen, and it does nothing."""
    evil = "<img src=x onerror=\"document.title='taken'\"></script><b>Week</b> & 3"
    quiz = quiz_of(replace(shelf_deck(RECIPE), id="evil", title=evil, about=(evil,)))
    for address in (quiz.file.as_uri(), served(quiz.folder)):
        page = opened(phone, address)
        assert page.title() == evil
        assert page.get_by_role("heading", level=1).inner_text() == evil
        assert page.locator("img").count() == page.locator("b", has_text="Week").count() == 0
