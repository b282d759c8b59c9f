"""Answers put together by touch and by keyboard, in a real browser.

Outside facts: targets of at least 44 by 44 pixels (WCAG 2.2, success criterion 2.5.5), no sideways scrolling
at 320 pixels (1.4.10); axe-core's rules.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeAlias

import pytest

from .answers_deck import CARD, CHORD, DECK, HEAR, JOIN, LAYER, NAME, NOTES, SPLIT, SPOT, place
from .conftest import NewPhone
from .engine import bare_page

if TYPE_CHECKING:
    from playwright.sync_api import Locator, Page

ENTRY = """
import { makeAnswer } from "./answers/index.js";
import { h, refill } from "./dom.js";
import { USUAL_SETTINGS } from "./settings.js";
globalThis.put = ({ task, card, deck, names }) => {
  globalThis.changes = 0;
  const settings = { ...USUAL_SETTINGS, names };
  globalThis.answer = makeAnswer(task, { card, deck, settings, onChange: () => (globalThis.changes += 1) });
  const answering = h("div", { class: `answering answering-${task.kind}` }, answer.element);
  refill(document.getElementById("screen"), h("div", { class: "screen play" }, h("h1", null, "over E♭"),
    h("div", { class: "question" }, answering)));
};
"""


@dataclass
class Stage:
    """One answer on a bare page."""

    page: Page

    def ask(self, name: str) -> Any:
        """The result of one of the answer's functions."""
        return self.page.evaluate(f"answer.{name}()")

    def key(self, said: str) -> Locator:
        """A key of the pad by what it says to those who listen."""
        return self.page.get_by_role("button", name=said, exact=True)

    def tap(self, *said: str) -> None:
        """Taps keys in turn."""
        for each in said:
            self.key(each).tap()

    def type(self, *keys: str) -> None:
        """Presses keys of the keyboard in turn."""
        for each in keys:
            self.page.keyboard.press(each)

    def lines(self) -> list[str]:
        """The answer as it stands, a text for each line."""
        return [text.strip() for text in self.page.locator(".blank-line").all_inner_texts()]


Staged: TypeAlias = Callable[..., Stage]


@pytest.fixture
def staged(new_phone: NewPhone, checkout: Path) -> Staged:
    """Puts an answer on a phone: `staged(task)`, or with a width, `names="plain"`."""

    def stage(task: Any, width: int = 390, names: str = "true") -> Stage:
        page = new_phone(viewport={"width": width, "height": 844}).new_page()
        page.set_content(bare_page(checkout / "drills/page", ENTRY))
        page.evaluate("(given) => put(given)", {"task": task, "card": CARD, "deck": DECK, "names": names})
        return Stage(page)

    return stage


# --- notes ---------------------------------------------------------------------------------------


def test_notes_fill_their_slots_by_touch(staged: Staged) -> None:
    """From low to high, the layers apart; ready when all are there, and not before."""
    stage = staged(NOTES)
    assert stage.page.locator(".layer-lower .blank").count() == 2
    assert stage.page.locator(".layer-upper .blank").count() == 3
    stage.tap("D flat", "G", "C", "F")
    assert not stage.ask("isReady")
    stage.tap("F sharp")
    assert stage.ask("isReady")
    assert [each["text"] for each in stage.ask("given")] == ["D♭", "G", "C", "F", "F♯"]
    assert stage.page.evaluate("changes") == 5


def test_a_filled_slot_is_tapped_to_change_it(staged: Staged) -> None:
    """After the change the next empty slot is at hand again."""
    stage = staged(NOTES)
    stage.tap("D flat", "G sharp")
    stage.page.get_by_role("button", name="note 2 of 5, from below: G sharp. Change").tap()
    stage.tap("G", "C")
    assert [each and each["text"] for each in stage.ask("given")] == ["D♭", "G", "C", None, None]


def test_undo_and_clear_take_steps_back(staged: Staged) -> None:
    """Clear is a step that can be undone as well."""
    stage = staged(NOTES)
    assert not stage.ask("canUndo")
    stage.tap("D flat", "G")
    stage.ask("undo")
    assert [each and each["text"] for each in stage.ask("given")] == ["D♭", None, None, None, None]
    stage.ask("clear")
    assert stage.ask("given") == [None] * 5
    stage.ask("undo")
    assert stage.ask("given")[0]["text"] == "D♭"
    stage.ask("undo")
    assert not stage.ask("canUndo")


