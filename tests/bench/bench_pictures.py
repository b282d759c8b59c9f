"""Measures neck pictures against their floor; exits 1 when a bound is missed.

Run it by hand: `python tests/bench/bench_pictures.py`.

The floor is the empty neck of the same window through the same encoder. Everything is drawn once before the
clock starts; then pictures and floors take turns, and the best of several runs counts, so that a busy machine
slows both. Bounds: time at most twice the floor's, a file at most 8 KB for every 480 pixels of height (six
strings). The 3 ms a picture may take depend on the machine: they are printed, not judged.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from drills.cards.card import Marker, PictureSpec
from drills.draw.layout import Layout
from drills.draw.neck import render, render_pair

TIME_BOUND = 2.0
BYTES_BOUND = 8 * 1024
HEIGHT_PX = 480
N_RUNS = 60

SIX = ("E", "A", "D", "G", "B", "E")
PICTURES = {
    "six notes, two layers": PictureSpec(
        SIX,
        (
            Marker(0, 0, 0, "1", is_root=True),
            Marker(1, 2, 0, "5"),
            Marker(2, 5, 0, "♭3"),
            Marker(3, 2, 1, "11"),
            Marker(4, 3, 1, "♭7"),
            Marker(5, 2, 1, "9"),
        ),
        1,
        5,
    ),
    "five notes, a mute": PictureSpec(
        SIX,
        (
            Marker(1, 4, 0, "♭7"),
            Marker(2, 5, 0, "3"),
            Marker(3, 5, 1, "13"),
            Marker(4, 6, 1, "9"),
            Marker(5, 5, 1, "♯11"),
        ),
        3,
        7,
        (0,),
    ),
    "without degrees": PictureSpec(
        SIX,
        tuple(Marker(string, fret, string // 4) for string, fret in enumerate((8, 10, 9, 8, 10, 8))),
        7,
        11,
    ),
    "one note asked": PictureSpec(
        SIX,
        (
            Marker(2, 12, 0, "3"),
            Marker(3, 12, 1, "", is_asked=True),
            Marker(4, 13, 1, "9"),
            Marker(5, 12, 1, "♯11"),
        ),
        10,
        14,
        (0, 1),
    ),
    "three layers, doubled": PictureSpec(
        SIX,
        (
            Marker(0, 8, 0, "1", is_root=True, is_doubled=True),
            Marker(1, 7, 0, "7"),
            Marker(2, 7, 2, "3", is_doubled=True),
            Marker(3, 9, 2, "3", is_doubled=True),
            Marker(4, 8, 1, "♯11"),
            Marker(5, 8, 1, "1", is_root=True, is_doubled=True),
        ),
        6,
        10,
    ),
    "wide arpeggio": PictureSpec(
        SIX,
        (
            Marker(0, 5, 0, "1", is_root=True),
            Marker(1, 10, 0, "♭7"),
            Marker(2, 14, 0, "♭3"),
            Marker(3, 12, 1, "5"),
            Marker(4, 15, 1, "9"),
            Marker(5, 16, 1, "11"),
        ),
        5,
        16,
    ),
    "seven strings": PictureSpec(
        ("B", *SIX),
        tuple(
            Marker(string, fret, string // 4, degree, string == 0)
            for string, (fret, degree) in enumerate(
                zip((3, 5, 3, 4, 3, 4, 3), ("1", "4", "♭7", "♭9", "♭3", "♭5", "♭7"), strict=True)
            )
        ),
        1,
        5,
    ),
    "eight strings": PictureSpec(
        ("F♯", "B", *SIX),
        tuple(
            Marker(string, fret, string // 3, degree, string == 0)
            for string, (fret, degree) in enumerate(
                zip(
                    (22, 24, 22, 23, 22, 23, 22, 21),
                    ("1", "4", "♭7", "♭9", "♭3", "♭5", "♭7", "♭9"),
                    strict=True,
                )
            )
        ),
        20,
        24,
    ),
}


def seconds(task: Callable[[], object]) -> float:
    """How long a task takes."""
    start = time.perf_counter()
    task()
    return time.perf_counter() - start


def main() -> int:
    """Print a table; 0 when every picture keeps both bounds."""
    fine = True
    print(f"{'picture':24}{'ms':>7}{'floor':>7}{'ratio':>7}{'pair':>7}{'bytes':>8}{'floor':>8}{'allowed':>9}")
    for name, spec in PICTURES.items():
        bare = replace(spec, markers=(), muted=())
        tasks = (lambda s=spec: render(s), lambda b=bare: render(b), lambda s=spec: render_pair(s))
        for task in tasks:
            task()
        runs = [[seconds(task) for task in tasks] for _ in range(N_RUNS)]
        took, floor, pair = (1000 * min(column) for column in zip(*runs, strict=True))
        size = len(render(spec))
        height = Layout(
            len(spec.string_names), spec.first_fret, spec.last_fret, is_left_handed=False
        ).height_px
        allowed = BYTES_BOUND * height // HEIGHT_PX
        keeps = took <= TIME_BOUND * floor and size <= allowed
        fine = fine and keeps
        print(
            f"{name:24}{took:7.2f}{floor:7.2f}{took / floor:7.2f}{pair:7.2f}"
            f"{size:8d}{len(render(bare)):8d}{allowed:9d}"
            f"{'' if keeps else '   missed'}"
        )
    return 0 if fine else 1


if __name__ == "__main__":
    sys.exit(main())
