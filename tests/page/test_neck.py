"""The neck of the quiz page, in a real browser: places, shapes, colours, taps, keys, names.

The pictures of the package (`drills/draw`) were there first; shapes and colours are compared with them.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, Final, TypeAlias

import pytest

from drills.draw import marker, theme
from drills.shapes.outline import Outline

from .conftest import NewPhone
from .workbench import call, open_workbench, painted

if TYPE_CHECKING:
    from playwright.sync_api import Page

_ENTRY: Final = """
import { makeAnswer } from "./answers/neck.js";
import { refill } from "./dom.js";
import { drawNeck, neckWords } from "./necks/neck.js";
import { OUTLINES, echo } from "./necks/outline.js";
import { makeTapNeck } from "./necks/tapneck.js";
const screen = document.getElementById("screen");
const seen = { changes: 0 };
const onChange = () => (seen.changes += 1);
const show = (neck) => void refill(screen, (window.neck = neck).element);
window.tools = {
  draw: (picture, how) => void refill(screen, drawNeck(picture, how.instrument, { label: "a neck", ...how })),
  tap: (how) => show(makeTapNeck({ ...how, onChange })),
  answer: (task, given) => show(makeAnswer(task, { ...given, onChange })),
  words: neckWords,
  outlines: () => OUTLINES,
  echo,
  changes: () => seen.changes,
};
"""

GUITAR: Final[dict[str, Any]] = {
    "names": ["E", "A", "D", "G", "B", "E"],
    "midi": [40, 45, 50, 55, 59, 64],
    "frets": 20,
    "isLeftHanded": False,
}
EIGHT: Final[dict[str, Any]] = {
    "names": ["F♯", "B", "E", "A", "D", "G", "B", "E"],
    "midi": [30, 35, 40, 45, 50, 55, 59, 64],
    "frets": 24,
    "isLeftHanded": False,
}


def _marker(string: int, fret: int, layer: int, text: str, **more: bool) -> dict[str, Any]:
    plain = {"isRoot": False, "isAsked": False, "isDoubled": False}
    return {"string": string, "fret": fret, "layer": layer, "text": text} | plain | more


# E♭13♯11 without its root: x 4 5 5 6 5
PICTURE: Final[dict[str, Any]] = {
    "first": 3,
    "last": 7,
    "muted": [0],
    "markers": [
        _marker(1, 4, 0, "♭7"),
        _marker(2, 5, 0, "3"),
        _marker(3, 5, 1, "13"),
        _marker(4, 6, 1, "9"),
        _marker(5, 5, 1, "♯11"),
    ],
}
FORMS: Final[dict[str, Any]] = {
    "first": 1,
    "last": 5,
    "muted": [],
    "markers": [
        _marker(0, 0, 0, "1", isRoot=True),
        _marker(1, 2, 0, "𝄫7", isDoubled=True),
        _marker(2, 3, 2, "♭13"),
        _marker(3, 4, 2, "", isAsked=True),
        _marker(4, 1, 1, "♯11"),
        _marker(5, 5, 1, "1", isRoot=True, isDoubled=True),
    ],
}
WAYS: Final = [(direction, left) for direction in ("across", "down") for left in (False, True)]


Bench: TypeAlias = "Callable[..., Page]"
"""Opens a page that holds the neck and nothing else: `bench(360, dark=True)`."""


@pytest.fixture
def bench(new_phone: NewPhone) -> Bench:
    """See `Bench`."""

    def opened(width: int = 390, *, dark: bool = False) -> Page:
        phone = new_phone(viewport={"width": width, "height": 844}, device_scale_factor=1)
        return open_workbench(phone, _ENTRY, dark=dark)

    return opened


def _draw(page: Page, picture: dict[str, Any], *, direction: str, left: bool, **how: object) -> None:
    call(page, "draw", picture, {"instrument": GUITAR, "direction": direction, "isLeftHanded": left, **how})


def _tap_neck(page: Page, *, direction: str = "across", left: bool = False, **how: object) -> None:
    call(page, "tap", {"instrument": GUITAR, "direction": direction, "isLeftHanded": left} | how)
    painted(page)


def _frets(page: Page) -> Any:
    return page.evaluate("() => window.neck.frets()")


def _cell(page: Page, name: str) -> Any:
    return page.get_by_role("gridcell", name=name, exact=True)


def _middles(page: Page, selector: str) -> list[tuple[float, float]]:
    boxes = page.eval_on_selector_all(
        selector,
        "all => all.map((each) => each.getBoundingClientRect().toJSON())",
    )
    return [(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2) for box in boxes]


# --- the neck to be looked at --------------------------------------------------------------------


@pytest.mark.parametrize(("direction", "left"), WAYS)
def test_markers_sit_on_their_strings_between_their_frets(bench: Bench, direction: str, left: bool) -> None:
    """A marker's middle lies on its string, half way between the two wires of its fret."""
    page = bench()
    _draw(page, PICTURE, direction=direction, left=left)
    axis, other = (0, 1) if direction == "across" else (1, 0)
    strings = [place[other] for place in _middles(page, ".strings line")]
    wires = [place[axis] for place in _middles(page, ".wires line")]
    discs_and_squares = _middles(page, ".marker .body")
    for each, place in zip(PICTURE["markers"], discs_and_squares, strict=True):
        wire = each["fret"] - PICTURE["first"]
        assert place[other] == pytest.approx(strings[each["string"]], abs=0.1)
        assert place[axis] == pytest.approx((wires[wire] + wires[wire + 1]) / 2, abs=0.1)


