"""How fast the catalogue is made, read from its cache, and asked; each bound in one run.

Goals: a chord type in twelve keys with grips within 0.3 s; all of them within 3 s, and 0.3 s from the cache;
`drills find` within 0.5 s from the shell; the cost of a voicing no higher in a large catalogue than in
a small one, on six, seven and eight strings; 50 times as many voicings a second as with music21's objects.
Why numpy: the same search note by note is timed as well, on one chord type.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from itertools import permutations
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from drills.catalogue.cache import FOLDER_VARIABLE, tables
from drills.catalogue.chord_type import CHORD_TYPES, ChordType, chord_type
from drills.catalogue.enumerate import enumerate_rows
from drills.catalogue.setup import Setup
from drills.catalogue.table import build_tables
from drills.neck.instrument import Instrument
from drills.neck.search import find_in_key, roots_by_fourths
from drills.neck.tuning import TUNINGS

ONE_TYPE_S, ALL_TYPES_S, CACHED_S, SHELL_S = 0.3, 3.0, 0.3, 0.5
MUSIC21_BOUND = 50.0
GROWTH_BOUND = 1.5
N_RUNS = 3
SAMPLE = "m7"
FIND = ("find", "--chord", "m11", "--upper", "close triad", "--min-keys", "6", "--json")
FIND_ALL = ("find", "--upper", "close triad", "--min-keys", "12")


def seconds(work: Callable[[], object]) -> float:
    """How long one call takes."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def verdict(words: str, value: float, bound: float, unit: str = "s") -> bool:
    """Prints a figure beside its bound; whether it is missed."""
    missed = value > bound
    print(f"{words}: {value:.3f} {unit} (bound {bound:g}) {'MISSED' if missed else 'holds'}")
    return missed


def fresh(code: str) -> float:
    """What a fresh process prints."""
    here = str(Path(__file__).parent)
    program = f"import sys; sys.path.insert(0, {here!r}); from bench_catalogue import *; {code}"
    return float(
        subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True).stdout
    )


def one_type_s(name: str) -> float:
    """One chord type, made in a process that made nothing before; imports left out."""
    return fresh(f"kind = chord_type({name!r}); print(seconds(lambda: build_tables([kind], Setup())))")


def all_types_s(*, cached: bool) -> float:
    """All chord types in a fresh process."""
    make = "tables" if cached else "build_tables"
    return fresh(f"print(seconds(lambda: {make}([chord_type(name) for name in CHORD_TYPES], Setup())))")


def shell_s(arguments: tuple[str, ...]) -> float:
    """The whole command as typed."""
    command = [sys.executable, "-m", "drills", *arguments]
    return seconds(lambda: subprocess.run(command, capture_output=True, check=True))


