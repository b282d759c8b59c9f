"""The view for a class in the room: large, by keys and by touch, and nothing stored."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from drills.cards.card import Deck

from .conftest import NewPhone

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page

    from .conftest import Quiz

WALLS = [(1280, 800), (1920, 1080)]


@pytest.fixture
def quiz(quiz_of: Callable[[Deck], Quiz], shelf_deck: Callable[[str], Deck]) -> Quiz:
    """Weeks three to five: places, splits, joins and more."""
    return quiz_of(shelf_deck("weeks-03-05-third-and-seventh-below"))


@pytest.fixture
def wall(quiz: Quiz, new_phone: NewPhone) -> Callable[..., Page]:
    """A computer at a projector, at the set-up of the view; `wall(width, height)`."""

    def at(width: int = 1280, height: int = 800, **options: Any) -> Page:
        desk = {"viewport": {"width": width, "height": height}, "has_touch": False, "is_mobile": False}
        page = new_phone(**desk | options).new_page()
        page.goto(quiz.file.as_uri())
        page.get_by_role("button", name="On the wall").press("Enter")
        page.get_by_role("heading", name="On the wall").wait_for()
        return page

    return at


def shown(page: Page) -> str:
    """What the slide says."""
    return page.locator(".slide").inner_text()


def number(page: Page) -> str:
    """The card's number among all."""
    return page.locator(".strip .count").inner_text()


def button_text(page: Page) -> str:
    """What going on would do."""
    return page.locator(".strip .main").inner_text()


@pytest.mark.parametrize(
    ("forward", "backward"), [("Space", "ArrowLeft"), ("Enter", "PageUp"), ("ArrowRight", "ArrowLeft")]
)
def test_keys_lead_through_questions_and_answers(
    wall: Callable[..., Page], forward: str, backward: str
) -> None:
    """Question, answer, next question; and back the same way."""
    page = wall()
    page.get_by_role("button", name="Begin").click()
    steps = [(shown(page), button_text(page))]
    for _ in range(4):
        page.keyboard.press(forward)
        steps.append((shown(page), button_text(page)))
    assert [text for _, text in steps] == ["Answer", "Next", "Answer", "Next", "Answer"]
    assert len({said for said, _ in steps}) == 5
    assert number(page).startswith("3 of ")
    for step in reversed(steps[:-1]):
        page.keyboard.press(backward)
        assert (shown(page), button_text(page)) == step
    page.keyboard.press(backward)
    assert number(page).startswith("1 of ")


def test_space_on_a_button_presses_it_once(wall: Callable[..., Page]) -> None:
    """After a click on the button the keys still go one step at a time."""
    page = wall()
    page.get_by_role("button", name="Begin").click()
    page.get_by_role("button", name="Answer").click()
    page.keyboard.press("Space")
    assert (number(page)[:4], button_text(page)) == ("2 of", "Answer")


def test_a_tap_on_the_card_goes_on(wall: Callable[..., Page]) -> None:
    """On a tablet the slide itself is the button."""
    page = wall(820, 1180, has_touch=True)
    page.get_by_role("button", name="Begin").tap()
    page.locator(".stage").tap()
    assert button_text(page) == "Next"
    page.locator(".stage").tap()
    assert number(page).startswith("2 of ")


@pytest.mark.parametrize("width", [360, 390])
def test_its_buttons_stay_whole_on_a_phone(wall: Callable[..., Page], width: int) -> None:
    """Three to a row under those that lead on, before the answer and after it."""
    page = wall(width, 844)
    page.get_by_role("button", name="Begin").click()
    for _ in range(2):
        tops = page.locator(".strip .aid").evaluate_all("(all) => all.map((each) => each.offsetTop)")
        assert len(tops) == 3
        assert len(set(tops)) == 1
        leads = page.locator(".strip > :not(.aid)").evaluate_all("(all) => all.map((each) => each.offsetTop)")
        assert max(leads) < tops[0]
        page.locator(".strip .main").click()


def test_those_who_listen_hear_the_slide(wall: Callable[..., Page]) -> None:
    """Line by line, layers by their names, the neck in words and not sign by sign."""
    page = wall()
    page.get_by_role("button", name="Begin").click()
    page.keyboard.press("ArrowRight")
    page.wait_for_function("() => document.getElementById('announce').textContent.includes('string 1')")
    announced = page.locator("#announce").text_content() or ""
    lines = announced.split("\n")
    assert lines[0] == page.locator(".slide h1").inner_text()
    assert "The upper layer:" in map(str.strip, lines)
    assert "E A D G B E" not in announced.replace("\n", " ")
    assert not any(sign in line for line in lines for sign in "♭♯△")


def test_it_ends_at_the_last_answer(wall: Callable[..., Page]) -> None:
    """One drill only: few cards, and the last one has no next."""
    page = wall()
    for drill in ("place", "split", "join", "layer", "mend", "twin"):
        page.get_by_role("checkbox", name=drill).uncheck()
    page.get_by_role("button", name="Begin").click()
    last = int(number(page).split()[-1])
    for _ in range(2 * last + 3):
        page.keyboard.press("Space")
    assert number(page) == f"{last} of {last}"
    assert page.locator(".strip .main").is_disabled()


