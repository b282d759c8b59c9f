"""Playing in a real browser: by touch and by keyboard, from home to the end of a sitting and back."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from itertools import count
from typing import TYPE_CHECKING

import pytest

from drills.cards.card import Card, Deck
from drills.plan import plan
from drills.recipe.read import parse_recipe

from .conftest import NewPhone, Quiz, Served
from .student import every_drill, is_over

if TYPE_CHECKING:
    from playwright.sync_api import BrowserContext, Locator, Page

pytestmark = pytest.mark.slow

EVERY_DRILL = """
title = "Every drill"
keys = ["C"]

[[voicing]]
chord = "13#11"
lower = "b7 3"
upper = "13 9 #11"

[[voicing]]
chord = "maj13#11"
lower = "7 3"
upper = "13 9 #11"

[[progression]]
chords = "Dm7 G7 Cmaj7"
key = "C"

[drills]
ask = [
    "place", "name", "split", "join", "spell", "spot", "layer",
    "step", "mend", "cross", "turn", "top", "twin", "hear",
]

[pace]
fresh_per_day = 60
"""

ONE_DRILL = """
title = "Wednesday group"
about = "One voicing in three keys"
keys = ["C", "F", "Bb"]

[[voicing]]
chord = "13#11"
lower = "b7 3"
upper = "13 9 #11"

