"""The pictures of progress in a real browser: the wheel of keys, the bars, the fortnight."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import pytest

from .conftest import NewPhone
from .workbench import call, open_workbench

if TYPE_CHECKING:
    from playwright.sync_api import Page

_ENTRY: Final = """
import { drawFortnight, drawStageBar } from "./progress/bars.js";
import { refill } from "./dom.js";
import { drawLegend } from "./progress/stages.js";
import { drawWheel } from "./progress/wheel.js";
const screen = document.getElementById("screen");
window.picked = [];
window.tools = {
  wheel: (rows, how) => void refill(screen, drawWheel(rows, how)),
  choice: (rows, how) =>
    void refill(screen, drawWheel(rows, { ...how, onPick: (row) => window.picked.push(row.text) })),
  bars: (rows) =>
    void refill(screen, rows.map((row) => drawStageBar(row, { label: row.text })), drawLegend()),
  fortnight: (days, how) => void refill(screen, drawFortnight(days, how)),
};
"""
_KEYS: Final = ("C", "F", "B♭", "E♭", "A♭", "D♭", "G♭", "B", "E", "A", "D", "G")
_DAY_MS: Final = 86_400_000


def _rows() -> list[dict[str, Any]]:
    rows = [
        {"text": key, "pitchClass": place * 5 % 12, "settled": 0, "settling": 0, "slipped": 0, "unseen": 4}
        for place, key in enumerate(_KEYS)
    ]
    rows[0] |= {"settled": 4, "unseen": 0}
    rows[1] |= {"settled": 2, "settling": 1, "unseen": 1}
    rows[2] |= {"settled": 1, "settling": 1, "slipped": 1, "unseen": 1}
    return rows


def _days() -> list[dict[str, int]]:
    monday = 1_798_776_000_000  # 2027-01-01, 04:00 UTC
    return [{"day": monday + place * _DAY_MS, "due": place % 4, "fresh": place % 3} for place in range(14)]


@pytest.fixture
def page(new_phone: NewPhone) -> Page:
    """A page that holds the pictures and nothing else."""
    return open_workbench(new_phone(device_scale_factor=1), _ENTRY)


def test_a_sector_fills_by_area(page: Page) -> None:
    """What is settled takes its share of the sector's area, counted from the middle."""
    call(page, "wheel", _rows(), {"label": "keys"})
    bounds = page.evaluate(
        """() => [...document.querySelectorAll(".wheel .sector")].slice(0, 3).map((sector, index) => {
          const angle = (2 * Math.PI * index) / 12;
          const ends = (path) => {
            const inside = (r) => path.isPointInFill(new DOMPoint(r * Math.sin(angle), -r * Math.cos(angle)));
            const radii = Array.from({ length: 1600 }, (_, step) => step / 10).filter(inside);
            return [radii[0], radii.at(-1)];
          };
          return [ends(sector.querySelector(".unseen")), ends(sector.querySelector(".settled"))];
        })"""
    )
    for (whole, settled), share in zip(bounds, (1, 0.5, 0.25), strict=True):
        assert settled[0] == whole[0]
        part = (settled[1] ** 2 - whole[0] ** 2) / (whole[1] ** 2 - whole[0] ** 2)
        assert part == pytest.approx(share, abs=0.01)


def test_keys_go_round_by_fourths_from_the_top(page: Page) -> None:
    """C stands on top, F to the right of it, G to the left."""
    call(page, "wheel", _rows(), {"label": "keys"})
    boxes = {key: page.locator(".sector", has_text=key).first.locator("text").bounding_box() for key in "CFG"}
    c, f, g = (boxes[key] for key in "CFG")
    assert c
    assert f
    assert g
    assert c["y"] < f["y"]
    assert g["x"] < c["x"] < f["x"]


