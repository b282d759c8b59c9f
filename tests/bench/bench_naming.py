"""Measures how fast and how rightly we name voicings, beside two libraries; exits 1 on a miss.

Run it by hand: `python tests/bench/bench_naming.py`.

Forty jazz voicings in twelve keys, named from their sounding notes alone: the chord, and each layer with its
root. Ours counts from cold caches, in fresh processes, the best of several; the libraries name the same notes
once, the chord alone. The names we must give were written by hand (common practice, no source).
"""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from drills.theory.naming import name_notes
from drills.theory.voicing import DEFAULT_SIZES

PYCHORD_BOUND = 100.0
MUSIC21_BOUND = 100.0
N_RUNS = 5

# Roots from C upwards as charts spell them.
MAJOR = "C Db D Eb E F Gb G Ab A Bb B".split()
DOMINANT = "C Db D Eb E F F# G Ab A Bb B".split()
MINOR = "C C# D Eb E F F# G G# A Bb B".split()

# Semitones over the root, the symbol after it, and how the root is spelled.
TABLE = (
    ("0 4 7", "", MAJOR),
    ("4 7 12", "", MAJOR),
    ("7 12 16", "", MAJOR),
    ("0 7 15", "m", MINOR),
    ("0 3 6", "dim", MINOR),
    ("0 5 7", "sus4", DOMINANT),
    ("0 7 14 16", "(add9)", MAJOR),
    ("0 7 11 16", "maj7", MAJOR),
    ("4 11 12 19", "maj7", MAJOR),
    ("7 12 16 23", "maj7", MAJOR),
    ("11 16 19 24", "maj7", MAJOR),
    ("0 11 16 19", "maj7", MAJOR),
    ("0 4 11 14", "maj9", MAJOR),
    ("0 4 9 14 19 23", "maj13", MAJOR),
    ("0 11 16 21 26 30", "maj13#11", MAJOR),
    ("0 8 11 16", "maj7#5", MAJOR),
    ("0 4 9 14", "6/9", MAJOR),
    ("0 7 9 16", "6", MAJOR),
    ("0 7 10 16", "7", DOMINANT),
    ("4 10 12 19", "7", DOMINANT),
    ("7 12 16 22", "7", DOMINANT),
    ("10 16 19 24", "7", DOMINANT),
    ("0 4 10 14", "9", DOMINANT),
    ("0 10 16 21", "13", DOMINANT),
    ("0 10 16 21 26", "13", DOMINANT),
    ("0 10 16 21 26 30", "13#11", DOMINANT),
    ("0 10 16 20 27", "7#9b13", DOMINANT),
    ("0 4 10 15", "7#9", DOMINANT),
    ("0 4 7 10 13", "7b9", DOMINANT),
    ("0 8 10 16", "7#5", DOMINANT),
    ("0 10 14 17", "9sus4", DOMINANT),
    ("0 10 14 17 21", "13sus4", DOMINANT),
    ("0 7 10 15", "m7", MINOR),
    ("7 12 15 22", "m7", MINOR),
    ("0 3 10 14", "m9", MINOR),
    ("0 7 15 17 22 26", "m11", MINOR),
    ("0 10 15 21 26 29", "m13", MINOR),
    ("0 7 11 15", "m(maj7)", MINOR),
    ("0 6 10 15", "m7b5", MINOR),
    ("0 6 9 15", "dim7", MINOR),
)
NOTE_NAMES = MAJOR
SEMITONES = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}


@dataclass(frozen=True, slots=True)
class Case:
    """One voicing in one key.

    Attributes:
        midi: its notes, low to high.
        symbol: root and symbol that name it.
        slash: the pitch class of its lowest note, where that is not the root.
    """

    midi: tuple[int, ...]
    symbol: str
    slash: int | None


def cases() -> Iterator[Case]:
    """Every row in every key."""
    for notes, suffix, roots in TABLE:
        over_root = [int(word) for word in notes.split()]
        for key, root in enumerate(roots):
            slash = (key + over_root[0]) % 12 if over_root[0] % 12 else None
            yield Case(tuple(48 + key + note for note in over_root), root + suffix, slash)


def our_name(midi: tuple[int, ...]) -> str:
    """The chord, once every layer has its name and root."""
    named = name_notes(midi, DEFAULT_SIZES[len(midi)])
    for layer in named.layers:
        named.sounding.layer_root(layer)
    return named.chord_plain


def is_right(case: Case, name: str) -> bool:
    """Whether a name is the one written by hand."""
    if case.slash is None:
        return name == case.symbol
    head, _, bass = name.rpartition("/")
    signs = bass.count("#") - bass[1:].count("b")
    return head == case.symbol and (SEMITONES[bass[0]] + signs) % 12 == case.slash


def seconds(work: Callable[[], object]) -> float:
    """How long one call takes."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def our_seconds(every: list[Case]) -> float:
    """To name every case once."""
    return seconds(lambda: [our_name(case.midi) for case in every])


def our_cold_seconds() -> float:
    """The same in a fresh process."""
    ran = subprocess.run([sys.executable, __file__, "--cold"], capture_output=True, text=True, check=True)
    return float(ran.stdout)


def pychord_seconds(every: list[Case]) -> float:
    """pychord.find_chords_from_notes on the same notes."""
    from pychord import find_chords_from_notes

    notes = [[NOTE_NAMES[note % 12] for note in case.midi] for case in every]
    return seconds(lambda: [find_chords_from_notes(each) for each in notes])


def music21_seconds(every: list[Case]) -> float:
    """music21.harmony.chordSymbolFigureFromChord on the same notes."""
    from music21.chord import Chord
    from music21.harmony import chordSymbolFigureFromChord

    chords = [Chord(list(case.midi)) for case in every]
    return seconds(lambda: [chordSymbolFigureFromChord(chord) for chord in chords])


def main() -> int:
    """Prints the ratios of one run, and whether they and the names hold."""
    every = list(cases())
    wrong = [(case, name) for case in every if not is_right(case, name := our_name(case.midi))]
    for case, name in wrong:
        print(f"WRONG: {case.midi} is {case.symbol}, not {name}")
    ours_s = min(our_cold_seconds() for _ in range(N_RUNS))
    warm_s = min(our_seconds(every) for _ in range(N_RUNS))
    theirs = (
        ("pychord", pychord_seconds(every), PYCHORD_BOUND),
        ("music21", music21_seconds(every), MUSIC21_BOUND),
    )
    count = len(every)
    print(f"{count - len(wrong)} of {count} voicings have the name written by hand")
    print(f"ours, cold: {1e6 * ours_s / count:.1f} µs a voicing; warm: {1e6 * warm_s / count:.1f} µs")
    for library, theirs_s, bound in theirs:
        holds = "holds" if theirs_s / ours_s >= bound else "MISSED"
        print(
            f"{library}: {1e6 * theirs_s / count:,.0f} µs a voicing; "
            f"ours, cold, names {theirs_s / ours_s:,.0f} times as many (bound {bound:g}) {holds}"
        )
    return int(bool(wrong) or any(theirs_s / ours_s < bound for _, theirs_s, bound in theirs))


if __name__ == "__main__":
    if sys.argv[1:] == ["--cold"]:
        print(our_seconds(list(cases())))
    else:
        sys.exit(main())