[drills]
ask = ["place"]
"""

NOT_PROMISED = """
if (globalThis.StorageManager) StorageManager.prototype.persisted = async () => false;
"""
REFUSED = "indexedDB.open = () => { throw new DOMException('not here', 'SecurityError'); };"


def deck_of(recipe: str) -> Deck:
    """The deck of a recipe that stands in this file."""
    return plan(parse_recipe(recipe, source="test_play.py", default_id="evening")).deck


@pytest.fixture(scope="session")
def deck() -> Deck:
    """Three cards of the drill place."""
    return deck_of(ONE_DRILL)


@pytest.fixture
def quiz(quiz_of: Callable[[Deck], Quiz], deck: Deck) -> Quiz:
    """Their page."""
    return quiz_of(deck)


@pytest.fixture
def home(phone: BrowserContext, quiz: Quiz) -> Page:
    """A phone at home, with nothing played."""
    return opened(phone, quiz.file.as_uri())


def opened(phone: BrowserContext, address: str) -> Page:
    """The page when home stands."""
    page = phone.new_page()
    page.goto(address)
    page.get_by_role("button", name="Help").wait_for()
    return page


def press(page: Page, name: str) -> None:
    """Touches a button."""
    page.get_by_role("button", name=name, exact=True).tap()


def pick(page: Page, name: str) -> None:
    """Touches one of a few: a mark, a setting."""
    page.get_by_role("radio", name=name, exact=True).tap()


def shown_card(page: Page, deck: Deck) -> Card:
    """The card of the drill place that is shown, by its chord."""
    chord = page.get_by_role("heading", level=1).inner_text()
    return next(card for card in deck.cards if card.front.head == chord)


def right_cells(page: Page, card: Card) -> list[Locator]:
    """The places that answer a card of the drill place, the lowest string first."""
    picture = card.back.picture
    assert picture is not None
    strings = len(picture.string_names)
    return [cell(page, strings - marker.string, marker.fret) for marker in picture.markers]


def cell(page: Page, number: int, fret: int) -> Locator:
    """A place on the neck; strings are counted from the highest, 1."""
    place = "open" if fret == 0 else f"fret {fret}"
    return page.get_by_role("gridcell", name=re.compile(rf"^string {number}, {place}\b"))


def chosen_mark(page: Page) -> str:
    """The mark that is filled."""
    return page.locator(".stop", has=page.locator("input:checked")).inner_text()


def judge(page: Page, mark: str | None = None) -> None:
    """Lets a card be shown and goes on with a mark, the proposed one unless said."""
    press(page, "Show me, I judge myself")
    if mark is not None:
        pick(page, mark)
    go_on(page)


def go_on(page: Page) -> None:
    """Notes the mark that is filled, and waits for what comes."""
    press(page, "Next")
    page.locator(".answer").wait_for(state="detached")


def take_back(page: Page) -> None:
    """Takes the last mark back, and waits for the answer that it was for."""
    press(page, "Undo the mark")
    page.locator(".answer").wait_for()


def to_play(page: Page) -> str:
    """How many cards home says are to be played."""
    return page.locator(".today .count").inner_text()


# --- one card -------------------------------------------------------------------------------------


def test_a_right_answer_by_touch(home: Page, deck: Deck) -> None:
    """Tapped, checked, proposed as known, and told when it comes back."""
    press(home, "Play")
    check = home.get_by_role("button", name="Check")
    assert check.is_disabled()
    for place in right_cells(home, shown_card(home, deck)):
        place.tap()
    check.tap()
    assert home.locator(".verdict").inner_text().startswith("Right.")
    assert chosen_mark(home) in {"clean", "instant"}
    go_on(home)
    assert re.search(r"(clean|instant): back in \d+ (minutes|days)", home.locator(".before").inner_text())
    assert home.locator(".top p").inner_text().startswith("place · ")


def test_a_wrong_answer_stays_on_the_neck_and_is_explained(home: Page, deck: Deck) -> None:
    """One fret too high on one string: said with both notes, drawn beside the right one, and missed."""
    press(home, "Play")
    card = shown_card(home, deck)
    for place in right_cells(home, card)[:-1]:
        place.tap()
    assert card.back.picture is not None
    cell(home, 1, card.back.picture.markers[-1].fret + 1).tap()
    press(home, "Check")
    verdict = home.locator(".verdict").inner_text()
    assert verdict.startswith("One note off. On the high E string you had")
    assert "one fret down" in verdict
    assert home.locator(".neck-picture .wrong").count() == 1
    assert chosen_mark(home) == "missed"


def test_an_undo_makes_a_right_answer_shaky(home: Page, deck: Deck) -> None:
    """Undo takes the last tap back, clear all of them."""
    press(home, "Play")
    first, *others = right_cells(home, shown_card(home, deck))
    others[0].tap()
    press(home, "Undo")
    assert home.get_by_role("gridcell", selected=True).count() == 0
    for place in (first, *others):
        place.tap()
    press(home, "Check")
    assert chosen_mark(home) == "shaky"


def test_a_card_by_keyboard_alone(new_phone: NewPhone, quiz: Quiz) -> None:
    """Arrows on the neck, Enter to place, to check and to go on; a figure for the mark; Escape goes home."""
    page = opened(new_phone(has_touch=False, is_mobile=False), quiz.file.as_uri())
    page.get_by_role("button", name="Play", exact=True).focus()
    page.keyboard.press("Enter")
    assert page.evaluate("() => document.activeElement.tagName") == "H1"
    while page.evaluate("() => document.activeElement.getAttribute('role')") != "gridcell":
        page.keyboard.press("Tab")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    assert page.get_by_role("gridcell", selected=True).count() == 1
    page.get_by_role("heading", level=1).focus()
    page.keyboard.press("Enter")
    page.locator(".verdict").wait_for()
    assert chosen_mark(page) == "missed"
    page.keyboard.press("2")
    assert chosen_mark(page) == "shaky"
    page.keyboard.press("Enter")
    page.locator(".before").wait_for()
    assert page.locator(".before").inner_text().startswith("shaky: back in ")
    page.keyboard.press("Escape")
    page.locator(".today").wait_for()


COVERED_PX = """() => {
  const edge = (what, side) => document.querySelector(what)?.getBoundingClientRect()[side] ?? 0;
  const keys = ".question > .doing, .question > .dock";
  return edge(".question .tap-neck, .question figure", "bottom") - edge(keys, "top");
}"""
"""How much of a question's neck lies under the keys to answer with."""


def test_on_a_small_phone_a_question_fits(new_phone: NewPhone, quiz_of: Callable[[Deck], Quiz]) -> None:
    """All of the neck is in sight, and so is the way back to the mark; `twin` alone says too much for it."""
    small = new_phone(viewport={"width": 360, "height": 640})
    page = opened(small, quiz_of(every_drill()).file.as_uri())
    press(page, "Play")
    judge(page, "missed")  # so that it comes again, as one of many
    out_of_sight, covered = set(), {}
    while not is_over(page):
        drill = page.locator(".top p").inner_text().split(" · ")[0]
        undo = page.get_by_role("button", name="Undo the mark").bounding_box()
        assert undo is not None
        assert undo["height"] >= 44
        if undo["y"] + undo["height"] / 2 < 0:
            out_of_sight.add(drill)
        covered[drill] = page.evaluate(COVERED_PX)
        judge(page, "instant")
    assert out_of_sight <= {"twin"}
    assert {drill: px for drill, px in covered.items() if px > 1} == {}
    assert len(covered) == len(every_drill().cards)


