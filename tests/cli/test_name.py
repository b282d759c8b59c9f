"""`drills name`: the contract's example, the three ways to write a voicing, and what people see."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeAlias

import pytest

Run: TypeAlias = Callable[..., tuple[int, str, str]]

B_FLAT_MINOR_ELEVEN = {
    "chord": "Bbm11",
    "root": "Bb",
    "bass": "Bb",
    "rootless": False,
    "notes": ["Bb2", "F3", "Db4", "Eb4", "Ab4", "C5"],
    "midi": [46, 53, 61, 63, 68, 72],
    "degrees": ["1", "5", "b3", "11", "b7", "9"],
    "layers": [
        {
            "role": "lower",
            "notes": ["Bb2", "F3", "Db4"],
            "degrees": ["1", "5", "b3"],
            "structure": "minor triad",
            "root": "Bb",
            "inversion": "root position",
            "spacing": "open",
            "gaps": [7, 8],
        },
        {
            "role": "upper",
            "notes": ["Eb4", "Ab4", "C5"],
            "degrees": ["11", "b7", "9"],
            "structure": "major triad",
            "root": "Ab",
            "inversion": "second inversion",
            "spacing": "close",
            "gaps": [5, 4],
        },
    ],
    "warnings": [],
}


def named(run: Run, *arguments: str) -> dict[str, Any]:
    """What `drills name --json` answers; stdout holds nothing else."""
    status, out, err = run("name", "--json", *arguments)
    assert (status, err) == (0, "")
    answer = json.loads(out)
    assert isinstance(answer, dict)
    return answer


@pytest.mark.parametrize(
    "arguments",
    [
        pytest.param(["Bb2 F3 Db4 | Eb4 Ab4 C5"], id="notes"),
        pytest.param("Bb2 F3 Db4 Eb4 Ab4 C5".split(), id="notes in many words"),
        pytest.param("B♭2 F3 D♭4 / E♭4 A♭4 C5".split(), id="notes with signs and a slash"),
        pytest.param(["--root", "Bb", "1 5 b3 | 11 b7 9"], id="degrees"),
        pytest.param("1 5 ♭3 11 ♭7 9 --root B♭".split(), id="degrees, the option behind"),
        pytest.param("6 8 11 8 9 8".split(), id="frets"),
        pytest.param(["--tuning", "E2 A2 D3 G3 B3 E4", "6 8 11 8 9 8"], id="frets, the tuning in notes"),
    ],
)
def test_every_way_of_writing_gives_the_contracts_example(run: Run, arguments: list[str]) -> None:
    """The same six notes have the same name, layers and degrees however they are written."""
    answer = named(run, *arguments)
    assert {"chord", "root"} == set(answer["also"][0])
    del answer["also"]
    assert answer == B_FLAT_MINOR_ELEVEN


def test_warnings_have_the_contracts_form(run: Run) -> None:
    """A natural 11 over a major third and a low third are warned about."""
    answer = named(run, "--root", "C", "C2 E2 | G3 Bb3 F4")
    assert answer["warnings"] == [
        {"kind": "avoid note", "degree": "11", "against": "3", "mend": "#11"},
        {"kind": "low interval", "notes": ["C2", "E2"]},
    ]


def test_an_interval_has_neither_root_nor_inversion(run: Run) -> None:
    """Two notes have null for both, and one note has no gaps."""
    lower = named(run, "--root", "Eb", "b7 3 | 13 9 #11")["layers"][0]
    assert (lower["root"], lower["inversion"], lower["gaps"]) == (None, None, [6])
    assert named(run, "C3")["layers"][0]["gaps"] == []


def test_a_rootless_voicing_says_so(run: Run) -> None:
    """The root that does not sound is named, in data and in words."""
    assert named(run, "--root", "Eb", "x 4 5 5 6 5")["rootless"]
    assert "E♭13♯11  no root" in run("name", "--root", "Eb", "x 4 5 5 6 5")[1]


def test_frets_are_read_in_the_tuning_given(run: Run) -> None:
    """In drop D the minor eleventh is one barre on the three low strings."""
    assert named(run, "--tuning", "drop D", "2 2 5 2 3 2")["chord"] == "Em11"


def test_people_see_layers_readings_neck_and_grip(run: Run) -> None:
    """The words hold all that the data holds, in shown form, within 80 columns."""
    status, out, _ = run("name", "--root", "E", "1 5 b3 | 11 b7 9")
    assert status == 0
    for words in ("Em11", "D major triad", "close, second inversion", "also read as", "F♯4", "● 1", "■♭7"):
        assert words in out
    assert "   ■  upper  D major triad" in out
    assert "   ●  lower  E minor triad" in out
    assert "frets 0 2 5 2 3 2   fingers 0 1 4 1 2 1   92 mm" in out
    assert max(len(line) for line in out.splitlines()) <= 80


def test_a_clash_is_told_with_its_mend(run: Run) -> None:
    """Warnings are words that a player knows."""
    out = run("name", "--root", "C", "C2 E2 | G3 Bb3 F4")[1]
    assert "! 11 rubs against 3: 11 → ♯11" in out
    assert "! C2 E2: a major third so low may sound muddy" in out


def test_frets_that_cannot_be_held_are_drawn_all_the_same(run: Run) -> None:
    """The neck shows the frets as typed, and the words say why no hand holds them."""
    out = run("name", "6 8 11 8 9 8")[1]
    assert "cannot be held: it stretches 115 mm, more than 101 mm" in out
    assert "●♭3" in out


def test_the_grip_of_another_octave_says_so(run: Run) -> None:
    """Degrees start at the lowest place; where their grip lies higher, it is told."""
    assert "an octave up" in run("name", "--root", "C", "5 5 5 b7")[1]


def test_a_long_reach_comes_with_a_caution(run: Run) -> None:
    """Whoever sees a wide grip is told to mind the hand."""
    assert "A long reach: warm up first" in run("name", "1 2 3 4 x x")[1]
    assert "A long reach" not in run("name", "0 2 5 2 3 2")[1]


def test_what_has_no_place_on_the_neck_is_still_named(run: Run) -> None:
    """Two notes on one string are named, without a neck, and with the reason."""
    status, out, _ = run("name", "C2 E2")
    assert status == 0
    assert "cannot be held: the neck has no place for it, one note on each string" in out
    assert "┼" not in out


def test_frets_far_apart_are_drawn_without_the_neck_between(run: Run) -> None:
    """A stretch of neck that is too long for 80 columns shows the frets in use."""
    out = run("name", "x 3 x x x 24")[1]
    assert "┬╌┬" in out
    assert max(len(line) for line in out.splitlines()) <= 80


@pytest.mark.parametrize("columns", [40, 60, 120, 300])
def test_the_neck_fits_the_terminal(run: Run, monkeypatch: pytest.MonkeyPatch, columns: int) -> None:
    """Narrow terminals get a narrow neck; wide ones no endless lines."""
    monkeypatch.setenv("COLUMNS", str(columns))
    out = run("name", "--root", "Eb", "x 4 5 5 6 5")[1]
    assert max(len(line) for line in out.splitlines()) <= min(columns, 100)
    assert all(note in out for note in ("●♭7", "● 3", "■13", "■ 9", "■♯11"))


def test_double_flats_are_written_with_two_signs(run: Run) -> None:
    """Few terminals have the sign, so none has to."""
    assert "D♭♭" in run("name", "--root", "Eb", "1 b3 b5 bb7")[1]


CHORDS = Path(__file__).parents[1] / "pack" / "score" / "chords.musicxml"


def test_the_chords_of_a_file_are_named(run: Run) -> None:
    """Each as `name` prints it, with where it stands; a root given stands for all of them."""
    first, second = json.loads(run("name", "--from", str(CHORDS), "--root", "Eb", "--json")[1])
    assert (first["where"], first["chord"], second["where"]) == ("measure 1", "Eb13#11", "measure 1, beat 3")
    alone = json.loads(run("name", "Db3 G3 C4 F4 A4", "--root", "Eb", "--json")[1])
    assert {name: first[name] for name in alone} == alone
    out = run("name", "--from", str(CHORDS), "--root", "Eb")[1]
    assert "E♭13♯11" in out
    assert "D♭ G | C F A" in out


def test_what_was_read_becomes_a_recipe(run: Run, tmp_path: Path) -> None:
    """It can be checked at once, and is never written over."""
    recipe = tmp_path / "chords.toml"
    status, out, err = run("name", "--from", str(CHORDS), "--root", "Eb", "--recipe", str(recipe))
    assert (status, err) == (0, "")
    assert "is yours to edit" in " ".join(out.split())
    assert 'lower = "b7 3"\nupper = "13 9 #11"' in recipe.read_text(encoding="utf-8")
    assert run("check", str(recipe))[0] == 0
    assert run("name", "--from", str(CHORDS), "--recipe", str(recipe))[0] == 2


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["C3", "E3", "G3", "--from", str(CHORDS)], "'C3 E3 G3' was typed as well"),
        (["C3", "E3", "G3", "--recipe", "out.toml"], "--recipe writes down what --from reads"),
        (["--from", "nowhere.musicxml"], "cannot read the file"),
        (["--from", str(Path(__file__))], "cannot tell what kind of file"),
    ],
)
def test_a_file_that_cannot_be_named_is_an_error(run: Run, arguments: list[str], words: str) -> None:
    """The message says why."""
    status, out, err = run("name", *arguments)
    assert (status, out) == (2, "")
    assert words in err