def test_letters_and_signs_type_notes(staged: Staged) -> None:
    """`b` is a flat right after a natural and the note B elsewhere; with shift it is always B."""
    stage = staged(NOTES)
    stage.ask("focus")
    stage.type("d", "b", "b", "b", "g", "Shift+B", "c", "Shift+#")  # many keyboards have # above a digit
    assert [each["text"] for each in stage.ask("given")] == ["D♭", "B♭", "G", "B", "C♯"]


def test_arrows_walk_the_pad(staged: Staged) -> None:
    """One stop for the tab key, arrows inside; keys at the edge stay."""
    stage = staged(NOTES)
    stage.ask("focus")
    stage.type("ArrowLeft", "ArrowUp", "ArrowRight", "ArrowDown", "Enter")
    stage.type("End", "Enter", "Home", "Enter")
    assert [each and each["text"] for each in stage.ask("given")[:3]] == ["D", "B♭", "C♯"]
    stage.type("End")
    assert [key.get_attribute("aria-label") for key in stage.page.locator(".key[tabindex='0']").all()] == [
        "B flat"
    ]


# --- degrees -------------------------------------------------------------------------------------


def test_a_degree_is_one_tap(staged: Staged) -> None:
    """A key bears all names of its degree; a second tap elsewhere changes the answer."""
    stage = staged(SPOT)
    stage.tap("flat 5 or sharp 11")
    assert stage.ask("given") == [6]
    assert stage.key("flat 5 or sharp 11").get_attribute("aria-pressed") == "true"
    stage.tap("5")
    assert stage.ask("given") == [7]
    assert stage.key("flat 5 or sharp 11").get_attribute("aria-pressed") == "false"


def test_digits_find_degrees(staged: Staged) -> None:
    """What is typed leads to the key that says it, flats as b, sharps as #; Enter takes it."""
    stage = staged(SPLIT)
    stage.ask("focus")
    stage.type("b", "7", "Enter")
    stage.page.wait_for_timeout(1000)  # a moment ends what was typed
    stage.type("#", "1", "1", "Enter")
    assert stage.ask("given") == [10, 6]


# --- parts ---------------------------------------------------------------------------------------


def test_a_name_grows_part_by_part(staged: Staged) -> None:
    """The chord first, then its layers; the root said stands there already."""
    stage = staged(NAME)
    assert stage.lines() == ["E♭\nquality\ntensions"]
    stage.tap("7", "sharp 11", "13", "That is all")
    assert [line.replace("\n", " ") for line in stage.lines()] == ["E♭ 7 ♯11 13", "root structure inversion"]
    stage.tap("F", "triad", "major triad")
    assert not stage.ask("isReady")
    stage.tap("second inversion")
    assert stage.ask("isReady")
    assert stage.ask("given") == {
        "root": 3,
        "quality": CHORD["quality"],
        "tensions": CHORD["needs"],
        "layers": [{"root": 5, "structure": LAYER["structure"], "inversion": 2}],
        "degrees": [],
    }


def test_a_finished_part_can_be_changed(staged: Staged) -> None:
    """The root too; the rest stays."""
    stage = staged(NAME)
    stage.tap("m7", "No tensions", "F")
    stage.page.get_by_role("button", name="root: E flat. Change").tap()
    stage.tap("A")
    stage.page.get_by_role("button", name="quality: m7. Change").tap()
    stage.tap("7")
    given = stage.ask("given")
    assert (given["root"], given["quality"], given["tensions"]) == (9, CHORD["quality"], [])
    assert given["layers"][0]["root"] == 5


def test_every_structure_can_be_found(staged: Staged) -> None:
    """By its kind; each kind leads back to the kinds."""
    stage = staged(NAME)
    stage.tap("7", "No tensions", "F")
    found = []
    for group in DECK["pads"]["structureGroups"]:
        stage.tap(group["text"])
        found += stage.page.locator(".key").all_inner_texts()
        stage.tap("Another kind")
    assert sorted(found) == sorted(DECK["pads"]["structures"])


def test_the_notes_of_a_layer_are_told_one_by_one(staged: Staged) -> None:
    """The drill join: the chord, then what each upper note is in it."""
    stage = staged(JOIN)
    stage.tap("7", "sharp 11", "That is all", "6 or double flat 7 or 13", "9")
    assert stage.ask("given") == {
        "root": 3,
        "quality": CHORD["quality"],
        "tensions": [place("tensions", "♯11")],
        "layers": [],
        "degrees": [9, 2],
    }