def test_where_a_question_does_not_fit_its_head_gives_way(
    new_phone: NewPhone, quiz_of: Callable[[Deck], Quiz], shelf_deck: Callable[[str], Deck]
) -> None:
    """The first as well as the others: seven strings on a small phone."""
    small = new_phone(viewport={"width": 360, "height": 630})
    page = opened(small, quiz_of(shelf_deck("seven-strings")).file.as_uri())
    press(page, "Play")
    page.locator(".question").wait_for()
    assert page.evaluate(COVERED_PX) <= 1


def test_a_key_takes_the_last_step_of_an_answer_back(home: Page, deck: Deck) -> None:
    """On the neck the note of the string that has the keyboard; elsewhere the last step."""
    press(home, "Play")
    low, high, *_ = right_cells(home, shown_card(home, deck))
    low.tap()
    high.tap()
    low.focus()
    home.keyboard.press("Backspace")
    assert [each.get_attribute("aria-selected") for each in (low, high)] == ["false", "true"]
    home.locator(".question h1").focus()
    home.keyboard.press("Backspace")
    assert [each.get_attribute("aria-selected") for each in (low, high)] == ["true", "true"]


def test_a_result_is_announced(home: Page) -> None:
    """Those who listen hear what those who look read, signs in words."""
    press(home, "Play")
    cell(home, 1, 1).tap()
    press(home, "Check")
    verdict = home.locator(".verdict").inner_text()
    assert "♯" in verdict
    in_words = verdict.replace("♭", " flat ").replace("♯", " sharp ")
    heard = re.sub(r" (?=[,.])", "", re.sub(" +", " ", in_words))
    # What was said of the last tap may stand there until then.
    home.wait_for_function("(text) => document.getElementById('announce').innerText === text", arg=heard)


def test_a_self_judged_card_is_proposed_clean_and_can_be_changed(home: Page) -> None:
    """Playing with the guitar in hand, the student is the judge."""
    press(home, "Play")
    press(home, "Show me, I judge myself")
    assert chosen_mark(home) == "clean"
    assert home.locator(".verdict").count() == 0
    pick(home, "missed")
    go_on(home)
    assert home.locator(".before").inner_text().startswith("missed: back in 1 minute")


# --- taking back, going back ----------------------------------------------------------------------


def test_a_mark_is_taken_back_and_given_anew(home: Page) -> None:
    """The answer is shown again with that mark; once it is gone, the card counts as never seen."""
    press(home, "Play")
    card = home.get_by_role("heading", level=1).inner_text()
    judge(home, "instant")
    take_back(home)
    assert home.get_by_role("heading", level=1).inner_text() == card
    assert chosen_mark(home) == "instant"
    home.get_by_role("button", name="Home").tap()
    assert to_play(home) == "3"
    press(home, "Play")
    pick(home, "shaky")
    go_on(home)
    assert home.locator(".before").inner_text().startswith("shaky")


def test_the_browsers_back_leads_home_and_loses_nothing(home: Page) -> None:
    """Marks are kept, an answer without its mark is waiting for it, and forward leads nowhere strange."""
    press(home, "Play")
    judge(home, "instant")
    card = home.get_by_role("heading", level=1).inner_text()
    press(home, "Show me, I judge myself")
    pick(home, "shaky")
    home.go_back()
    home.locator(".today").wait_for()
    assert to_play(home) == "2"
    assert home.get_by_role("heading", level=1).inner_text() == "Wednesday group"
    press(home, "Play")
    assert home.get_by_role("heading", level=1).inner_text() == card
    assert chosen_mark(home) == "shaky"


def test_after_forward_back_still_leads_home(home: Page) -> None:
    """A way forward that leads nowhere leaves nothing behind in the history."""
    press(home, "Play")
    home.locator(".question").wait_for()
    home.go_back()
    home.locator(".today").wait_for()
    home.go_forward()
    home.wait_for_function("history.state.depth === 0")
    press(home, "Play")
    home.locator(".question").wait_for()
    home.go_back()
    home.locator(".today").wait_for()