def test_the_wheel_is_a_table_for_those_who_do_not_see_it(page: Page) -> None:
    """Every key is a row with its counts."""
    call(page, "wheel", _rows(), {"label": "how settled each key is"})
    table = page.get_by_role("table", name="how settled each key is")
    assert table.get_by_role("row").count() == 13
    third = table.get_by_role("row").nth(3)
    assert third.get_by_role("rowheader").text_content() == "B♭"
    assert third.get_by_role("cell").all_text_contents() == ["1", "1", "1", "1"]


def test_a_key_is_picked_by_finger_and_by_keyboard(page: Page) -> None:
    """Every sector is a button that says its counts; the picked one says so."""
    call(page, "choice", _rows(), {"label": "keys", "picked": 5})
    page.get_by_role("button", name="B♭: 1 settled, 1 settling, 1 slipped, 1 unseen", exact=True).tap()
    page.get_by_role("button", name="C: 4 settled", exact=True).focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    page.keyboard.press("Space")
    assert page.evaluate("() => window.picked") == ["B♭", "C", "F"]
    assert page.locator("[aria-pressed=true]").get_attribute("aria-label") == (
        "F: 2 settled, 1 settling, 1 unseen"
    )


def test_a_bar_shows_each_stage_by_its_share(page: Page) -> None:
    """Parts are as long as their shares, from settled to unseen; slipped is hatched and not only toned."""
    call(page, "bars", [_rows()[2], {**_rows()[0], "settled": 0}])
    bar, empty = page.get_by_role("img").all()
    assert bar.get_attribute("aria-label") == "B♭: 1 settled, 1 settling, 1 slipped, 1 unseen"
    widths = bar.locator(".part").evaluate_all("all => all.map((each) => each.getBoundingClientRect().width)")
    assert widths == pytest.approx([sum(widths) / 4] * 4, abs=0.1)
    slipped = bar.locator(".slipped").evaluate("each => getComputedStyle(each).backgroundImage")
    assert slipped.startswith("repeating-linear-gradient")
    assert empty.get_attribute("aria-label") == "C: no cards"
    assert page.get_by_role("listitem").all_text_contents() == ["settled", "settling", "slipped", "unseen"]


def test_the_fortnight_stands_by_its_counts(page: Page) -> None:
    """A day's bar is as high as its count; due and fresh are told apart; the days are said in words."""
    call(page, "fortnight", _days(), {"label": "the coming fortnight"})
    heights = page.eval_on_selector_all(
        ".day",
        """all => all.map((day) => [...day.querySelectorAll(".due, .fresh")]
          .reduce((sum, part) => sum + part.getBoundingClientRect().height, 0))""",
    )
    counts = [day["due"] + day["fresh"] for day in _days()]
    unit = max(heights) / max(counts)
    assert heights == pytest.approx([count * unit for count in counts], abs=0.5)
    assert page.locator(".day.today").count() == 1
    assert page.locator(".day").first.evaluate("day => day.matches('.today')")
    table = page.get_by_role("table", name="the coming fortnight")
    assert table.get_by_role("row").count() == 15
    assert table.get_by_role("rowheader").nth(1).text_content() == "Saturday 2 January"


@pytest.mark.parametrize("dark", [False, True])
def test_neighbouring_tones_stand_apart(new_phone: NewPhone, dark: bool) -> None:
    """Settled, settling and unseen contrast 3:1 at least with each other.

    Source: Web Content Accessibility Guidelines 2.2, success criterion 1.4.11 and the definition of relative
    luminance, from memory.
    """
    page = open_workbench(new_phone(), _ENTRY, dark=dark)
    call(page, "wheel", _rows(), {"label": "keys"})
    lights = [
        _luminance(page.eval_on_selector(f".wheel .{stage}", "each => getComputedStyle(each).fill"))
        for stage in ("settled", "settling", "unseen")
    ]
    for one, other in ((0, 1), (1, 2), (0, 2)):
        high, low = sorted((lights[one], lights[other]), reverse=True)
        assert (high + 0.05) / (low + 0.05) >= 3


def _luminance(colour: str) -> float:
    parts = [int(part) / 255 for part in colour.removeprefix("rgb(").removesuffix(")").split(",")]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
