"""Makes the pictures of the README: the quiz page at phone size, after some weeks of play.

Run by hand, with a Chromium on the path: `python tests/readme_pictures.py`. Not a test.

The progress that is seen is made up here: a file like those that the page saves, with marks from a seeded
chance.
"""

from __future__ import annotations

import json
import random
import sys
import tempfile
from datetime import UTC, datetime, timedelta
from pathlib import Path
from shutil import which
from typing import TYPE_CHECKING, Any

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from drills.cards.card import Card
from drills.cards.identity import short_id
from drills.pack.page import page_of, write_file
from drills.plan import plan
from drills.recipe.read import read_recipe
from tests.page.student import judge, opened, press, read_progress, save_progress, shown, tap_grip

if TYPE_CHECKING:
    from playwright.sync_api import BrowserContext, Page

RECIPE = "weeks-03-05-third-and-seventh-below"
NOW = datetime(2027, 1, 14, 18, 30, tzinfo=UTC)
FLAGS = (
    "--no-sandbox --disable-gpu --no-first-run --disable-background-networking --disable-component-update "
    "--disable-sync"
).split()
COLOURS = 128
N_SEEN = 66


def main() -> None:
    """Writes .readme/*.png beside the README."""
    from playwright.sync_api import sync_playwright

    browser_path = which("chromium") or which("chromium-browser")
    if browser_path is None:
        sys.exit("no chromium on the path")
    target = Path(__file__).resolve().parents[1] / ".readme"
    deck = plan(read_recipe(RECIPE)).deck
    with tempfile.TemporaryDirectory() as scratch, sync_playwright() as player:
        folder = Path(scratch)
        write_file(page_of(deck), folder / "deck.html")
        (folder / "progress.json").write_text(progress(deck.cards), encoding="utf-8")
        browser = player.chromium.launch(executable_path=browser_path, args=FLAGS)
        for scheme in ("light", "dark"):
            phone = browser.new_context(
                viewport={"width": 390, "height": 844},
                device_scale_factor=2,
                has_touch=True,
                is_mobile=True,
                color_scheme=scheme,
                timezone_id="UTC",
            )
            shots(phone, folder, target, "" if scheme == "light" else "-dark")
            phone.close()
        browser.close()


def progress(cards: tuple[Card, ...]) -> str:
    """A progress file: most cards seen, the first ones settled, some slipped."""
    chance = random.Random(8)
    rows: dict[str, list[list[Any]]] = {}
    for place, card in enumerate(cards[:N_SEEN]):
        first = NOW - timedelta(days=24 - place // 5, minutes=chance.randrange(60))
        waits = [timedelta(), timedelta(minutes=11), timedelta(days=4), timedelta(days=12)]
        moments = [first + sum(waits[: turn + 1], timedelta()) for turn in range(4)]
        marks = [3, 3, chance.choice([1, 2, 3, 3, 3]), chance.choice([3, 3, 4])]
        told = [
            (when, mark)
            for when, mark in zip(moments, marks, strict=True)
            if when < NOW - timedelta(hours=20)
        ]
        rows[short_id(card.identity)] = [
            [f"{place:04d}{turn:04d}", round(when.timestamp() * 1000), mark, chance.randrange(2000, 9000)]
            for turn, (when, mark) in enumerate(told)
        ]
    head = {
        "format": "layered-voicing drills progress",
        "version": 1,
        "saved": round(NOW.timestamp() * 1000),
        "student": "",
        "count": sum(map(len, rows.values())),
    }
    lines = ",\n".join(f"{json.dumps(card)}: {json.dumps(row)}" for card, row in sorted(rows.items()) if row)
    return json.dumps(head)[:-1] + ',\n"cards": {\n' + lines + "\n}\n}\n"


def shots(phone: BrowserContext, folder: Path, target: Path, suffix: str) -> None:
    """Home, a question with notes tapped, and its answer with one note off."""
    phone.clock.install(time=NOW)
    page = opened(phone, (folder / "deck.html").as_uri())
    read_progress(page, folder / "progress.json")
    save_progress(page, folder / "saved.json")  # no reminder then
    if not suffix:
        shot(page, target / "home.png")
    press(page, "Play")
    while not page.locator(".top p").inner_text().startswith("place"):
        judge(page, 3)
    tap_grip(page, shown(page, plan(read_recipe(RECIPE)).deck), frets_off=1)
    if not suffix:
        shot(page, target / "question.png")
    press(page, "Check")
    page.get_by_role("button", name="Next").wait_for()
    shot(page, target / f"answer{suffix}.png")


def shot(page: Page, path: Path) -> None:
    """A picture of the screen, in few colours: a page of flat ones needs no more."""
    from PIL import Image

    page.wait_for_timeout(600)
    page.screenshot(path=path)
    with Image.open(path) as picture:
        small = picture.convert("RGB").quantize(COLOURS, dither=Image.Dither.NONE)
    small.save(path, optimize=True)


if __name__ == "__main__":
    main()