def test_a_tap_too_many_neither_marks_nor_shows(home: Page) -> None:
    """What comes stands where the button was: it takes a tap when a moment has passed, held still here."""
    home.evaluate("document.adoptedStyleSheets = []")
    pace = home.context.new_cdp_session(home)
    pace.send("Animation.enable")
    press(home, "Play")
    for name, coming in (("Show me, I judge myself", ".answer"), ("Next", ".question")):
        button = home.get_by_role("button", name=name, exact=True)
        button.tap(trial=True)
        box = button.bounding_box()
        assert box is not None
        pace.send("Animation.setPlaybackRate", {"playbackRate": 0})
        for _ in range(2):
            home.touchscreen.tap(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
            home.locator(coming).wait_for()
        home.wait_for_timeout(100)
        assert home.locator(coming).count() == 1
        pace.send("Animation.setPlaybackRate", {"playbackRate": 1})


def test_the_end_tells_what_was_and_what_comes(home: Page) -> None:
    """Marks on their string, what slipped, the next day; the last mark can still be taken back."""
    press(home, "Play")
    judge(home, "missed")
    for _ in range(2):
        judge(home, "instant")
    judge(home, "instant")
    home.get_by_role("heading", name="Done for today").wait_for()
    marks, times = (home.locator(f".counts {part}").all_inner_texts() for part in ("dt", "dd"))
    assert dict(zip(marks, times, strict=True)) == {"missed": "1", "shaky": "0", "clean": "0", "instant": "3"}
    assert home.locator(".slipped li").count() == 1
    assert re.search(r"(Tomorrow|In \d+ days): \d+ cards?\.", home.locator(".coming").inner_text())
    take_back(home)
    assert chosen_mark(home) == "instant"
    go_on(home)
    home.get_by_role("heading", name="Done for today").wait_for()
    home.go_back()
    home.get_by_role("main").get_by_text("Done for today. Let it settle.").wait_for()


@pytest.fixture
def done(phone: BrowserContext, quiz: Quiz, clock_at: Callable[[BrowserContext, str], None]) -> Page:
    """A phone at home on Monday, 4 January 2027, when all three cards were played and have settled."""
    clock_at(phone, "2027-01-04 18:30")
    page = opened(phone, quiz.file.as_uri())
    press(page, "Play")
    for _ in range(3):
        judge(page, "instant")
    press(page, "Home")
    page.get_by_role("main").get_by_text("Done for today.").wait_for()
    return page


def test_a_day_off_is_not_called_done(done: Page, clock_at: Callable[[BrowserContext, str], None]) -> None:
    """A day on which nothing is due and nothing was played."""
    clock_at(done.context, "2027-01-05 18:30")
    done.reload()
    done.get_by_role("main").get_by_text("Nothing to play today.").wait_for()


def test_home_left_in_sight_shows_the_new_day(
    done: Page, clock_at: Callable[[BrowserContext, str], None]
) -> None:
    """When it starts, a week later and again on the day after."""
    for morning in ("2027-01-13 04:01", "2027-01-14 04:01"):
        clock_at(done.context, morning)
        done.locator(".today .count").wait_for()
        done.evaluate("document.querySelector('.today').remove()")


def test_only_the_weak_spots(home: Page) -> None:
    """A card that was missed is a weak spot; practised alone, it comes again until it is not missed."""
    assert home.get_by_role("button", name="Only the weak spots").count() == 0
    press(home, "Play")
    judge(home, "missed")
    home.get_by_role("button", name="Home").tap()
    press(home, "Only the weak spots")
    assert home.locator(".top p").inner_text() == "place · 1 of 1"
    judge(home, "missed")
    judge(home, "clean")
    home.get_by_role("heading", name="The weak spots are through").wait_for()


# --- the whole ------------------------------------------------------------------------------------


@pytest.mark.parametrize("neck", ["across", "down"])
def test_every_drill_is_played_to_the_end(
    phone: BrowserContext, quiz_of: Callable[[Deck], Quiz], neck: str
) -> None:
    """Each with some answer, checked where it can be; no fault on the console."""
    deck = deck_of(EVERY_DRILL)
    page = opened(phone, quiz_of(deck).file.as_uri())
    if neck == "down":
        press(page, "Settings")
        pick(page, "down")
        page.get_by_role("button", name="Home").tap()
    press(page, "Play")
    played = set()
    for _ in range(len(deck.cards)):
        page.locator(".question").wait_for()
        played.add(page.locator(".top p").inner_text().split(" · ")[0])
        give_something(page)
        page.locator(".question .main").tap()
        page.locator(".answer").wait_for()
        page.keyboard.press("4")
        go_on(page)
    page.get_by_role("heading", name="Done for today").wait_for()
    assert played == {card.drill for card in deck.cards}


def give_something(page: Page) -> None:
    """Answers until it can be checked: a note on the neck, an option, or key after key."""
    ready = page.locator(".question .main:enabled")
    for n in count():
        if ready.count() > 0:
            return
        assert n < 40, "the question takes no answer"
        if page.get_by_role("gridcell").count() > 0:
            cell(page, 1 + n, 3).dispatch_event("click")
        elif page.locator(".question").get_by_role("radio").count() > 0:
            page.locator(".question").get_by_role("radio").first.dispatch_event("click")
        elif page.get_by_role("button", name="That is all").count() > 0:
            press(page, "That is all")
        else:
            page.locator(".pad .key").first.tap()


def test_a_range_of_weeks_stays_on_one_line(
    new_phone: NewPhone, quiz_of: Callable[[Deck], Quiz], deck: Deck
) -> None:
    """With the colon after it; however narrow the screen, and the title is the same text."""
    title = "Riverside evening group, weeks 10–12: home by half steps"
    address = quiz_of(replace(deck, title=title)).file.as_uri()
    tops = """(heading) => [...heading.textContent].map((_, at) => {
      const walker = document.createTreeWalker(heading, NodeFilter.SHOW_TEXT);
      let node = walker.nextNode();
      for (; at >= node.length; node = walker.nextNode()) at -= node.length;
      const range = new Range();
      range.setStart(node, at);
      range.setEnd(node, at + 1);
      return Math.round(range.getBoundingClientRect().top);
    })"""
    start = title.index("10")
    for width in range(280, 400, 10):
        heading = opened(new_phone(viewport={"width": width, "height": 640}), address).locator("h1")
        assert heading.inner_text() == title
        lines = heading.evaluate(tops)
        assert len(set(lines)) > 1
        assert len(set(lines[start : start + len("10–12:")])) == 1


def test_what_a_deck_is_about_is_said_until_it_is_begun(home: Page) -> None:
    """Then the way to settings and help has the room; the help still says it."""
    about = home.get_by_role("main").get_by_text("One voicing in three keys")
    assert about.is_visible()
    press(home, "Play")
    judge(home)
    press(home, "Home")
    home.locator(".today").wait_for()
    assert about.count() == 0
    press(home, "Help")
    about.wait_for()


def test_the_count_goes_down_and_survives_a_reload(home: Page) -> None:
    """What was marked is kept, and home counts what is left."""
    assert to_play(home) == "3"
    assert "for the first time" in home.locator(".today").inner_text()
    press(home, "Play")
    judge(home, "instant")
    home.reload()
    home.locator(".today").wait_for()
    assert to_play(home) == "2"


def test_two_open_tabs_agree(phone: BrowserContext, quiz: Quiz, served: Served) -> None:
    """A mark in one tab shows in the count of the other."""
    address = served(quiz.folder)
    one, other = (opened(phone, address) for _ in range(2))
    one.bring_to_front()
    press(one, "Play")
    judge(one, "instant")
    other.locator(".today .count", has_text="2").wait_for()


def test_the_theme_follows_the_phone(home: Page) -> None:
    """While it changes its mind too; a theme that was set stands."""
    home.locator("html[data-theme=light]").wait_for()
    home.emulate_media(color_scheme="dark")
    home.locator("html[data-theme=dark]").wait_for()
    press(home, "Settings")
    pick(home, "light")
    home.locator("html[data-theme=light]").wait_for()


def test_the_offer_of_the_home_screen_is_kept_until_it_is_taken(home: Page) -> None:
    """The browser's own is held back; a button asks it once, and then the line is gone."""
    home.evaluate(
        """() => {
          const offer = new Event("beforeinstallprompt", { cancelable: true });
          offer.prompt = () => { window.isAsked = offer.defaultPrevented; };
          dispatchEvent(offer);
        }"""
    )
    press(home, "Put it there")
    assert home.evaluate("() => window.isAsked") is True
    assert home.get_by_role("button", name="Put it there").count() == 0


# --- bad input, bad luck --------------------------------------------------------------------------


def test_a_title_that_is_markup_is_text(
    phone: BrowserContext, quiz_of: Callable[[Deck], Quiz], deck: Deck
) -> None:
    """Shown as it is written, on the screen and on the tab."""
    title = "<img src=x onerror=alert(1)> & </script>"
    page = opened(phone, quiz_of(replace(deck, title=title)).file.as_uri())
    assert page.get_by_role("heading", level=1).inner_text() == title
    assert page.title() == title
    assert page.locator("#screen img").count() == 0


def test_a_browser_that_keeps_nothing_is_said_so(phone: BrowserContext, quiz: Quiz) -> None:
    """With what it means and what to do; playing works all the same."""
    phone.add_init_script(REFUSED)
    page = opened(phone, quiz.file.as_uri())
    page.get_by_role("main").get_by_text("This browser keeps nothing for this page").wait_for()
    press(page, "Play")
    judge(page, "instant")
    page.get_by_role("button", name="Home").tap()
    assert to_play(page) == "2"
    press(page, "Save a progress file")
    page.get_by_role("heading", name="Settings").wait_for()


def test_a_mark_that_cannot_be_written_is_said_so(home: Page) -> None:
    """It counts, and the next that can be written takes it along."""
    home.evaluate(
        """() => {
          window.put = IDBObjectStore.prototype.put;
          IDBObjectStore.prototype.put = () => { throw new DOMException("no room", "QuotaExceededError"); };
        }"""
    )
    press(home, "Play")
    judge(home, "instant")
    assert "no room left" in home.get_by_role("alert").inner_text()
    home.evaluate("() => { IDBObjectStore.prototype.put = window.put; }")
    judge(home, "instant")
    assert home.get_by_role("alert").count() == 0
    home.reload()
    home.locator(".today").wait_for()
    assert to_play(home) == "1"


def test_a_damaged_deck_is_said_so(phone: BrowserContext, quiz: Quiz, faults: list[str]) -> None:
    """In words, with what to do, instead of an empty screen."""
    whole = quiz.file.read_text(encoding="utf-8")
    broken = re.sub(r'(id="deck">).*?(</script>)', r"\1{\2", whole, flags=re.DOTALL)
    quiz.file.write_text(broken, encoding="utf-8")
    page = phone.new_page()
    page.goto(quiz.file.as_uri())
    page.get_by_role("heading", name="This quiz cannot start").wait_for()
    assert "another copy" in page.locator("#screen").inner_text()
    assert faults
    faults.clear()


def test_a_newer_deck_is_offered_and_keeps_progress(
    phone: BrowserContext, quiz_of: Callable[[Deck], Quiz], served: Served, deck: Deck
) -> None:
    """The old one stays until the student goes over."""
    address = served(quiz_of(deck).folder)
    page = opened(phone, address)
    page.evaluate("() => navigator.serviceWorker.ready")
    press(page, "Play")
    judge(page, "instant")
    quiz_of(replace(deck, title="Wednesday group, corrected"))
    page.goto(address)
    press(page, "Go over to it")
    page.get_by_role("heading", name="Wednesday group, corrected").wait_for()
    assert to_play(page) == "2"


def test_a_week_without_a_promise_asks_for_a_file(
    phone: BrowserContext, quiz: Quiz, clock_at: Callable[[BrowserContext, str], None]
) -> None:
    """Where neither the browser's promise nor the home screen keeps progress; not before."""
    phone.add_init_script(NOT_PROMISED)
    clock_at(phone, "2027-01-04 18:30")
    page = opened(phone, quiz.file.as_uri())
    press(page, "Play")
    judge(page, "instant")
    page.get_by_role("button", name="Home").tap()
    reminder = page.get_by_role("main").get_by_text("Save it once a week")
    page.wait_for_timeout(200)
    assert reminder.count() == 0
    clock_at(phone, "2027-01-12 18:30")
    page.reload()
    reminder.wait_for()
