"""Measures a handout against its bounds, 24 voicings on paper; exits 1 on a miss.

Run it by hand: `python tests/bench/bench_handout.py`.

The handout: a first page and 24 voicings, six to a page. Time is that of writing the PDF once the program is
loaded and the voicings are found; the best of several runs counts.
"""

from __future__ import annotations

import sys
import time
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from drills.pack.handout import Handout, handout_pdf
from drills.pack.handout.paper import Setting
from drills.plan import CAUTION, plan
from drills.recipe.read import parse_recipe
from tests.bench.bench_build import recipe_text

MOST_S, MOST_BYTES = 0.150, 60_000
N_RUNS, N_VOICINGS = 7, 24


def handout() -> Handout:
    """Twenty-four voicings of the building bench."""
    made = plan(parse_recipe(recipe_text(), source="bench.toml", default_id="bench"))
    subjects = {each.turn: each for each in reversed(made.subjects)}
    chosen = tuple(subjects[turn] for turn in sorted(subjects))[:N_VOICINGS]
    setting = Setting(made.deck.title, "A4", "", CAUTION)
    names = made.deck.neck.string_names
    return Handout(setting, made.deck.about[0], chosen, (), names, sheets=("voicings",))


def main() -> int:
    """Prints time and size, and whether they hold."""
    wanted = handout()
    runs = []
    for _ in range(N_RUNS):
        start = time.perf_counter()
        data = handout_pdf(wanted)
        runs.append(time.perf_counter() - start)
    assert handout_pdf(replace(wanted)) == data
    seconds, size = min(runs), len(data)
    holds = seconds <= MOST_S and size <= MOST_BYTES
    print(
        f"{len(wanted.subjects)} voicings: {seconds * 1000:.0f} ms (bound {MOST_S * 1000:.0f}), "
        f"{size:,} bytes (bound {MOST_BYTES:,}) {'holds' if holds else 'MISSED'}"
    )
    return int(not holds)


if __name__ == "__main__":
    sys.exit(main())
