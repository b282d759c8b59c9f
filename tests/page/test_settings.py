"""What a student sets and where progress goes, in a real browser, by touch and by keyboard."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from drills.cards.card import Deck

from .conftest import NewPhone

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page

    from .conftest import Quiz

DECK = "weeks-01-02-one-layer"


@pytest.fixture
def quiz(quiz_of: Callable[[Deck], Quiz], shelf_deck: Callable[[str], Deck]) -> Quiz:
    """The page of the first two weeks."""
    return quiz_of(shelf_deck(DECK))


@pytest.fixture
def settings(quiz: Quiz, new_phone: NewPhone) -> Page:
    """A phone that shows the settings."""
    return opened(new_phone(accept_downloads=True).new_page(), quiz)


def opened(page: Page, quiz: Quiz) -> Page:
    """Opens the quiz and goes to its settings."""
    page.goto(quiz.file.as_uri())
    page.get_by_role("button", name="Settings").press("Enter")
    page.get_by_role("heading", name="Settings").wait_for()
    return page


_WRITTEN = """(isSoundOn) => new Promise((resolve) => {
  const request = indexedDB.open("layered-voicing drills");
  request.onsuccess = () => {
    const reading = request.result.transaction("meta").objectStore("meta").get("settings");
    reading.onsuccess = () => {
      request.result.close();
      resolve(reading.result?.isSoundOn === isSoundOn);
    };
  };
})"""


def kept(page: Page) -> dict[str, Any]:
    """What the page shows after it was loaded anew.

    Settings are written one after another: once the sound was turned and turned back, all else is written.
    """
    sound = page.get_by_role("checkbox", name="Sound on")
    for _ in range(2):
        sound.tap()
        page.wait_for_function(_WRITTEN, arg=sound.is_checked())
    page.reload()
    page.get_by_role("button", name="Settings").press("Enter")
    return shown(page)


def shown(page: Page) -> dict[str, Any]:
    """Every control of the settings by its name."""
    radios = page.get_by_role("radio", checked=True).all()
    return {
        "picked": [radio.evaluate("it => it.parentElement.textContent") for radio in radios],
        "a4": page.get_by_role("spinbutton", name="A above").input_value(),
        "sound": page.get_by_role("checkbox", name="Sound on").is_checked(),
        "day": page.get_by_role("combobox", name="A new day").input_value(),
    }


def test_everything_set_by_touch_is_there_after_a_reload(settings: Page) -> None:
    """There is nothing to confirm: each tap is kept."""
    assert shown(settings) == {
        "picked": ["as the deck", "across", "as the phone", "by degree", "as the deck: 5"],
        "a4": "440",
        "sound": True,
        "day": "4",
    }
    for name in ("left-handed", "down", "dark", "plain", "my own number"):
        settings.get_by_role("radio", name=name).tap()
    settings.get_by_role("button", name="more: A above").tap()
    settings.get_by_role("button", name="less: Fresh cards").tap()
    settings.get_by_role("checkbox", name="Sound on").tap()
    settings.get_by_role("combobox", name="A new day").select_option("6")
    assert kept(settings) == {
        "picked": ["left-handed", "down", "dark", "plain", "my own number"],
        "a4": "441",
        "sound": False,
        "day": "6",
    }
    assert settings.get_by_role("spinbutton", name="Fresh cards").input_value() == "4"


def test_the_theme_changes_at_once_and_goes_back_to_the_phone(settings: Page) -> None:
    """Light, dark, or as the phone; the ground tells."""
    theme = "document.documentElement.dataset.theme"
    assert settings.evaluate(theme) == "light"
    settings.get_by_role("radio", name="dark").tap()
    assert settings.evaluate(theme) == "dark"
    settings.get_by_role("radio", name="as the phone").tap()
    assert settings.evaluate(theme) == "light"


def test_settings_by_keyboard_alone(settings: Page) -> None:
    """Tab leads from control to control, arrows pick, Space ticks."""
    settings.get_by_role("radio", name="as the deck", exact=True).focus()
    settings.keyboard.press("ArrowRight")
    settings.keyboard.press("Tab")
    settings.keyboard.press("ArrowRight")
    settings.keyboard.press("Tab")
    settings.keyboard.press("Space")
    state = kept(settings)
    assert state["picked"][:2] == ["right-handed", "down"]
    assert state["sound"] is False


@pytest.mark.parametrize(
    ("typed", "shown"), [("415", "415"), ("399", "400"), ("999", "480"), ("", "440"), ("440.4", "440")]
)
def test_a_pitch_reference_that_cannot_be_is_mended(settings: Page, typed: str, shown: str) -> None:
    """The reference stays between 400 and 480 Hz; an empty field goes back to what was."""
    field = settings.get_by_role("spinbutton", name="A above")
    field.fill(typed)
    field.press("Tab")
    assert field.input_value() == shown
    assert kept(settings)["a4"] == shown


def test_the_direction_of_the_neck_reaches_the_card(settings: Page) -> None:
    """Who wants the strings to run down sees such a neck on the next question."""
    settings.get_by_role("radio", name="down").tap()
    settings.get_by_role("button", name="Home").tap()
    settings.get_by_role("button", name="Play", exact=True).tap()
    settings.locator(".tap-neck, .neck-picture").first.wait_for()
    assert settings.locator(".tap-neck.down, .neck-picture.down").count() > 0


def test_progress_goes_out_to_a_file_and_comes_in_on_another_phone(
    settings: Page, quiz: Quiz, new_phone: NewPhone, tmp_path: Path
) -> None:
    """One marked card and a name travel in the file; reading it a second time adds nothing."""
    settings.get_by_role("button", name="Home").tap()
    settings.get_by_role("button", name="Play", exact=True).tap()
    settings.get_by_role("button", name="Show me").tap()
    settings.get_by_role("button", name="Next").tap()
    settings.get_by_role("button", name="Show me").wait_for()
    settings.keyboard.press("Escape")
    settings.get_by_role("button", name="Settings").press("Enter")
    settings.get_by_role("textbox").fill("Third chair <b>")
    with settings.expect_download() as coming:
        settings.get_by_role("button", name="Save a progress file").tap()
    today = settings.evaluate("new Date().toISOString().slice(0, 10)")
    assert coming.value.suggested_filename == f"progress-{today}.json"
    file = tmp_path / coming.value.suggested_filename
    coming.value.save_as(file)
    assert json.loads(file.read_text(encoding="utf-8"))["student"] == "Third chair <b>"

    other = opened(new_phone().new_page(), quiz)
    read_in(other, file)
    other.get_by_role("main").get_by_text("1 new review of 1 card").wait_for()
    read_in(other, file)
    other.get_by_role("main").get_by_text("Nothing new: 1 review was here already.").wait_for()
    other.get_by_role("button", name="Home").tap()
    other.get_by_role("main").get_by_text("to play today").wait_for()


def read_in(page: Page, file: Path | dict[str, Any]) -> None:
    """Picks a file as a student does."""
    with page.expect_file_chooser() as chooser:
        page.get_by_role("button", name="Read a progress file").tap()
    chooser.value.set_files(file)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("The rehearsal is at eight.", "no progress file"),
        ("", "no progress file"),
        ('{"format": "something else"}', "no progress file"),
        ('{\n"format": "layered-voicing drills progress",\n"version": 999,\n"cards": {}}', "newer page"),
        ('{\n"format": "layered-voicing drills progress",\n"version": 1,\n"cards": {\n"k3J', "damaged"),
    ],
)
def test_a_file_that_is_none_is_told_and_changes_nothing(settings: Page, text: str, said: str) -> None:
    """Foreign, empty, newer and broken files: a sentence each, and what is kept stays."""
    read_in(settings, {"name": "x.json", "mimeType": "application/json", "buffer": text.encode()})
    settings.get_by_role("main").get_by_text(said).wait_for()
    settings.get_by_role("main").get_by_text("Nothing was changed").wait_for()


def test_a_file_of_more_than_20_mb_is_refused_before_it_is_read(settings: Page, tmp_path: Path) -> None:
    """Its size is enough; the browser never loads it."""
    large = tmp_path / "large.json"
    with large.open("wb") as file:
        file.truncate(20_000_001)
    settings.evaluate("void (File.prototype.text = () => { throw new Error('was read'); })")
    read_in(settings, large)
    settings.get_by_role("main").get_by_text("far larger than progress can be").wait_for()


def test_the_page_says_how_well_progress_is_kept(settings: Page) -> None:
    """Nothing leaves by itself; the browser may clear it, and asking it is one tap away."""
    settings.get_by_role("main").get_by_text("Nothing leaves this phone by itself").wait_for()
    settings.get_by_role("main").get_by_text("may clear your progress").wait_for()
    settings.evaluate("void (navigator.storage.persist = async () => true)")
    settings.get_by_role("button", name="Ask to keep it").tap()
    settings.get_by_role("main").get_by_text("has promised to keep").wait_for()


def test_a_browser_that_keeps_nothing_is_told_in_the_settings(quiz: Quiz, new_phone: NewPhone) -> None:
    """Without a store the page works on, and says what to do before it is closed."""
    page = new_phone().new_page()
    page.add_init_script("Object.defineProperty(globalThis, 'indexedDB', { value: null })")
    opened(page, quiz)
    page.get_by_role("main").get_by_text("refuses to keep anything").wait_for()
