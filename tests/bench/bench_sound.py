"""Measures making the sounds of a deck against encoding them alone; exits 1 when the bound is missed.

Run it by hand: `python tests/bench/bench_sound.py`.

The deck is that of `bench_build`: 40 voicings in twelve keys. Making them is all of it: notes plucked,
voicings mixed, MP3 encoded, on all cores. The floor is the encoder alone, on as many threads, over samples
mixed beforehand. Both take turns, and the best of several runs counts, so that a busy machine slows both.
"""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from drills.cards.card import SoundSpec
from drills.media.sounds import MOST_THREADS, Sounds
from drills.plan import plan
from drills.recipe.read import parse_recipe
from drills.sound.bank import Bank
from drills.sound.encode import MOST_BYTES_A_SECOND, mp3
from drills.sound.mix import played
from tests.bench.bench_build import recipe_text

RATIO_BOUND = 1.15
SECONDS = 3.0
N_RUNS = 5


def sounds_of_a_deck() -> list[SoundSpec]:
    """What the answers of the deck sound, each once."""
    deck = plan(parse_recipe(recipe_text(), source="bench.toml", default_id="bench")).deck
    heard = (SoundSpec(card.quiz.sound.midi) for card in deck.cards if card.quiz is not None)
    return list(dict.fromkeys(heard))


def seconds(task: Callable[[], object]) -> float:
    """How long a task takes."""
    start = time.perf_counter()
    task()
    return time.perf_counter() - start


def main() -> int:
    """Prints the ratio of one run, and whether it holds."""
    specs = sounds_of_a_deck()
    bank = Bank(SECONDS)
    samples = [played(bank, spec.midi, SECONDS) for spec in specs]
    files = [mp3(each) for each in samples]
    n_threads = min(os.cpu_count() or 1, MOST_THREADS)

    def encode_alone() -> None:
        with ThreadPoolExecutor(n_threads) as pool:
            list(pool.map(mp3, samples))

    works = (lambda: list(Sounds(SECONDS).render(specs)), encode_alone)
    runs = [[seconds(work) for work in works] for _ in range(N_RUNS)]
    made_s, encoded_s = map(min, zip(*runs, strict=True))
    on_one_core_s = seconds(lambda: [mp3(each) for each in samples])
    print(
        f"{len(specs)} sounds: made in {made_s:.2f} s, encoded in {encoded_s:.2f} s, on {n_threads} threads"
    )
    print(f"encoded on one thread in {on_one_core_s:.2f} s")
    results = (
        ("making over encoding alone", made_s / encoded_s, RATIO_BOUND),
        ("bytes of the largest", max(map(len, files)), MOST_BYTES_A_SECOND * SECONDS),
    )
    for what, value, bound in results:
        print(f"{what}: {value:.6g} (bound {bound:g}) {'holds' if value <= bound else 'MISSED'}")
    return int(any(value > bound for _, value, bound in results))


if __name__ == "__main__":
    sys.exit(main())