@pytest.mark.parametrize(("direction", "left"), WAYS)
def test_the_neck_lies_as_players_see_it(bench: Bench, direction: str, left: bool) -> None:
    """Across: low string below, nut left; down: nut on top, low string left; mirrored for left hands."""
    page = bench()
    _draw(page, PICTURE, direction=direction, left=left)
    low, high = (_middles(page, ".string-name")[string] for string in (0, -1))
    first, last = (_middles(page, ".fret-number")[fret] for fret in (0, -1))
    if direction == "across":
        assert low[1] > high[1]
        assert (first[0] > last[0]) == left
    else:
        assert first[1] < last[1]
        assert (low[0] > high[0]) == left


def test_left_handed_is_the_mirror_image(bench: Bench) -> None:
    """Every marker of the left-handed neck lies where a mirror shows the right-handed one."""
    page = bench()
    places = []
    for left in (False, True):
        _draw(page, PICTURE, direction="across", left=left)
        places.append(_middles(page, ".marker .body"))
    for (x, y), (mirrored_x, mirrored_y) in zip(*places, strict=True):
        assert (mirrored_x, mirrored_y) == (pytest.approx(390 - x, abs=0.1), pytest.approx(y, abs=0.1))


def test_outlines_are_those_of_the_cards(bench: Bench) -> None:
    """Disc, rounded square and plectrum have the corners that the pictures of the package have."""
    cards: list[Outline] = [shape.outline for shape in marker._SHAPES]
    for mine, theirs in zip(call(bench(), "outlines"), cards, strict=True):
        assert len(mine) == len(theirs)
        for corner, expected in zip(mine, theirs, strict=True):
            assert corner == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize("layer", [0, 1, 2])
def test_an_echo_lies_beside_its_marker(bench: Bench, layer: int) -> None:
    """An echo keeps the gap to its marker, and stands out by what it is moved."""
    page = bench()
    echo = call(page, "echo", layer, 33, 4, 10)
    plain = [x for x, _ in call(page, "outlines")[layer]]
    assert max(x for x, _ in echo) == pytest.approx(max(plain) * 33 + 10, abs=1e-9)
    assert min(x for x, _ in echo) > 0
    left = call(page, "echo", layer, 33, 4, -10)
    assert max(x for x, _ in left) < 0


