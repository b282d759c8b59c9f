"""Which mark the page proposes."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from .scripted import Call, scripted

MISSED, SHAKY, CLEAN, INSTANT = 1, 2, 3, 4
KINDS = ("neck", "parts", "notes", "degrees", "choice")


@pytest.fixture(scope="module")
def call(checkout: Path) -> Call:
    """`propose`, and the thresholds."""
    return scripted(
        checkout / "drills/page",
        """
        import { MORE_PER_NOTE_MS, propose, THRESHOLDS_MS } from "./memory/proposal.js";
        const known = { propose, thresholds: () => THRESHOLDS_MS, more: () => MORE_PER_NOTE_MS };
        """,
    )


def proposed(call: Call, **answer: Any) -> Any:
    """The mark of a right answer on the neck, first tap after eight seconds, unless told otherwise."""
    return call("propose", {"kind": "neck", "isRight": True, "first_ms": 8000} | answer)


@pytest.mark.parametrize("kind", KINDS)
def test_the_time_to_the_first_tap_decides_between_right_answers(call: Call, kind: str) -> None:
    """Up to the first threshold instant, beyond the second shaky, clean in between."""
    limits = call("thresholds")[kind]
    by_time = [
        proposed(call, kind=kind, first_ms=limits["instant"] + 0),
        proposed(call, kind=kind, first_ms=limits["instant"] + 1),
        proposed(call, kind=kind, first_ms=limits["slow"]),
        proposed(call, kind=kind, first_ms=limits["slow"] + 1),
    ]
    assert by_time == [INSTANT, CLEAN, CLEAN, SHAKY]


def test_every_kind_leaves_time_to_read(call: Call) -> None:
    """Nobody reads and answers within two seconds; half a minute is slow everywhere."""
    limits = call("thresholds")
    assert set(limits) == set(KINDS)
    for limit in limits.values():
        assert 2000 < limit["instant"] < limit["slow"] / 2 < limit["slow"] < 30_000


@pytest.mark.parametrize("first_ms", [0, 8000, 60_000, None])
def test_a_wrong_answer_is_missed_however_quick(call: Call, first_ms: int | None) -> None:
    """An undo before it changes nothing."""
    assert proposed(call, isRight=False, first_ms=first_ms) == MISSED
    assert proposed(call, isRight=False, first_ms=first_ms, hasUndone=True) == MISSED


@pytest.mark.parametrize("is_right", [True, False])
def test_the_right_notes_elsewhere_are_shaky(call: Call, is_right: bool) -> None:
    """The sound is known, its place is not; whether the check calls that right or not."""
    assert proposed(call, isRight=is_right, isElsewhere=True, first_ms=100) == SHAKY


def test_right_after_an_undo_is_shaky(call: Call) -> None:
    """However quick."""
    assert proposed(call, hasUndone=True, first_ms=100) == SHAKY


def test_a_time_that_nobody_knows_makes_no_difference(call: Call) -> None:
    """Neither instant nor slow."""
    assert proposed(call, first_ms=None) == CLEAN


def test_more_notes_give_more_time(call: Call) -> None:
    """From the seventh on; fewer than six take none away."""
    limit, more = call("thresholds")["neck"]["instant"], call("more")
    assert proposed(call, first_ms=limit + 2 * more, notes=8) == INSTANT
    assert proposed(call, first_ms=limit + 2 * more + 1, notes=8) == CLEAN
    assert proposed(call, first_ms=limit, notes=3) == INSTANT
