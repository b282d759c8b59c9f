"""Chord symbols as we read them, against five libraries that are not ours.

Source: chord_symbols.json beside this file, with the script that made it (tonal, chord-symbol, pychord,
mir_eval, music21; versions inside). No library is the judge alone: where at least two agree, ours must be the
reading that most of them share.
"""

from __future__ import annotations

import json
from collections import Counter
from pathlib import Path

import pytest

from drills.theory.chord import read_chord

READINGS: dict[str, dict[str, list[int] | None]] = {
    row["symbol"]: row["readings"]
    for row in json.loads(Path(__file__).with_name("chord_symbols.json").read_text(encoding="utf-8"))["rows"]
}

DIFFERENCES = {
    # symbol: (our pitch classes, why)
    "B11": ({11, 4, 6, 9, 1}, "a dominant 11 has no major third: players read it as 9sus4"),
    "E13": ({4, 8, 11, 2, 6, 1}, "a natural 11 clashes with the major third and is left out of a 13 chord"),
}


def shared(symbol: str) -> list[set[int]]:
    """The readings that most libraries share, and at least two; several on a tie."""
    votes = Counter(tuple(reading) for reading in READINGS[symbol].values() if reading)
    most = max(votes.values(), default=0)
    return [set(reading) for reading, count in votes.items() if count == most >= 2]


def ours(symbol: str) -> set[int]:
    """The pitch classes we read."""
    chord = read_chord(symbol)
    return {(chord.root.pitch_class + degree.semitones) % 12 for degree in chord.degrees}


AGREED = [symbol for symbol in READINGS if shared(symbol)]


@pytest.mark.parametrize("symbol", [symbol for symbol in AGREED if symbol not in DIFFERENCES])
def test_a_symbol_reads_as_the_libraries_agree(symbol: str) -> None:
    """Our pitch classes are the ones that most libraries share."""
    assert ours(symbol) in shared(symbol)


@pytest.mark.parametrize("symbol", DIFFERENCES)
def test_a_difference_is_what_we_say_it_is(symbol: str) -> None:
    """Where we differ we do so on purpose, and one library at least is with us."""
    expected, _ = DIFFERENCES[symbol]
    assert ours(symbol) == expected
    assert expected not in shared(symbol)
    assert sorted(expected) in READINGS[symbol].values()


def test_the_libraries_agree_often_enough_to_judge() -> None:
    """More than a hundred symbols have a shared reading, so the check cannot run dry."""
    assert len(AGREED) >= 110
