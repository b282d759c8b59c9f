"""`drills path`: the contract's shape, what people see, and what is refused."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import TypeAlias

import pytest

Run: TypeAlias = Callable[..., tuple[int, str, str]]


def test_the_answer_has_the_contract_s_shape(run: Run) -> None:
    """Ways with their cost, a step for each chord with voicing and grip."""
    status, out, err = run("path", "Dm9 G7alt C6/9", "--notes", "5", "--limit", "2", "--json")
    assert (status, err) == (0, "")
    paths = json.loads(out)["paths"]
    assert len(paths) == 2
    assert paths[0]["cost"] <= paths[1]["cost"]
    for path in paths:
        assert [step["chord"] for step in path["steps"]] == ["Dm9", "G7alt", "C6/9"]
        for step in path["steps"]:
            assert len(step["voicing"]["notes"]) == 5
            assert step["voicing"]["notes"] == step["grip"]["notes"]
            assert step["grip"]["key"] == step["voicing"]["root"]


def test_a_progression_keeps_the_spelling_it_was_typed_in(run: Run) -> None:
    """ii–V–I in G♭ is A♭m7 D♭7 G♭△7, with C♭ in it."""
    out = run("path", "Abm7", "Db7", "Gbmaj7", "--notes", "4", "--limit", "1", "--json")[1]
    steps = json.loads(out)["paths"][0]["steps"]
    assert [step["grip"]["key"] for step in steps] == ["Ab", "Db", "Gb"]
    assert all("B" not in {note[:-1] for note in step["grip"]["notes"]} for step in steps[:2])


def test_people_see_a_line_for_each_chord(run: Run) -> None:
    """The chords, the cost, degrees beside frets; what the voicing adds to the symbol is named."""
    status, out, _ = run("path", "Dm7 | G7alt | CΔ7", "--limit", "1")
    assert status == 0
    lines = [line.strip() for line in out.splitlines() if line.strip()]
    assert lines[0] == "Dm7  G7alt  C△7"
    assert lines[1].startswith("way 1, cost ")
    assert [line.split()[0] for line in lines[2:5]] == ["Dm7", "G7alt", "C△7"]


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["Dm7 Gfoo"], "cannot read the chord 'Gfoo' from 'foo' on"),
        ([], "there is no chord here"),
        (["Dm7", "--notes", "9"], "notes"),
        (["F#maj9 " * 65], "65 chords are too many"),
        (["Dm9", "G7alt", "--notes", "7"], "no voicing of Dm9 with 7 notes can be held on this instrument"),
    ],
    ids=["unreadable", "empty", "too many notes", "too many chords", "no grip"],
)
def test_what_cannot_be_done_is_said(run: Run, arguments: list[str], told: str) -> None:
    """Exit 2, nothing on stdout, the fault and its mend."""
    status, out, err = run("path", *arguments)
    assert (status, out) == (2, "")
    assert told in err
    assert "Traceback" not in err
