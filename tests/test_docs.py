"""The README and DEVELOPERS tell the truth: what they show is run here."""

from __future__ import annotations

import doctest
import re
import shlex
from pathlib import Path

import pytest

from drills.cards.kinds import drill_names
from drills.cli.main import main
from drills.recipe.read import parse_recipe
from drills.recipe.shelf import shelf_names


def blocks(text: str, language: str) -> list[str]:
    """The fenced blocks of a language."""
    fenced = re.findall(r"^```(\w*)\n(.*?)^```$", text, re.DOTALL | re.MULTILINE)
    return [block for said, block in fenced if said == language]


@pytest.fixture(scope="module")
def readme(checkout: Path) -> str:
    """The README."""
    return (checkout / "README.md").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def developers(checkout: Path) -> str:
    """The guide for engineers."""
    return (checkout / "DEVELOPERS.md").read_text(encoding="utf-8")


def commands(text: str) -> list[list[str]]:
    """Every `drills …` line of the shell blocks, with or without the folder of its environment."""
    found = []
    for block in blocks(text, "sh"):
        for line in block.replace("&&", "\n").splitlines():
            words = shlex.split(line, comments=True)
            if words and Path(words[0]).name == "drills":
                found.append(words[1:])
    return found


def test_every_command_of_the_readme_runs(
    readme: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Each exits 0 and says something."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("drills.pack.serve.QuizServer.serve_forever", lambda _: None)  # or it would go on
    monkeypatch.setattr("drills.pack.serve.network_address", lambda: "127.0.0.1")  # there may be no network
    found = commands(readme)
    assert len(found) >= 7
    for arguments in found:
        assert main(arguments) == 0, arguments
        assert capsys.readouterr().out.strip(), arguments
    assert list(tmp_path.glob("build/*.apkg"))
    assert (tmp_path / "neck.png").exists()


def test_the_python_of_the_readme_runs(checkout: Path) -> None:
    """Its session answers what it shows."""
    failed, tried = doctest.testfile(str(checkout / "README.md"), module_relative=False)
    assert (failed, tried > 3) == (0, True)


def test_the_recipe_of_the_readme_can_be_built(readme: str) -> None:
    """The sample is a whole recipe."""
    (sample,) = blocks(readme, "toml")
    recipe = parse_recipe(sample, source="README.md", default_id="readme")
    assert [entry.nickname for entry in recipe.voicings] == ["Triad over two"]


def test_the_readme_lists_the_shelf_and_the_drills(readme: str) -> None:
    """No recipe and no drill is missing, and none is made up."""
    listed = re.findall(r"^\| `([a-z0-9-]+)` \|", readme, re.MULTILINE)
    assert sorted(listed) == sorted(shelf_names())
    table = readme.split("| drill | asks | answers |", maxsplit=1)[1].split("\n\n", maxsplit=1)[0]
    drills = re.findall(r"^\| ([a-z]+) \|", table, re.MULTILINE)
    assert sorted(drills) == sorted(drill_names())


def test_the_readme_opens_with_the_job_in_one_paragraph(readme: str) -> None:
    """A heading, then prose, before anything else."""
    first, second, *_ = readme.split("\n\n")
    assert first.startswith("# ")
    assert second.count("\n") < 12
    assert not second.startswith(("#", "|", "-", "<", "```"))


def test_set_up_is_the_same_in_both_documents(readme: str, developers: str) -> None:
    """The second of the two commands is the engineer's first."""
    (for_engineers, *_) = blocks(developers, "sh")
    assert for_engineers in blocks(readme, "sh")


def test_the_map_of_the_house_names_every_room(developers: str, checkout: Path) -> None:
    """Every folder and file at the top of the package stands on the map."""
    (house, *_) = blocks(developers, "")
    for room in sorted((checkout / "drills").iterdir()):
        if room.name.startswith("__") or room.name in ("LICENSE", "py.typed"):
            continue
        shown = f"{room.name}/" if room.is_dir() else room.name
        assert re.search(rf"^\s+{re.escape(shown)}\s", house, re.MULTILINE), shown


def test_pictures_of_the_readme_are_there(readme: str, checkout: Path) -> None:
    """Each picture exists, is small, and is described."""
    pictures = re.findall(r'<img src="([^"]+)" width="\d+" alt="([^"]+)">', readme)
    assert pictures
    for source, words in pictures:
        assert (checkout / source).stat().st_size < 120_000
        assert len(words) > 20


def test_benchmarks_are_listed(developers: str, checkout: Path) -> None:
    """Every benchmark has a row, every row a benchmark."""
    listed = re.findall(r"^\| `(bench_[a-z]+)` \|", developers, re.MULTILINE)
    assert sorted(listed) == sorted(path.stem for path in (checkout / "tests" / "bench").glob("bench_*.py"))
