"""`drills spell`: the chord, its scales and their avoid notes."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import TypeAlias

import pytest

Run: TypeAlias = Callable[..., tuple[int, str, str]]


def test_the_answer_has_the_contracts_form(run: Run) -> None:
    """Notes without octaves, degrees, and the usual scales with their bare avoid notes."""
    status, out, err = run("spell", "Bbm11", "--json")
    assert (status, err) == (0, "")
    answer = json.loads(out)
    dorian = next(scale for scale in answer.pop("scales") if scale["name"] == "dorian")
    assert answer == {
        "chord": "Bbm11",
        "root": "Bb",
        "notes": ["Bb", "Db", "F", "Ab", "C", "Eb"],
        "degrees": ["1", "b3", "5", "b7", "9", "11"],
    }
    # Avoid notes by the rule of the design: no step of dorian lies a half step over 1, 3 or 5; 13 lies
    # a whole step over 5.
    assert dorian == {"name": "dorian", "notes": ["Bb", "C", "Db", "Eb", "F", "G", "Ab"], "avoid": []}


@pytest.mark.parametrize(
    ("chord", "scale", "avoid"),
    [
        ("Cmaj7", "ionian", ["11"]),
        ("Cm7", "phrygian", ["b9", "b13"]),
        ("Cm7", "aeolian", ["b13"]),
        ("C7", "mixolydian", ["11"]),
    ],
)
def test_avoid_notes_lie_a_half_step_above_a_chord_tone(
    run: Run, chord: str, scale: str, avoid: list[str]
) -> None:
    """Source: Nettles and Graf, The Chord Scale Theory and Jazz Harmony (1997), from memory."""
    scales = json.loads(run("spell", chord, "--json")[1])["scales"]
    assert {each["name"]: each["avoid"] for each in scales}[scale] == avoid


@pytest.mark.parametrize("words", [["C-7"], ["Cmin7"], ["C", "m7"], ["C−7"]], ids=" ".join)
def test_a_chord_may_be_written_in_any_usual_way(run: Run, words: list[str]) -> None:
    """Several words count as one text."""
    assert json.loads(run("spell", "--json", *words)[1])["chord"] == "Cm7"


def test_people_see_degrees_over_notes_and_the_scales(run: Run) -> None:
    """The chord is spelled in shown form."""
    out = run("spell", "C13#11")[1]
    assert "1  3  5  ♭7  9  ♯11  13\n  C  E  G  B♭  D  F♯   A\n" in out
    assert "lydian dominant   C   D   E   F♯  G   A   B♭   –" in out
