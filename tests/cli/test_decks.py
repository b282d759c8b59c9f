"""`drills shelf`, `check` and `build`: the thin skin over recipes and decks."""

from __future__ import annotations

import errno
import json
import os
import re
import sys
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import TypeAlias

import pytest

from drills.pack.files import whole_file

Run: TypeAlias = Callable[..., tuple[int, str, str]]

RECIPE = """
title = "Riverside [red]evening[/red] group :guitar:"
keys = ["C", "E"]
[[voicing]]
chord = "m11"
lower = "1 5 b3"
upper = "11 b7 9"
nickname = "Two [b]hands[/b]"
[drills]
ask = ["place", "name"]
"""
UNREACHED = {
    "voicing": "m11 1 5 b3 | 11 b7 9 (Two [b]hands[/b])",
    "key": "C",
    "why": "it stretches 102 mm, more than 101 mm, at 8 10 13 10 11 10",
    "instead": None,
}


@pytest.fixture
def recipe(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A recipe in an otherwise empty folder, where the test then stands."""
    monkeypatch.chdir(tmp_path)
    path = Path("week-03.toml")
    path.write_text(RECIPE, encoding="utf-8")
    return path


def test_check_says_what_would_be_built(run: Run, recipe: Path) -> None:
    """The answer counts cards and voicings, says what is out of reach, and nothing is written."""
    status, out, err = run("check", str(recipe), "--json")
    assert (status, err) == (0, "")
    assert json.loads(out) == {
        "title": "Riverside [red]evening[/red] group :guitar:",
        "cards": 2,
        "voicings": 1,
        "unreached": [UNREACHED],
    }
    assert list(Path().iterdir()) == [recipe]


def test_build_writes_what_check_promised(run: Run, recipe: Path) -> None:
    """The answer is that of check and the files, which lie in `build` unless told otherwise."""
    promised = json.loads(run("check", str(recipe), "--json")[1])
    status, out, err = run("build", str(recipe), "--json")
    assert (status, err) == (0, "")
    names = [f"week-03{ending}" for ending in (".apkg", ".html", "", ".pdf", ".musicxml", ".mid")]
    assert json.loads(out) == promised | {"files": [str(Path("build", name)) for name in names]}
    assert zipfile.is_zipfile("build/week-03.apkg")
    assert sorted(path.name for path in Path("build").iterdir()) == sorted(names)


def test_a_rebuild_writes_the_same_bytes(run: Run, recipe: Path) -> None:
    """An unchanged recipe gives identical files, in any folder."""

    def built(folder: str) -> dict[Path, bytes]:
        assert run("build", str(recipe), "-o", folder)[0] == 0
        files = (path for path in Path(folder).rglob("*") if path.is_file())
        return {path.relative_to(folder): path.read_bytes() for path in files}

    first = built("one")
    assert len(first) > 10
    assert built("one") == built("two") == first


def test_people_read_the_same(run: Run, recipe: Path) -> None:
    """Cards, keys, pace, what is out of reach, files; the recipe's words are shown as they are written."""
    status, out, err = run("build", str(recipe))
    assert (status, err) == (0, "")
    assert "Riverside [red]evening[/red] group :guitar:" in out
    assert "cards      2   place 1  name 1" in out
    assert "pace       5   new a day: all seen after 1 week\n" in out
    assert "m11 1 5 ♭3 | 11 ♭7 9 (Two [b]hands[/b])\n    C: it stretches 102 mm, more than 101 mm" in out
    endings = (".apkg", ".html", "/", ".pdf", ".musicxml", ".mid")
    wrote = "wrote   " + "\n          ".join(f"build/week-03{ending}" for ending in endings)
    assert wrote in out.replace("\\", "/")


def test_a_drill_and_its_count_stay_on_one_line(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """However narrow the terminal, and however many drills a recipe asks."""
    for columns in ("80", "50"):
        monkeypatch.setenv("COLUMNS", columns)
        out = run("check", "template")[1]
        for drill in ("layer", "place", "name", "spell", "spot", "split", "join", "connect"):
            assert re.search(rf"\b{drill} \d+\b", out)


def test_a_smaller_voicing_in_its_place_is_told(run: Run, recipe: Path) -> None:
    """With a small hand the deck offers less of the voicing, and says so."""
    recipe.write_text(f"{RECIPE}\n[hand]\nprofile = 'small'\n", encoding="utf-8")
    told = " ".join(run("check", str(recipe))[1].split())
    assert "the deck holds it without its lowest note" in told
    unreached = json.loads(run("check", str(recipe), "--json")[1])["unreached"]
    assert {each["instead"] for each in unreached} == {"without its lowest note"}


@pytest.mark.parametrize("name", ["week-03.apkg", "week-03.html", "week-03/index.html"])
def test_a_file_of_somebody_else_stays(run: Run, recipe: Path, name: str) -> None:
    """What this program did not write is never overwritten, and nothing is written beside it."""
    path = Path("build", name)
    path.parent.mkdir(parents=True)
    path.write_text("mine", encoding="utf-8")
    status, out, err = run("build", str(recipe), "--json")
    assert (status, out) == (2, "")
    assert "was not written by this program" in err
    assert path.read_text(encoding="utf-8") == "mine"
    assert [each for each in Path("build").rglob("*") if each.is_file()] == [path]


def contents(folder: str) -> dict[Path, bytes | None]:
    """All that is in a folder: files by content, folders by nothing."""
    return {path: path.read_bytes() if path.is_file() else None for path in Path(folder).rglob("*")}


def test_a_build_that_fails_at_its_last_file_leaves_all_as_it_was(
    run: Run, recipe: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By Ctrl-C, on a full disk, by a fault of ours: the older build stands to the byte, a first is away."""
    assert run("build", str(recipe))[0] == 0
    before = contents("build")
    recipe.write_text(RECIPE.replace('"E"]', '"E", "F"]'), encoding="utf-8")
    faults = {
        KeyboardInterrupt(): (130, "stopped"),
        OSError(errno.ENOSPC, os.strerror(errno.ENOSPC)): (2, "week-03.mid: cannot write the file"),
        RuntimeError("no ink"): (1, "no ink"),
    }
    for fault, (status, words) in faults.items():

        def fail(_: object, path: Path, fault: BaseException = fault) -> None:
            with whole_file(path) as file:
                file.write(b"half")
                raise fault

        monkeypatch.setattr("drills.pack.score.write_midi", fail)
        for folder in ("build", "new"):
            told = run("build", str(recipe), "-o", folder)
            assert told[:2] == (status, "")
            assert words in told[2]
            assert ("free some space there" in told[2]) == (status == 2)
        assert contents("build") == before
        assert not Path("new").exists()


@pytest.mark.parametrize("command", ["check", "build"])
@pytest.mark.parametrize(
    ("name", "words"),
    [
        pytest.param("no-such.toml", "no-such.toml: there is no such file", id="no file"),
        pytest.param("sevenstrings", "no recipe named 'sevenstrings' on the shelf", id="no name"),
        pytest.param("week-03.toml", "week-03.toml, line 5: voicing 1", id="a fault in it"),
    ],
)
def test_a_recipe_that_is_wrong_builds_nothing(
    run: Run, recipe: Path, command: str, name: str, words: str
) -> None:
    """The message names the place; there is no folder afterwards."""
    recipe.write_text(RECIPE.replace("m11", "maj7"), encoding="utf-8")
    status, out, err = run(command, name)
    assert (status, out) == (2, "")
    assert words in err
    assert not Path("build").exists()


def test_the_shelf_is_listed(run: Run) -> None:
    """Every recipe that ships comes with its title."""
    recipes = json.loads(run("shelf", "--json")[1])
    assert all(set(each) == {"name", "title", "about"} for each in recipes)
    out = run("shelf")[1]
    for each in recipes:
        assert f"  {each['name']}\n  {each['title'][:40]}" in out
    assert "drills build NAME builds one; drills shelf NAME copies it here" in out


def test_a_shelf_recipe_is_copied_out_once(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The copy builds; a second copy would overwrite it, so there is none."""
    monkeypatch.chdir(tmp_path)
    status, out, _ = run("shelf", "seven-strings")
    assert (status, out.split()[0]) == (0, "seven-strings.toml")
    assert run("check", "seven-strings.toml")[0] == 0
    status, out, err = run("shelf", "seven-strings", "--json")
    assert (status, out) == (2, "")
    assert "there is a file of that name" in err


def test_a_shelf_recipe_is_copied_where_it_is_wanted(run: Run, tmp_path: Path) -> None:
    """JSON names recipe and file."""
    answer = json.loads(run("shelf", "seven-strings", "-o", str(tmp_path), "--json")[1])
    assert answer == {"name": "seven-strings", "file": str(tmp_path / "seven-strings.toml")}
    assert (tmp_path / "seven-strings.toml").is_file()


class Terminal:
    """A stderr that says it is a terminal, and keeps what is written."""

    encoding = "utf-8"

    def __init__(self) -> None:
        self.text = ""

    def write(self, text: str) -> int:
        """Keeps it."""
        self.text += text
        return len(text)

    def flush(self) -> None:
        """Has nothing to do."""

    def isatty(self) -> bool:
        """Says so."""
        return True


@pytest.mark.parametrize(("is_wanted", "is_seen"), [(True, True), (False, False)], ids=["words", "json"])
def test_progress_is_shown_on_a_terminal(
    monkeypatch: pytest.MonkeyPatch, is_wanted: bool, is_seen: bool
) -> None:
    """A bar moves on stderr for people, never for programs."""
    from drills.cli.output import progress

    terminal = Terminal()
    monkeypatch.setattr(sys, "stderr", terminal)
    with progress("building", is_wanted=is_wanted) as report:
        if report is not None:
            report(1, 2)
            report(2, 2)
    assert ("building" in terminal.text) == is_seen