@pytest.mark.parametrize("dark", [False, True])
def test_colours_are_those_of_the_cards(bench: Bench, dark: bool) -> None:
    """Wood, frets, strings, ink and the layers are painted as the pictures of the package paint them."""
    page = bench(dark=dark)
    look = theme.DARK if dark else theme.LIGHT
    _draw(page, FORMS, direction="across", left=False)

    def paint(selector: str, what: str = "fill") -> str:
        return str(page.eval_on_selector(selector, f"each => getComputedStyle(each).{what}"))

    def rgb(number: theme.Paint) -> str:
        return f"rgb({', '.join(map(str, look[number]))})"

    for name, layer in zip(("lower", "upper", "middle"), theme.LAYERS, strict=True):
        assert paint(f".marker.{name} .body") == rgb(layer.fill)
        assert paint(f".marker.{name} :not(.hollow) + text") == rgb(layer.text)
        share = float(paint(f".ribbon.{name}", "strokeOpacity"))
        mixed = [w + (f - w) * share for w, f in zip(look[theme.WOOD], look[layer.fill], strict=True)]
        assert mixed == pytest.approx(look[layer.ribbon], abs=1)
    assert paint(".wood") == rgb(theme.WOOD)
    assert paint(".wires", "stroke") == rgb(theme.FRET)
    assert paint(".strings", "stroke") == rgb(theme.QUIET)
    assert paint(".nut", "stroke") == rgb(theme.INK)
    assert paint(".ring") == rgb(theme.INK)
    assert paint(".hollow") == rgb(theme.GROUND)
    assert paint(".fret-number.used") == rgb(theme.INK)


@pytest.mark.parametrize("direction", ["across", "down"])
def test_degrees_fit_and_are_large_enough_to_read(bench: Bench, direction: str) -> None:
    """On a phone 360 pixels wide a degree stays in its marker, at 11 pixels at least."""
    page = bench(360)
    for text in ("1", "13", "♯11", "♭13", "𝄫7", "𝄪11"):
        for layer in range(3):
            picture = FORMS | {"markers": [_marker(2, 3, layer, text)]}
            _draw(page, picture, direction=direction, left=False)
            letters, body = (page.locator(f".marker {part}").bounding_box() for part in ("text", ".body"))
            assert letters
            assert body
            assert letters["x"] >= body["x"]
            assert letters["x"] + letters["width"] <= body["x"] + body["width"]
            size = page.eval_on_selector(
                ".marker text",
                "text => parseFloat(getComputedStyle(text).fontSize) * text.getScreenCTM().a",
            )
            assert size >= 11
            assert page.eval_on_selector(".marker text", "text => getComputedStyle(text).fontWeight") == "700"


def test_a_root_is_ringed_and_the_asked_note_is_bare(bench: Bench) -> None:
    """A ring for a root, an echo for a doubled note, a question mark in an outline for the asked note."""
    page = bench()
    _draw(page, FORMS, direction="across", left=False)
    parts = page.eval_on_selector_all(
        ".marker", "all => all.map(e => [...e.children].map(c => c.getAttribute('class')))"
    )
    texts = page.eval_on_selector_all(".marker", "all => all.map(e => e.textContent)")
    assert parts[0] == ["ring", "hollow", "body", None]
    assert parts[1] == ["body", "body", None]
    assert parts[3] == ["body", "hollow", None]
    assert parts[5] == ["ring", "ring", "hollow", "body", None]
    assert texts == ["1", "♭♭7", "♭13", "?", "♯11", "1"]


def test_a_cut_neck_shows_no_nut(bench: Bench) -> None:
    """A nut where the window begins at the first fret; up the neck a wavy edge."""
    page = bench()
    _draw(page, FORMS, direction="across", left=False)
    assert page.locator(".nut").count() == 1
    _draw(page, PICTURE, direction="across", left=False)
    assert page.locator(".nut").count() == 0
    corners = page.eval_on_selector(".wood", "wood => wood.points.length")
    assert corners > 50


def test_strings_thicken_downwards(bench: Bench) -> None:
    """Each string is drawn thicker than its higher neighbour."""
    page = bench()
    _draw(page, PICTURE, direction="across", left=False)
    widths = page.eval_on_selector_all(
        ".strings line", "all => all.map(e => +e.getAttribute('stroke-width'))"
    )
    assert widths == sorted(widths, reverse=True)
    assert len(set(widths)) == 6