def test_a_name_can_be_put_together_by_keyboard(staged: Staged) -> None:
    """The keyboard stays in the answer as pads come and go."""
    stage = staged(NAME)
    stage.ask("focus")
    stage.type("ArrowRight", "Enter", "#", "1", "1", "Enter", "Tab", "Enter")
    stage.type("f", "Enter", "Enter", "Enter", "ArrowDown", "Enter")
    given = stage.ask("given")
    assert (given["quality"], given["tensions"]) == (CHORD["quality"], [place("tensions", "♯11")])
    assert given["layers"] == [{"root": 5, "structure": LAYER["structure"], "inversion": 2}]


def test_the_answer_is_announced_as_it_grows(staged: Staged) -> None:
    """With signs in words, and with what comes next."""
    stage = staged(NAME)
    stage.tap("7")
    stage.page.wait_for_function("document.getElementById('announce').textContent !== ''")
    assert stage.page.inner_text("#announce") == "E flat 7. Next: tensions"


def test_roots_are_named_plainly_where_that_is_set(staged: Staged) -> None:
    """F♯ instead of G♭."""
    stage = staged(NAME | {"rootSaid": 6}, names="plain")
    assert stage.lines()[0].startswith("F♯")


def test_notes_are_named_plainly_where_that_is_set(staged: Staged) -> None:
    """C♭ over E♭ is B then."""
    join = JOIN | {"degrees": [{"name": "C♭", "semitones": 8, "text": "♭13"}]}
    for names, called in (("true", "C♭ is"), ("plain", "B is")):
        stage = staged(join, names=names)
        stage.tap("7", "No tensions")
        assert stage.lines()[1].startswith(called)


# --- choice --------------------------------------------------------------------------------------


def test_a_choice_is_tapped_or_typed(staged: Staged) -> None:
    """Digits pick, arrows walk on, undo goes back."""
    stage = staged(HEAR)
    assert not stage.ask("isReady")
    stage.page.get_by_label(HEAR["options"][1]).tap()
    assert stage.ask("given") == 1
    stage.ask("focus")
    stage.type("1")
    assert stage.ask("given") == 0
    stage.type("ArrowDown")
    assert stage.ask("given") == 1
    stage.ask("undo")
    assert stage.ask("given") == 0


# --- for everyone --------------------------------------------------------------------------------

LAYERS_ON = ("7", "No tensions")
STAGES: dict[str, tuple[Any, Sequence[str]]] = {
    "notes": (NOTES, ("D flat",)),
    "degrees": (SPLIT, ("flat 7",)),
    "quality": (NAME, ()),
    "tensions": (NAME, ("7", "flat 9")),
    "root": (NAME, LAYERS_ON),
    "kind": (NAME, (*LAYERS_ON, "F")),
    "structure": (NAME, (*LAYERS_ON, "F", "seventh chord")),
    "inversion": (NAME, (*LAYERS_ON, "F", "triad", "major triad")),
    "join": (JOIN, (*LAYERS_ON, "9")),
    "choice": (HEAR, ()),
}


def _small_targets(page: Page, least_px: int) -> list[str]:
    """What is to be tapped and is narrower or lower than that."""
    boxes = page.evaluate(
        """() => [...document.querySelectorAll("button, label")].map((each) => {
          const { width, height } = each.getBoundingClientRect();
          return [each.textContent, Math.min(width, height)];
        })"""
    )
    return [text for text, least in boxes if least < least_px - 0.01]


@pytest.mark.parametrize("name", STAGES)
def test_targets_are_large_and_nothing_runs_out_of_the_page(staged: Staged, name: str) -> None:
    """At least 44 pixels at 360; down to 320, as with 200 % zoom, nothing is cut or out of sight."""
    task, taps = STAGES[name]
    stage = staged(task, width=360)
    stage.tap(*taps)
    assert _small_targets(stage.page, 44) == []
    for width in (360, 320):
        stage.page.set_viewport_size({"width": width, "height": 640})
        assert stage.page.evaluate("document.documentElement.scrollWidth") <= width
        cut = "[...document.querySelectorAll('button')].filter((b) => b.scrollWidth > b.clientWidth + 1)"
        assert stage.page.evaluate(f"{cut}.map((b) => b.textContent)") == []


@pytest.mark.parametrize("name", STAGES)
def test_axe_finds_nothing(staged: Staged, name: str) -> None:
    """On any pad, in both themes."""
    from axe_playwright_python.sync_playwright import Axe

    task, taps = STAGES[name]
    stage = staged(task)
    stage.tap(*taps)
    for theme in ("light", "dark"):
        stage.page.evaluate("(theme) => { document.documentElement.dataset.theme = theme; }", theme)
        found = Axe().run(stage.page).response["violations"]
        assert [(each["id"], json.dumps(each["nodes"])[:300]) for each in found] == []
