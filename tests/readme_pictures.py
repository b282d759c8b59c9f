"""Makes the pictures of the README: a card's question and answer as a phone shows them.

Run by hand, with a Chromium on the path: `python tests/readme_pictures.py`. Not a test.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path
from shutil import which

from drills.cards.card import Card
from drills.media.pictures import Pictures
from drills.pack.faces import answer_html, question_html, stylesheet
from drills.plan import plan
from drills.recipe.read import read_recipe

RECIPE, DRILL, HEAD = "weeks-03-05-third-and-seventh-below", "place", "E♭13♯11"
WIDTH_PX, HEIGHT_PX = 390, 600
FLAGS = (
    "--headless --no-sandbox --disable-gpu --hide-scrollbars --no-first-run --disable-background-networking "
    "--disable-component-update --disable-sync --force-device-scale-factor=2"
).split()


def main() -> None:
    """Writes .readme/*.png beside the README."""
    browser = which("chromium") or which("chromium-browser")
    if browser is None:
        sys.exit("no chromium on the path")
    folder = Path(__file__).resolve().parents[1] / ".readme"
    folder.mkdir(exist_ok=True)
    cards = plan(read_recipe(RECIPE)).deck.cards
    card = next(each for each in cards if each.drill == DRILL and each.front.head == HEAD)
    with tempfile.TemporaryDirectory() as scratch:
        for name, is_answer, is_dark in (
            ("question", False, False),
            ("answer", True, False),
            ("answer-dark", True, True),
        ):
            page = _page(card, Path(scratch), is_answer=is_answer, is_dark=is_dark)
            target = folder / f"{name}.png"
            size = f"--window-size={WIDTH_PX},{HEIGHT_PX}"
            subprocess.run([browser, *FLAGS, size, f"--screenshot={target}", page.as_uri()], check=True)
            _shrink(target)


def _page(card: Card, folder: Path, *, is_answer: bool, is_dark: bool) -> Path:
    """One side of a card as a reader puts it together."""
    pictures = Pictures()
    face = card.back if is_answer else card.front
    names = None
    if face.picture is not None:
        names = pictures.names(face.picture, card.label)
        for name, data in zip(names, pictures.render(face.picture), strict=True):
            (folder / name).write_bytes(data)
    body = answer_html(card, names) if is_answer else question_html(card, names)
    night = ' class="nightMode night_mode"' if is_dark else ""
    page = folder / "page.html"
    page.write_text(
        f'<!doctype html><html lang="en"{night}><meta charset="utf-8">'
        f'<meta name="viewport" content="width=device-width"><style>{stylesheet()}</style>'
        f'<body class="card{" nightMode night_mode" if is_dark else ""}">'
        f'<main class="face" lang="en">{body}</main>',
        encoding="utf-8",
    )
    return page


def _shrink(path: Path) -> None:
    """Few colours are enough for a page of flat ones."""
    from PIL import Image

    with Image.open(path) as picture:
        small = picture.convert("RGB").quantize(64)
    small.save(path, optimize=True)


if __name__ == "__main__":
    main()
