"""What intervals are called."""

from __future__ import annotations

import pytest

from drills.theory.interval import interval_name


@pytest.mark.parametrize(
    ("semitones", "name"),
    [
        (0, "unison"),
        (6, "tritone"),
        (12, "octave"),
        (18, "tritone and an octave"),
        (23, "major fourteenth"),
        (24, "two octaves"),
        (31, "perfect fifth and two octaves"),
        (36, "three octaves"),
        (127, "perfect fifth and ten octaves"),
    ],
)
def test_an_interval_has_a_name_at_any_width(semitones: int, name: str) -> None:
    """Compound names to two octaves, then octaves are counted."""
    assert interval_name(semitones) == name


def test_no_two_intervals_share_a_name() -> None:
    """From unison to the widest that MIDI notes can have."""
    assert len({interval_name(semitones) for semitones in range(128)}) == 128