def test_wrong_notes_are_dashed_rings_and_widen_the_window(bench: Bench) -> None:
    """A wrong note nearby is shown with its name; one far up the neck is left to the words."""
    page = bench()
    wrong = [
        {"string": 4, "fret": 8, "text": "G"},
        {"string": 3, "fret": 18, "text": "C♯"},
        {"string": 0, "fret": 0, "text": "E"},
    ]
    _draw(page, PICTURE, direction="across", left=False, wrong=wrong)
    assert page.locator(".wrong").all_text_contents() == ["G", ""]
    assert page.locator(".wrong.open").all_text_contents() == [""]
    assert page.locator(".fret-number").all_text_contents() == ["3", "4", "5", "6", "7", "8"]
    assert page.eval_on_selector(".wrong circle", "each => getComputedStyle(each).strokeDasharray") != "none"
    assert page.locator(".fret-number.used").all_text_contents() == ["4", "5", "6"]


def test_the_neck_in_words(bench: Bench) -> None:
    """Words name layers, degrees, strings from the highest, frets, roots, open and still strings."""
    page = bench()
    assert call(page, "words", PICTURE, GUITAR) == (
        "Lower layer: flat 7 on string 5, fret 4; 3 on string 4, fret 5. "
        "Upper layer: 13 on string 3, fret 5; 9 on string 2, fret 6; sharp 11 on string 1, fret 5. "
        "Not played: string 6."
    )
    open_root, asked = _marker(2, 0, 0, "1", isRoot=True), _marker(3, 2, 0, "", isAsked=True)
    single = {"first": 1, "last": 5, "muted": [0, 1], "markers": [open_root, asked]}
    assert call(page, "words", single, GUITAR) == (
        "the root, 1 on string 4, open; the note that is asked for on string 3, fret 2. "
        "Not played: strings 6, 5."
    )


# --- the neck to be tapped on --------------------------------------------------------------------


@pytest.mark.parametrize(("direction", "left"), WAYS)
def test_taps_place_one_note_a_string(bench: Bench, direction: str, left: bool) -> None:
    """A tap places a note, another on the string moves it, a second on the note takes it off."""
    page = bench()
    _tap_neck(page, direction=direction, left=left)
    _cell(page, "string 5, fret 4").tap()
    _cell(page, "string 1, open").tap()
    assert _frets(page) == [None, 4, None, None, None, 0]
    _cell(page, "string 5, fret 12").tap()
    assert _frets(page) == [None, 12, None, None, None, 0]
    _cell(page, "string 1, open").tap()
    assert _frets(page) == [None, 12, None, None, None, None]
    assert call(page, "changes") == 4
    assert page.locator("[aria-selected=true]").count() == 1
    assert page.locator(".fret-number.used").all_text_contents() == ["12"]


@pytest.mark.parametrize(("direction", "left"), WAYS)
def test_a_finger_hits_what_is_seen(bench: Bench, direction: str, left: bool) -> None:
    """A touch where string and fret cross on the screen is a note there."""
    page = bench()
    _tap_neck(page, direction=direction, left=left)
    axis, other = (0, 1) if direction == "across" else (1, 0)
    string = _middles(page, ".board .strings line")[2][other]
    wires = [place[axis] for place in _middles(page, ".board .wires line")]
    fret = (wires[2] + wires[3]) / 2
    page.touchscreen.tap(*((fret, string) if direction == "across" else (string, fret)))
    assert _frets(page) == [None, None, 3, None, None, None]
    page.touchscreen.tap(*_open_spot(page, 2, direction, left=left))
    assert _frets(page) == [None, None, 0, None, None, None]


def _open_spot(page: Page, string: int, direction: str, *, left: bool) -> tuple[float, float]:
    """A place near the far edge of a string's open cell, where its name stands."""
    box = page.get_by_role("gridcell", name=f"string {6 - string}, open", exact=True).bounding_box()
    assert box
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    if direction == "down":
        return x, box["y"] + 8
    return (box["x"] + box["width"] - 8 if left else box["x"] + 8), y