def test_drills_are_chosen_and_at_least_one(wall: Callable[..., Page]) -> None:
    """The number of cards follows; with none there is nothing to begin."""
    page = wall()
    everything = int(page.get_by_role("status").inner_text().split()[0])
    page.get_by_role("checkbox", name="place").uncheck()
    assert int(page.get_by_role("status").inner_text().split()[0]) < everything
    for box in page.get_by_role("checkbox").all():
        box.uncheck()
    assert page.get_by_text("Choose at least one drill.").is_visible()
    assert page.get_by_role("button", name="Begin").is_disabled()


def test_shuffled_is_another_order_of_the_same_cards(wall: Callable[..., Page]) -> None:
    """The same number of cards, and not the deck's first ones."""
    page = wall()
    page.get_by_role("button", name="Begin").click()
    count = number(page)
    first = [shown(page)]
    for _ in range(5):
        page.keyboard.press("Space")
        page.keyboard.press("Space")
        first.append(shown(page))
    page = wall()
    page.get_by_role("radio", name="shuffled").check()
    page.get_by_role("button", name="Begin").click()
    shuffled = [shown(page)]
    for _ in range(5):
        page.keyboard.press("Space")
        page.keyboard.press("Space")
        shuffled.append(shown(page))
    assert number(page).split()[-1] == count.split()[-1]
    assert shuffled != first


def test_light_and_dark_turn_by_key_and_come_back_on_leaving(wall: Callable[..., Page]) -> None:
    """D turns the ground for the room; the setting of the phone is not touched."""
    page = wall()
    theme = "document.documentElement.dataset.theme"
    page.get_by_role("button", name="Begin").click()
    page.keyboard.press("d")
    assert page.evaluate(theme) == "dark"
    page.get_by_role("button", name="Leave").click()
    page.get_by_role("button", name="On the wall").wait_for()
    assert page.evaluate(theme) == "light"


def test_keys_do_nothing_any_more_after_leaving(wall: Callable[..., Page]) -> None:
    """The listener goes with the view."""
    page = wall()
    page.get_by_role("button", name="Begin").click()
    page.get_by_role("button", name="Leave").click()
    page.keyboard.press("d")
    assert page.evaluate("document.documentElement.dataset.theme") == "light"


def test_sound_on_demand_gives_nothing_away(wall: Callable[..., Page]) -> None:
    """S is quiet before the answer of a card that says nothing beforehand, and plays the voicing after it."""
    page = wall()
    page.evaluate(
        "void (() => { window.started = 0; const start = AudioBufferSourceNode.prototype.start;"
        " AudioBufferSourceNode.prototype.start = function (...when) {"
        " started += 1; return start.apply(this, when); }; })()"
    )
    page.get_by_role("button", name="Begin").click()
    page.keyboard.press("s")
    assert page.evaluate("started") == 0
    page.keyboard.press("Space")
    page.keyboard.press("s")
    assert page.evaluate("started") >= 2


def test_nothing_is_stored(wall: Callable[..., Page]) -> None:
    """After a whole lesson on the wall today's count is what it was."""
    page = wall()
    page.get_by_role("button", name="Home").click()
    before = page.locator(".count").first.inner_text()
    page.get_by_role("button", name="On the wall").press("Enter")
    page.get_by_role("button", name="Begin").click()
    for _ in range(12):
        page.keyboard.press("Space")
    page.get_by_role("button", name="Leave").click()
    assert page.locator(".count").first.inner_text() == before
    page.reload()
    assert page.locator(".count").first.inner_text() == before


@pytest.mark.parametrize(("width", "height"), WALLS)
def test_it_fills_the_wall_and_can_be_read_from_the_back(
    wall: Callable[..., Page], width: int, height: int
) -> None:
    """No card of the deck needs scrolling; its smallest text is at least a fortieth of the wall's height.

    From memory: signs are made so that letters stand some 1/200 of the distance high. A wall two metres high,
    read from ten metres, asks for 5 cm, a fortieth.
    """
    page = wall(width, height)
    page.get_by_role("button", name="Begin").click()
    cards = int(number(page).split()[-1])
    for step in range(2 * min(cards, 40)):
        over, smallest = page.evaluate(
            """() => {
              const stage = document.querySelector(".stage");
              const all = [...document.querySelectorAll(".slide .said *")];
              const texts = all.filter((it) => it.textContent.trim());
              const sizes = texts.map((it) => parseFloat(getComputedStyle(it).fontSize));
              return [stage.scrollHeight - stage.clientHeight, Math.min(...sizes)];
            }"""
        )
        assert over <= 1, (step, shown(page))
        assert smallest >= height / 40, (step, shown(page))
        page.keyboard.press("ArrowRight")
