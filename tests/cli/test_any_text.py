"""Whatever is typed, the program answers or says what is wrong; it never breaks."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import TypeAlias

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

Run: TypeAlias = Callable[..., tuple[int, str, str]]

_WORDS = """
1 b9 9 #9 b3 3 4 11 #11 b5 5 #5 b13 13 6 b7 7 bb7 ♭3 ♯11 5' C Eb F# B♭ Cb2 G## A3 C4 E9 B-1 x 0 3 12 20 | / ,
x32010 133211 Cm7 G7alt -- --root --json --frob
"""
SOME_WORDS = st.lists(st.sampled_from(_WORDS.split()), max_size=10)
ANY_WORDS = st.lists(st.text(max_size=12), max_size=4)
A_ROOT = st.one_of(st.none(), st.sampled_from(("C", "Bb", "F#", "Cb", "B##", "Dbb", "E♭", "H", "", "C3")))
A_TUNING = st.sampled_from(
    ("standard", "drop D", "seven strings", "eight strings", "D A D G A D", "nonsense", "")
)
few = settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow])


def check(run: Run, *arguments: str) -> None:
    """Runs the program and holds it to the contract: an answer, or one message and no traceback."""
    status, out, err = run(*arguments)
    assert status in (0, 2), err
    assert "Traceback" not in err
    if status == 2:
        assert out == ""
        assert 1 <= err.count("\n") <= 2
    elif "--json" in arguments and not {"--help", "-h"} & set(arguments):
        json.loads(out)


@pytest.mark.parametrize("command", ["name", "grip"])
@given(words=st.one_of(SOME_WORDS, ANY_WORDS), root=A_ROOT, tuning=A_TUNING, as_json=st.booleans())
@few
def test_any_voicing_is_answered(
    run: Run, command: str, words: list[str], root: str | None, tuning: str, as_json: bool
) -> None:
    """Words of the trade in any order, and any text at all."""
    arguments = [] if root is None else ["--root", root]
    check(run, command, "--tuning", tuning, *arguments, *(["--json"] if as_json else []), *words)


@given(
    words=SOME_WORDS,
    how=st.lists(st.sampled_from(("--all-keys", "--arpeggio", "--crossing", "--left-handed"))),
)
@few
def test_any_search_is_answered(run: Run, words: list[str], how: list[str]) -> None:
    """Every way to search goes with every voicing."""
    check(run, "grip", "--root", "E", *how, *words)


@given(
    chord=st.one_of(
        st.text(max_size=12),
        st.lists(
            st.sampled_from("C F# Bb m maj 7 9 11 13 6/9 sus4 alt #11 b5 (no3) ø ° △ + / -".split())
        ).map("".join),
    ),
    as_json=st.booleans(),
)
@few
def test_any_chord_is_answered(run: Run, chord: str, as_json: bool) -> None:
    """Parts of symbols in any order, and any text at all."""
    check(run, "spell", *(["--json"] if as_json else []), "--", chord)


@given(words=ANY_WORDS)
@few
def test_any_words_are_answered(run: Run, words: list[str]) -> None:
    """Even where no command is named."""
    check(run, *words)