def growth(tuning: str) -> float:
    """The cost of a voicing by the size of the catalogue; how much dearer the largest is than the second."""
    setup = Setup(Instrument(TUNINGS[tuning]))
    kinds = [chord_type(name) for name in CHORD_TYPES]
    costs = []
    print(f"{tuning}:")
    for count in (3, 7, 14, 28, len(kinds)):
        chosen = kinds[:: len(kinds) // count][:count]
        built = build_tables(chosen, setup)
        size = sum(len(table.columns) for table in built)
        times = []
        for _ in range(2):
            start = time.perf_counter()
            build_tables(chosen, setup)
            times.append(time.perf_counter() - start)
        cost_us = 1e6 * min(times) / size
        costs.append(cost_us)
        print(f"  {count:3} chord types, {size:7,} voicings: {cost_us:6.1f} µs a voicing")
    return costs[-1] / costs[1]


def note_by_note_us(kind: ChordType, sample: int = 150) -> float:
    """The search in twelve keys for some voicings, one after another, per voicing."""
    table = build_tables([kind], Setup())[0]
    step = len(table.columns) // sample
    voicings = [table.entry(row).voicing for row in range(0, step * sample, step)]
    roots = roots_by_fourths(kind.symbol.quality)
    return 1e6 / sample * seconds(lambda: [find_in_key(each, root) for each in voicings for root in roots])


def with_music21(kind: ChordType) -> int:
    """Four-note voicings of a chord type with music21's objects: made, judged and named; no grips."""
    from music21.chord import Chord
    from music21.interval import Interval
    from music21.pitch import Pitch

    tones = [
        each.over(roots_by_fourths(kind.symbol.quality)[0]).plain.replace("b", "-") for each in kind.tones
    ]
    made = 0
    for order in permutations(range(len(tones)), 4):
        pitches = [Pitch(f"{tones[order[0]]}3")]
        for tone in order[1:]:
            pitch = Pitch(f"{tones[tone]}3")
            while pitch.midi <= pitches[-1].midi:
                pitch = pitch.transpose("P8")
            pitches.append(pitch)
        held = {Interval(Pitch("C3"), pitch).chromatic.mod12 for pitch in pitches}
        if not {3, 10} <= held:
            continue
        made += bool(Chord(pitches[:2]).commonName and Chord(pitches[2:]).commonName)
        made += bool(Chord(pitches[1:]).commonName)  # 1 + 3
    return made


def music21_us(kind: ChordType) -> float:
    """The same, per voicing."""
    import music21  # noqa: F401 (its import is not the question)

    start = time.perf_counter()
    made = with_music21(kind)
    return 1e6 * (time.perf_counter() - start) / made


def main() -> int:
    """Prints every figure, and whether its bound holds."""
    kind = chord_type(SAMPLE)
    missed = False
    with tempfile.TemporaryDirectory() as folder:
        os.environ[FOLDER_VARIABLE] = folder
        for name in (SAMPLE, "dim7", "7alt"):
            words = f"{name} in twelve keys with grips, cold"
            missed |= verdict(words, min(one_type_s(name) for _ in range(N_RUNS)), ONE_TYPE_S)
        missed |= verdict("all chord types, cold", all_types_s(cached=False), ALL_TYPES_S)
        tables([chord_type(name) for name in CHORD_TYPES], Setup())
        cached_s = min(all_types_s(cached=True) for _ in range(N_RUNS))
        missed |= verdict("all chord types, from the cache", cached_s, CACHED_S)
        for arguments in (FIND, FIND_ALL):
            words = f"drills {' '.join(arguments)}"
            missed |= verdict(words, min(shell_s(arguments) for _ in range(N_RUNS)), SHELL_S)
        os.environ[FOLDER_VARIABLE] = "off"
        for tuning in ("standard", "seven strings", "eight strings"):
            words = f"{tuning}: dearer a voicing in the largest catalogue than in a small one"
            missed |= verdict(words, growth(tuning), GROWTH_BOUND, "times")
    built = build_tables([kind], Setup())[0]
    ours_us = (
        1e6 * min(seconds(lambda: build_tables([kind], Setup())) for _ in range(N_RUNS)) / len(built.columns)
    )
    slow_us = note_by_note_us(kind)
    print(f"{SAMPLE}: ours {ours_us:.1f} µs a voicing with its grips in twelve keys; ", end="")
    print(f"find_in_key, note by note: {slow_us:,.0f} µs, {slow_us / ours_us:,.0f} times as much")
    enumerated_us = (
        1e6 * min(seconds(lambda: enumerate_rows(kind)) for _ in range(N_RUNS)) / len(built.columns)
    )
    theirs_us = music21_us(kind)
    ratio = theirs_us / enumerated_us
    holds = "holds" if ratio >= MUSIC21_BOUND else "MISSED"
    print(f"the same enumeration with music21's objects, no grips: {theirs_us:,.0f} µs a voicing; ", end="")
    print(
        f"ours {enumerated_us:.2f} µs, {ratio:,.0f} times as many (bound {MUSIC21_BOUND:g}) {holds}; ", end=""
    )
    print(f"our grips in twelve keys included, {theirs_us / ours_us:,.0f} times as many")
    return int(missed or ratio < MUSIC21_BOUND)


if __name__ == "__main__":
    sys.exit(main())