@pytest.mark.parametrize(("direction", "left"), WAYS)
def test_every_target_has_room_for_a_finger(bench: Bench, direction: str, left: bool) -> None:
    """Every cell is at least 44 by 44 pixels; the page itself does not scroll sideways.

    Source: Web Content Accessibility Guidelines 2.2, success criterion 2.5.5, from memory.
    """
    page = bench()
    for width in (360, 390):
        page.set_viewport_size({"width": width, "height": 844})
        for instrument in (GUITAR, EIGHT):
            _tap_neck(page, direction=direction, left=left, instrument=instrument)
            boxes = page.eval_on_selector_all(
                "[role=gridcell]", "all => all.map((each) => each.getBoundingClientRect().toJSON())"
            )
            assert len(boxes) == len(instrument["names"]) * (instrument["frets"] + 1)
            assert min(min(box["width"], box["height"]) for box in boxes) >= 44
            assert page.evaluate("() => document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize(("direction", "left"), WAYS)
def test_the_neck_starts_at_the_nut_or_at_the_question(bench: Bench, direction: str, left: bool) -> None:
    """In sight at first: the nut, or the frets a question speaks of; the open strings always."""
    page = bench()
    seen = """(each) => {
      const [cell, box] = [each, each.closest(".tap-neck")].map((one) => one.getBoundingClientRect());
      return cell.left >= box.left - 1 && cell.right <= box.right + 1
        && cell.top >= box.top - 1 && cell.bottom <= box.bottom + 1;
    }"""
    _tap_neck(page, direction=direction, left=left)
    assert _cell(page, "string 6, fret 1").evaluate(seen)
    assert page.locator(".tap-neck.is-cut").count() == 0
    _tap_neck(page, direction=direction, left=left, lookAt=[12, 15])
    assert page.locator(".tap-neck.is-cut").count() == 1
    for name in ("string 6, fret 12", "string 6, fret 15", "string 6, open", "string 1, open"):
        assert _cell(page, name).evaluate(seen)
    assert not _cell(page, "string 6, fret 1").evaluate(seen)


@pytest.mark.parametrize(
    ("direction", "left", "up_the_neck", "to_a_higher_string"),
    [
        ("across", False, "ArrowRight", "ArrowUp"),
        ("across", True, "ArrowLeft", "ArrowUp"),
        ("down", False, "ArrowDown", "ArrowRight"),
        ("down", True, "ArrowDown", "ArrowLeft"),
    ],
)
def test_the_keyboard_plays_too(
    bench: Bench, direction: str, left: bool, up_the_neck: str, to_a_higher_string: str
) -> None:
    """Arrows go as the neck lies; Enter and Space place and take off, Delete empties a string."""
    page = bench()
    _tap_neck(page, direction=direction, left=left)
    page.keyboard.press("Tab")
    back = {
        "ArrowRight": "ArrowLeft",
        "ArrowLeft": "ArrowRight",
        "ArrowUp": "ArrowDown",
        "ArrowDown": "ArrowUp",
    }
    there_and_back = [to_a_higher_string, back[to_a_higher_string], up_the_neck, back[up_the_neck]]
    for key in [up_the_neck] * 3 + there_and_back + ["Enter", to_a_higher_string, "Space"]:
        page.keyboard.press(key)
    assert _frets(page) == [3, 3, None, None, None, None]
    page.keyboard.press("Space")
    assert _frets(page) == [3, None, None, None, None, None]
    page.keyboard.press("End")
    page.keyboard.press("Enter")
    page.keyboard.press("Home")
    assert _frets(page) == [3, 20, None, None, None, None]
    page.keyboard.press("Delete")
    assert _frets(page) == [3, None, None, None, None, None]
    assert page.locator("[role=gridcell][tabindex='0']").count() == 1


def test_the_keyboard_brings_a_fret_into_sight(bench: Bench) -> None:
    """The focused fret is never hidden behind the open strings or outside the box."""
    page = bench()
    _tap_neck(page, lookAt=[12, 15])
    page.evaluate("() => window.neck.focus()")
    for _ in range(11):
        page.keyboard.press("ArrowLeft")
        focused = page.locator("[role=gridcell]:focus").bounding_box()
        open_string = _cell(page, "string 6, open").bounding_box()
        assert focused
        assert open_string
        assert focused["x"] >= open_string["x"] + open_string["width"] - 0.5


def test_undo_and_clear(bench: Bench) -> None:
    """Every step can be taken back, clearing too; a clear goes back to the start."""
    page = bench()
    _tap_neck(page, start=[None, 4, None, None, None, None])
    assert page.evaluate("() => window.neck.canUndo()") is False
    _cell(page, "string 4, fret 5").tap()
    _cell(page, "string 5, fret 6").tap()
    page.evaluate("() => window.neck.clear()")
    assert _frets(page) == [None, 4, None, None, None, None]
    for expected in ([None, 6, 5, None, None, None], [None, 4, 5, None, None, None], [None, 4] + [None] * 4):
        page.evaluate("() => window.neck.undo()")
        assert _frets(page) == expected
    assert page.evaluate("() => window.neck.canUndo()") is False
    page.evaluate("() => window.neck.undo()")
    assert _frets(page) == [None, 4, None, None, None, None]


def test_a_fixed_note_stays(bench: Bench) -> None:
    """A tap anywhere on a fixed string changes nothing; the note is shown as a marker."""
    page = bench()
    _tap_neck(page, start=[None] * 5 + [5], fixed=[5], given=PICTURE["markers"][-1:])
    for fret in (3, 5):
        page.locator(f"[role=gridcell][aria-label^='string 1, fret {fret}']").tap(force=True)
        assert _frets(page) == [None] * 5 + [5]
    assert call(page, "changes") == 0
    assert page.locator(".tap-neck .marker.upper").count() == 1
    assert page.locator(".ghost").count() == 0


def test_names_for_those_who_do_not_see_it(bench: Bench) -> None:
    """Rows are strings from the highest; cells say string, fret, note and what is given; changes are said."""
    page = bench()
    task = {
        "kind": "neck",
        "by": "frets",
        "accepts": [[None, 4, 5, 5, 6, 5]],
        "strings": [1, 2, 3, 4, 5],
        "start": None,
    }
    names = ["C", "D♭", "D", "E♭", "E", "F", "G♭", "G", "A♭", "A", "B♭", "C♭"]
    card = {"drill": "turn", "front": {"picture": PICTURE}, "names": {"notes": names}}
    settings = {"names": "true", "hand": "deck", "neck": "across"}
    deck = {"instrument": GUITAR, "plainNames": [*names[:-1], "B"]}
    call(page, "answer", task | {"fixed": []}, {"card": card, "deck": deck, "settings": settings})
    rows = page.get_by_role("row").all()
    assert len(rows) == 6
    assert rows[0].get_by_role("gridcell").first.get_attribute("aria-label") == "string 1, open, E"
    assert page.get_by_role("grid").get_attribute("aria-label")
    assert sorted(page.locator(".ghost text").all_text_contents()) == ["13", "3", "9", "♭7", "♯11"]
    _cell(page, "string 3, fret 5, C, from here: 13").tap()
    page.wait_for_function("() => document.getElementById('announce').textContent")
    assert page.locator("#announce").text_content() == "Note on string 3, fret 5, C."
    assert _cell(page, "string 3, fret 5, C, from here: 13").get_attribute("aria-selected") == "true"
    assert page.get_by_role("gridcell", name="string 2, open, C flat", exact=True).count() == 1


def test_an_answer_is_ready_once_something_was_given(bench: Bench) -> None:
    """The start is no answer, nor is an empty neck; a changed note is."""
    page = bench()
    task = {"kind": "neck", "by": "pitches", "accepts": [[None, 4]], "strings": [], "fixed": []}
    start = [None, 4, 5, 5, 6, 4]
    card = {"drill": "mend", "front": {"picture": PICTURE}, "names": {"notes": ["C"] * 12}}
    given = {
        "card": card,
        "deck": {"instrument": GUITAR, "plainNames": ["C"] * 12},
        "settings": {"names": "plain", "hand": "left", "neck": "down"},
    }
    call(page, "answer", task | {"start": start}, given)
    assert page.evaluate("() => window.neck.isReady()") is False
    page.locator("[role=gridcell][aria-label^='string 1, fret 5']").tap()
    assert page.evaluate("() => [window.neck.isReady(), window.neck.given()]") == [
        True,
        [None, 4, 5, 5, 6, 5],
    ]
    assert page.evaluate("() => window.neck.showsPicture") is True
    assert page.locator(".tap-neck.down.left-handed .ghost").count() == 5
