"""What a grip knows about itself."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drills.neck.grip import Grip

M11_IN_E = Grip((0, 2, 5, 2, 3, 2), (0, 1, 4, 1, 2, 1), 91.9, 3, 1, is_long_reach=False)
SPREAD = Grip((None, 3, None, 5, None, None), (None, 1, None, 3, None, None), 60.0, 2, 0, is_long_reach=False)
OPEN = Grip((0, 0, None, None, None, None), (0, 0, None, None, None, None), 0.0, 0, 0, is_long_reach=False)


def test_a_grip_knows_its_strings_and_frets() -> None:
    """Open strings are played but not fretted."""
    assert (M11_IN_E.strings, M11_IN_E.lowest_fret, M11_IN_E.highest_fret) == ((0, 1, 2, 3, 4, 5), 2, 5)
    assert (SPREAD.strings, SPREAD.skipped_strings) == ((1, 3), 1)
    assert (OPEN.lowest_fret, OPEN.highest_fret, OPEN.skipped_strings) == (0, 0, 0)


@pytest.mark.parametrize(
    ("grip", "text"), [(M11_IN_E, "0 2 5 2 3 2"), (SPREAD, "x 3 x 5 x x")], ids=["six-strings", "skipping"]
)
def test_a_grip_is_written_as_guitarists_write_it(grip: Grip, text: str) -> None:
    """Low string first, x for a string not played."""
    assert grip.text == text


def test_grips_rank_by_one_thing_after_another() -> None:
    """No long reach; within 12 frets; no skipped strings; few barres; little stretch; low."""
    best = Grip((None, 5, 5, 5, None, None), (None, 1, 2, 3, None, None), 30.0, 0, 0, is_long_reach=False)
    lower = replace(best, frets=(None, 4, 5, 5, None, None))
    ordered = [
        lower,
        best,
        replace(best, frets=(None, 12, 12, 12, None, None)),
        replace(best, stretch_mm=31.0),
        replace(lower, fingers=(None, 1, 1, 1, None, None), stretch_mm=0.0),
        replace(lower, fingers=(None, 1, 2, 2, 2, None), stretch_mm=0.0),
        replace(lower, frets=(4, None, 5, 5, None, None)),
        replace(lower, frets=(None, 13, 12, 12, None, None)),
        replace(lower, is_long_reach=True),
    ]
    assert sorted(ordered, key=lambda grip: grip.rank) == ordered
    assert len({grip.rank for grip in ordered}) == len(ordered)
