"""Measures a whole build against the floors of its pictures and its package; exits 1 on a miss.

Run it by hand: `python tests/bench/bench_build.py`.

The deck: 40 voicings in twelve keys, all seven drills. The floor is what a build cannot do without: an empty
neck through the same encoder for each of its pictures, and the rows and bytes of its package through sqlite
and zip in memory. Reading the recipe, searching the neck, wording and ordering the cards come on top of it.
Build and floors take turns, and the best of several runs counts, so that a busy machine slows both.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from itertools import product
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from drills.build import build
from drills.draw.neck import render_pair
from drills.plan import plan
from drills.recipe.read import parse_recipe
from tests.bench.bench_package import Content, write_floor

BOUND = 2.5
N_RUNS = 5
N_VOICINGS = 40
LAYERS = (
    (
        ("b7 3", "3 b7"),
        ("13 9 5", "9 5 13", "13 9 #11", "#9 b13 1", "9 3 13", "13 b9 3", "9 #11 13", "b9 3 13"),
    ),
    (("7 3", "3 7"), ("13 9 5", "9 5 7", "9 5 13", "13 9 #11", "5 7 9", "5 1 3", "9 3 13", "9 #11 13")),
    (("b7 b3", "b3 b7"), ("9 11 13", "11 b7 9", "5 b7 9", "13 9 11", "9 5 1", "5 1 b3")),
)


def recipe_text() -> str:
    """Forty voicings of a guide-tone pair below and three notes on top."""
    pairs = [pair for lowers, uppers in LAYERS for pair in product(lowers, uppers)][:N_VOICINGS]
    voicings = "".join(f'[[voicing]]\nlower = "{lower}"\nupper = "{upper}"\n\n' for lower, upper in pairs)
    drills = '["place", "name", "split", "join", "spell", "spot", "layer"]'
    return f'title = "Riverside evening group"\nkeys = "all"\n\n{voicings}[drills]\nask = {drills}\n'


def seconds(task: Callable[[], object]) -> float:
    """How long a task takes."""
    start = time.perf_counter()
    task()
    return time.perf_counter() - start


def main() -> int:
    """Prints the ratio of one run, and whether it holds."""
    text = recipe_text()

    def whole(folder: Path) -> Path:
        recipe = parse_recipe(text, source="bench.toml", default_id="bench")
        return build(recipe, folder).files[0]

    memory = Path("/dev/shm")
    with tempfile.TemporaryDirectory(dir=memory if memory.is_dir() else None) as name:
        folder = Path(name)
        content = Content(whole(folder / "first"))
        deck = plan(parse_recipe(text, source="bench.toml", default_id="bench")).deck
        faces = [face.picture for card in deck.cards for face in (card.front, card.back)]
        bare = [
            replace(picture, markers=(), muted=()) for picture in dict.fromkeys(faces) if picture is not None
        ]
        runs = []
        for run in range(N_RUNS):
            build_s = seconds(partial(whole, folder / str(run)))
            pictures_s = seconds(lambda: [render_pair(picture) for picture in bare])
            package_s = seconds(lambda: write_floor(content))
            runs.append((build_s, pictures_s, package_s))
    build_s, pictures_s, package_s = map(min, zip(*runs, strict=True))
    ratio = build_s / (pictures_s + package_s)
    print(f"{len(deck.cards)} cards, {2 * len(bare)} pictures: build {build_s:.2f} s")
    print(f"floors: pictures {pictures_s:.2f} s, package {package_s:.2f} s")
    print(f"build over floors: {ratio:.2f} (bound {BOUND:g}) {'holds' if ratio <= BOUND else 'MISSED'}")
    return int(ratio > BOUND)


if __name__ == "__main__":
    sys.exit(main())
