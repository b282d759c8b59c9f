"""A student at the whole page: what a finger does, what the screen says, and what the phone keeps of it.

What is kept is read out of the browser's store directly, past all code of the page.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeAlias

from drills.cards.card import Card, Deck
from drills.cards.identity import short_id
from drills.plan import plan
from drills.recipe.known import DRILLS
from drills.recipe.read import parse_recipe

if TYPE_CHECKING:
    from playwright.sync_api import BrowserContext, Page

Mark: TypeAlias = int
PROPOSED: Mark = 3
"""Clean, where the student judges."""

_READ = """() => new Promise((resolve, reject) => {
  const request = indexedDB.open("layered-voicing drills");
  request.onerror = () => reject(request.error);
  request.onsuccess = () => {
    const database = request.result;
    const names = ["journal", "memories"];
    const reading = database.transaction(names);
    const all = (store) => [store.getAllKeys(), store.getAll()];
    const found = names.map((name) => all(reading.objectStore(name)));
    reading.oncomplete = () => {
      database.close();
      const paired = ([keys, values]) => keys.result.map((key, at) => [key, values.result[at]]);
      resolve(found.map((each) => Object.fromEntries(paired(each))));
    };
  };
})"""


_TWINS = """
[[voicing]]
chord = "13#11"
lower = "b7 3"
upper = "13 9 #11"

[[voicing]]
chord = "13"
lower = "b7 3"
upper = "13 9 5"
"""


def every_drill() -> Deck:
    """A small deck with every drill that can be asked, all of it for today."""
    drills = ", ".join(f'"{drill}"' for drill in DRILLS)
    progression = '[[progression]]\nchords = "Dm7 G7 Cmaj7"\nkey = "C"\n'
    asked = f"[drills]\nask = [{drills}]\n[pace]\nfresh_per_day = 60\n"
    whole = deck_of(f'title = "Every drill"\nkeys = ["C"]\n{_TWINS}{progression}{asked}')
    firsts = {card.drill: card for card in reversed(whole.cards)}
    return replace(whole, cards=tuple(card for card in whole.cards if card is firsts[card.drill]))


@dataclass(frozen=True, slots=True)
class Kept:
    """What lies in the phone's store.

    Attributes:
        journal: by card its records as the progress file writes them, see drills/page/memory/journal.js.
        memories: by card what the page makes of them.
    """

    journal: dict[str, list[list[Any]]]
    memories: dict[str, dict[str, Any]]

    def marks(self) -> list[tuple[int, Mark]]:
        """All marks that were not taken back, with their moments in ms, in order of time."""
        return sorted((when, mark) for marks in self.histories().values() for mark, when in marks)

    def histories(self) -> dict[str, list[tuple[Mark, int]]]:
        """By card its marks that were not taken back, with their moments."""
        histories = {}
        for card, rows in self.journal.items():
            undone = {row[3] for row in rows if row[2] == 0}
            histories[card] = [(row[2], row[1]) for row in rows if row[2] != 0 and row[0] not in undone]
        return {card: marks for card, marks in histories.items() if marks}


def kept(page: Page) -> Kept:
    """Reads the store."""
    journal, drawers = page.evaluate(_READ)
    return Kept(journal, {card: memory for drawer in drawers.values() for card, memory in drawer.items()})


def deck_of(recipe: str, name: str = "evening") -> Deck:
    """The deck of a recipe's text."""
    return plan(parse_recipe(recipe, source=f"{name}.toml", default_id=name)).deck


def ids(deck: Deck) -> list[str]:
    """The cards' ids, in order of first appearance."""
    return [short_id(card.identity) for card in deck.cards]


def opened(phone: BrowserContext, address: str) -> Page:
    """The page in a new tab, when home stands."""
    page = phone.new_page()
    page.goto(address)
    page.get_by_role("button", name="Help").wait_for()
    return page


def press(page: Page, name: str) -> None:
    """Touches a button."""
    page.get_by_role("button", name=name, exact=True).tap()


def to_play(page: Page) -> int:
    """How many cards home says are to be played today."""
    page.locator(".today").wait_for()
    count = page.locator(".today .count")
    return int(count.inner_text()) if count.count() > 0 else 0


def judge(page: Page, mark: Mark) -> None:
    """Lets a card be shown, and gives it a mark."""
    press(page, "Show me, I judge myself")
    if mark != PROPOSED:
        page.locator(".stop").nth(mark - 1).tap()
    press(page, "Next")


def is_over(page: Page) -> bool:
    """Whether the sitting has come to its end; waits until that or the next question can be seen."""
    page.locator(".question, .done").first.wait_for()
    return page.locator(".done").count() > 0


def shown(page: Page, deck: Deck) -> Card:
    """The card whose question stands there, by its drill and by what it says."""
    drill = page.locator(".top p").inner_text().split(" · ")[0]
    face = page.locator(".question .face")
    head, said = face.get_by_role("heading").inner_text(), _bare(face.inner_text())

    def is_it(card: Card) -> bool:
        texts = (*(layer.text for layer in card.front.layers), *card.front.lines)
        return (card.drill, card.front.head) == (drill, head) and all(_bare(text) in said for text in texts)

    (card,) = filter(is_it, deck.cards)
    return card


def _bare(text: str) -> str:
    """Without spaces and dots, which the page sets by its own lights."""
    return re.sub(r"[\s·]", "", text)


def tap_grip(page: Page, card: Card, *, frets_off: int = 0) -> None:
    """Answers a card of the drill place on the neck, its highest note so many frets off."""
    picture = card.back.picture
    assert picture is not None
    for marker in picture.markers:
        off = frets_off if marker is picture.markers[-1] else 0
        tap_note(page, len(picture.string_names) - marker.string, marker.fret + off)


def tap_note(page: Page, string: int, fret: int) -> None:
    """Touches a place on the neck; strings are counted from the highest, 1."""
    place = "open" if fret == 0 else f"fret {fret}"
    page.get_by_role("gridcell", name=re.compile(rf"^string {string}, {place}\b")).tap()


def tap_names(page: Page, card: Card) -> None:
    """Answers a card of the drill spell on the pad of names."""
    for layer in card.back.notes:
        for note in layer:
            page.locator(".pad .key", has_text=re.compile(rf"^{note.name}$")).tap()


def chosen_mark(page: Page) -> Mark:
    """The mark that is filled."""
    return int(page.locator(".stop input:checked").get_attribute("value") or 0)


# --- the progress file ----------------------------------------------------------------------------


def save_progress(page: Page, file: Path) -> Path:
    """Saves a progress file, from home and back."""
    press(page, "Settings")
    with page.expect_download() as coming:
        press(page, "Save a progress file")
    coming.value.save_as(file)
    press(page, "Home")
    return file


def read_progress(page: Page, file: Path | bytes) -> str:
    """Reads a progress file, from home and back; gives what the page says to it."""
    press(page, "Settings")
    with page.expect_file_chooser() as chooser:
        press(page, "Read a progress file")
    if isinstance(file, Path):
        chooser.value.set_files(file)
    else:
        chooser.value.set_files({"name": "progress.json", "mimeType": "application/json", "buffer": file})
    said = page.locator(".said").last
    said.filter(has_not_text="Reading…").filter(has_text=".").wait_for()
    text = said.inner_text()
    press(page, "Home")
    return text
