"""The rows under the theory."""

from __future__ import annotations

from itertools import pairwise

import pytest

from drills.theory.tables import (
    FOUR_NOTE_ROWS,
    GAP_ROWS,
    INVERSIONS,
    LOW_INTERVAL_LIMITS_MIDI,
    STRUCTURE_ROWS,
    StructureRow,
)

CONTRACT = set(
    (
        "major triad, minor triad, diminished triad, augmented triad, quartal stack, quintal stack, "
        "mixed quartal stack, mixed quintal stack, sus4, sus2, sus4 flat five, sus sharp four, "
        "major seventh shell, dominant seventh shell, minor seventh shell, minor-major seventh shell, "
        "major seventh without third, seventh without third, seventh flat five without third, split third, "
        "semitone cluster, semitone-tone cluster, tone-semitone cluster, whole-tone cluster"
    ).split(", ")
)
"""Every name that a layer of three notes may have."""


@pytest.mark.parametrize("row", [*STRUCTURE_ROWS, *FOUR_NOTE_ROWS], ids=lambda row: row.name)
def test_a_row_rises_from_its_root(row: StructureRow) -> None:
    """Root first, within an octave, one inversion for each note."""
    assert row.semitones[0] == 0
    assert all(low < high < 12 for low, high in pairwise(row.semitones))
    assert len(row.members) == len(row.semitones) == len(set(row.members))
    assert set(row.members) <= set(range(len(INVERSIONS)))


def test_no_row_is_there_twice() -> None:
    """Neither by its notes nor, among structures that can be turned, by its name."""
    turned = [*STRUCTURE_ROWS, *FOUR_NOTE_ROWS]
    assert len({row.semitones for row in turned}) == len(turned)
    assert len({row.name for row in turned}) == len(turned)
    assert len({row.gaps_semitones for row in GAP_ROWS}) == len(GAP_ROWS)


def test_three_notes_have_just_the_names_that_other_programs_rely_on() -> None:
    """The tables hold every such name and no other."""
    names = {row.name for row in STRUCTURE_ROWS}
    names |= {row.name for row in GAP_ROWS if len(row.gaps_semitones) == 2}
    assert names == CONTRACT


def test_low_interval_limits_are_for_rising_intervals() -> None:
    """Each interval has one limit, and an octave has none."""
    intervals = [semitones for semitones, _ in LOW_INTERVAL_LIMITS_MIDI]
    assert intervals == sorted(set(intervals))
    assert 12 not in intervals
