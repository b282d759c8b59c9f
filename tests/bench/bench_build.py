"""Measures a whole build against the sum of its floors; exits 1 on a miss.

Run it by hand: `python tests/bench/bench_build.py`.

The deck: 40 voicings in twelve keys, all seven usual drills. The floors are what a build cannot do without:
an empty neck through the same encoder for each of its pictures; each sound through the MP3 encoder alone,
on as many threads; the rows and bytes of its package through sqlite and zip in memory; the page's deck as
JSON; the handout's own calls played to fpdf2 again; music21's export of the score and the MIDI file.
Reading the recipe, searching the neck, wording and ordering the cards come on top of it. Build and floors
take turns, and the best of several runs counts, so that a busy machine slows both.
"""

from __future__ import annotations

import json
import os
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, replace
from functools import partial
from itertools import product
from pathlib import Path
from typing import Any
from unittest.mock import patch

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from fpdf import FPDF

from drills.build import build
from drills.cards.card import PictureSpec, SoundSpec
from drills.draw.neck import render_pair
from drills.media.sounds import MOST_THREADS
from drills.pack.page_deck import packed_deck
from drills.pack.score import Sheet, write_midi
from drills.pack.score.staves import staves_of
from drills.plan import Plan
from drills.recipe.model import Recipe
from drills.recipe.read import parse_recipe
from drills.sound.bank import Bank
from drills.sound.encode import mp3
from drills.sound.mix import played
from tests.bench.bench_package import Content, write_floor

BOUND = 2.0
N_RUNS = 3
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


@dataclass(frozen=True, slots=True)
class Floors:
    """What a build cannot do without, ready to be measured."""

    recipe: Recipe
    made: Plan
    content: Content
    calls: list[tuple[str, tuple[Any, ...], dict[str, Any]]]
    samples: list[Any]
    bare: list[PictureSpec]

    def measured(self, folder: Path) -> dict[str, float]:
        """Seconds of each."""
        n_threads = min(os.cpu_count() or 1, MOST_THREADS)

        def encode() -> None:
            with ThreadPoolExecutor(n_threads) as pool:
                list(pool.map(mp3, self.samples))

        def notate() -> None:
            staves_of(sheet)
            write_midi(sheet, folder / "floor.mid")

        sheet = Sheet(self.recipe.title, self.made.subjects, self.recipe.instrument)
        deck = json.loads(packed_deck(self.made.deck))
        return {
            "pictures": seconds(lambda: [render_pair(picture) for picture in self.bare]),
            "sounds": seconds(encode),
            "package": seconds(lambda: write_floor(self.content)),
            "page": seconds(lambda: json.dumps(deck)),
            "handout": seconds(lambda: replayed(self.calls)),
            "notation": seconds(notate),
        }


@contextmanager
def recorded() -> Iterator[list[tuple[str, tuple[Any, ...], dict[str, Any]]]]:
    """Notes every call of the handout to fpdf2; calls that fpdf2 makes to itself are left out."""
    calls: list[tuple[str, tuple[Any, ...], dict[str, Any]]] = []
    depth = 0

    def noting(name: str, method: Callable[..., Any]) -> Callable[..., Any]:
        def call(self: FPDF, *args: Any, **options: Any) -> Any:
            nonlocal depth
            if depth == 0:
                calls.append((name, args, options))
            depth += 1
            try:
                return method(self, *args, **options)
            finally:
                depth -= 1

        return call

    names = [
        name for name, each in vars(FPDF).items() if callable(each) and (name == "__init__" or name[0] != "_")
    ]
    with ExitStack() as patches:
        for name in names:
            patches.enter_context(patch.object(FPDF, name, noting(name, getattr(FPDF, name))))
        yield calls


def replayed(calls: list[tuple[str, tuple[Any, ...], dict[str, Any]]]) -> None:
    """The same calls once more, with nothing around them."""
    (_, args, options), *rest = calls
    pdf = FPDF(*args, **options)
    for name, args, options in rest:
        getattr(pdf, name)(*args, **options)


def floors_of(text: str, folder: Path) -> Floors:
    """Builds once, and lays out what the floors need."""
    recipe = parse_recipe(text, source="bench.toml", default_id="bench")
    with recorded() as calls:
        built = build(recipe, folder)
    deck = built.plan.deck
    faces = [face.picture for card in deck.cards for face in (card.front, card.back)]
    pictures = [picture for picture in dict.fromkeys(faces) if picture is not None]
    bank = Bank(recipe.sound.seconds)
    answers = (SoundSpec(card.quiz.sound.midi) for card in deck.cards if card.quiz is not None)
    return Floors(
        recipe,
        built.plan,
        Content(built.files[0]),
        calls,
        [played(bank, each.midi, recipe.sound.seconds) for each in dict.fromkeys(answers)],
        [replace(picture, markers=(), muted=()) for picture in pictures],
    )


def main() -> int:
    """Prints the ratio of one run, and whether it holds."""
    text = recipe_text()

    def whole(folder: Path) -> None:
        build(parse_recipe(text, source="bench.toml", default_id="bench"), folder)

    memory = Path("/dev/shm")
    with tempfile.TemporaryDirectory(dir=memory if memory.is_dir() else None) as name:
        folder = Path(name)
        floors = floors_of(text, folder / "first")
        runs = [
            (seconds(partial(whole, folder / str(run))), floors.measured(folder)) for run in range(N_RUNS)
        ]
    build_s = min(taken for taken, _ in runs)
    least = {part: min(each[part] for _, each in runs) for part in runs[0][1]}
    ratio = build_s / sum(least.values())
    print(
        f"{len(floors.made.deck.cards)} cards, {2 * len(floors.bare)} pictures, {len(floors.samples)} sounds"
    )
    print("floors: " + ", ".join(f"{part} {taken:.2f} s" for part, taken in least.items()))
    print(
        f"build {build_s:.2f} s over floors: {ratio:.2f} (bound {BOUND:g}) "
        f"{'holds' if ratio <= BOUND else 'MISSED'}"
    )
    return int(ratio > BOUND)


if __name__ == "__main__":
    sys.exit(main())
