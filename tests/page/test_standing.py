"""Where you are: the same facts as pictures and in words, and a button to practise what is weakest."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
from axe_playwright_python.sync_playwright import Axe

from drills.cards.card import Deck
from drills.cards.identity import short_id
from drills.theory.chord import FOURTHS

from .conftest import NewPhone

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import BrowserContext, Page

    from .conftest import Quiz

NOW = "2027-01-04 18:30"
NOW_MS = 1_799_087_400_000
DAY_MS = 86_400_000


@pytest.fixture
def deck(shelf_deck: Callable[[str], Deck]) -> Deck:
    """The first two weeks."""
    return shelf_deck("weeks-01-02-one-layer")


@pytest.fixture
def standing(
    deck: Deck,
    quiz_of: Callable[[Deck], Quiz],
    new_phone: NewPhone,
    clock_at: Callable[[BrowserContext, str], None],
) -> Callable[..., Page]:
    """A phone at the screen, after a progress file was read: `standing({card id: [(days ago, mark), …]})`."""

    def at(history: dict[str, list[tuple[int, int]]], **options: Any) -> Page:
        phone = new_phone(**options)
        clock_at(phone, NOW)
        page = phone.new_page()
        page.goto(quiz_of(deck).file.as_uri())
        if history:
            page.get_by_role("button", name="Settings").press("Enter")
            with page.expect_file_chooser() as chooser:
                page.get_by_role("button", name="Read a progress file").click()
            file = {"name": "progress.json", "mimeType": "application/json", "buffer": progress(history)}
            chooser.value.set_files(file)  # type: ignore[arg-type]
            page.get_by_role("main").get_by_text("new review").wait_for()
            page.get_by_role("button", name="Home").click()
        page.get_by_role("button", name="Where you are").press("Enter")
        page.get_by_role("heading", name="Where you are").wait_for()
        return page

    return at


def progress(history: dict[str, list[tuple[int, int]]]) -> bytes:
    """A progress file with reviews so many days ago, each with its mark, in the form of journal.js."""
    cards = {
        card: [
            [f"{card[:5]}-{n:02}", NOW_MS - ago * DAY_MS, mark, 3000] for n, (ago, mark) in enumerate(reviews)
        ]
        for card, reviews in sorted(history.items())
    }
    count = sum(map(len, cards.values()))
    head = {
        "format": "layered-voicing drills progress",
        "version": 1,
        "saved": NOW_MS,
        "student": "",
        "count": count,
    }
    return json.dumps(head | {"cards": cards}).encode()


SETTLED = [(20, 4), (12, 3), (1, 3)]
SLIPPED = [(20, 4), (12, 3), (0, 1)]


def ids(deck: Deck) -> list[str]:
    """The cards' ids in the deck's order."""
    return [short_id(card.identity) for card in deck.cards]


def table(page: Page, name: str) -> list[list[str]]:
    """A table as rows of texts; it stands beside its picture for those who cannot see that."""
    rows = page.get_by_role("table", name=name).get_by_role("row").all()
    return [row.locator("th, td").all_inner_texts() for row in rows]


def test_the_wheel_says_in_words_what_it_shows(standing: Callable[..., Page], deck: Deck) -> None:
    """Twelve keys by fourths; each counts its cards by stage, and together they are all cards."""
    page = standing({ids(deck)[0]: SETTLED, ids(deck)[1]: SLIPPED})
    head, *rows = table(page, "How settled each key is")
    assert head[1:] == ["settled", "settling", "slipped", "unseen"]
    assert [row[0] for row in rows] == ["C", "F", "B♭", "E♭", "A♭", "D♭", "G♭", "B", "E", "A", "D", "G"]
    assert list(FOURTHS)[:3] == [0, 5, 10]
    counts = [sum(int(row[column]) for row in rows) for column in range(1, 5)]
    assert counts == [1, 0, 1, len(deck.cards) - 2]


def test_every_voicing_has_its_bar_with_words(standing: Callable[..., Page], deck: Deck) -> None:
    """Each bar says its voicing and its stages."""
    page = standing({ids(deck)[0]: SETTLED})
    names = page.locator(".all-voicings b").all_inner_texts()
    bars = page.locator(".all-voicings").get_by_role("img").all()
    said = [bar.get_attribute("aria-label") or "" for bar in bars]
    assert len(said) == len(names) == len({card.quiz.voicing for card in deck.cards if card.quiz})
    assert all(text.startswith(f"{name}: ") for text, name in zip(said, names, strict=True))
    assert sum("1 settled" in text for text in said) == 1


def test_the_fortnight_begins_with_today(standing: Callable[..., Page], deck: Deck) -> None:
    """Fourteen days from today on, each with its cards; a new student meets the deck's fresh cards a day."""
    page = standing({})
    _, *rows = table(page, "coming fortnight")
    assert len(rows) == 14
    assert all(int(row[2]) <= deck.fresh_per_day for row in rows)
    assert rows[0][1:] == ["0", str(deck.fresh_per_day)]
    assert sum(int(row[1]) for row in rows) > deck.fresh_per_day


def test_with_nothing_weak_there_is_nothing_to_practise(standing: Callable[..., Page]) -> None:
    """A new student, or one who knows it all, is told so."""
    page = standing({})
    assert page.get_by_role("main").get_by_text("None: nothing has slipped").is_visible()
    assert page.get_by_role("button", name="Practise").count() == 0


def test_weak_spots_are_listed_and_practised_alone(standing: Callable[..., Page], deck: Deck) -> None:
    """The slipped cards, first the one least known; the button plays just these two."""
    weak = ids(deck)[1:3]
    page = standing({ids(deck)[0]: SETTLED, weak[0]: SLIPPED, weak[1]: SLIPPED})
    assert page.locator(".spots li").count() == 2
    assert page.locator(".spots").get_by_text("slipped").count() == 2
    page.get_by_role("button", name="Practise these 2").tap()
    page.get_by_role("main").get_by_text("1 of 2").wait_for()


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_nothing_serious_for_those_who_listen_or_see_little(
    standing: Callable[..., Page], deck: Deck, theme: str
) -> None:
    """axe-core finds nothing serious or critical, with every part of the screen filled."""
    page = standing({ids(deck)[0]: SETTLED, ids(deck)[1]: SLIPPED}, color_scheme=theme)
    found = Axe().run(page).response["violations"]
    assert [fault["id"] for fault in found if fault["impact"] in ("serious", "critical")] == []


def test_it_works_by_keyboard(standing: Callable[..., Page], deck: Deck) -> None:
    """The heading is told first; Tab comes to the way home, then to the practice; Enter goes there."""
    page = standing({ids(deck)[1]: SLIPPED})
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "Practise this one"
    page.keyboard.press("Enter")
    page.get_by_role("main").get_by_text("1 of 1").wait_for()
