"""Help: every command has a page, its examples run, and none of it loads what it does not need."""

from __future__ import annotations

import json
import shlex
import shutil
import subprocess
import sys
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import TypeAlias

import click
import pytest

from drills.cli.help import ExampledCommand
from drills.cli.main import COMMANDS, drills

Run: TypeAlias = Callable[..., tuple[int, str, str]]

HEAVY = {"PIL", "genanki", "matplotlib", "music21", "numpy", "rich", "segno"}


def command(name: str) -> ExampledCommand:
    """The command in the file of its name."""
    found = import_module(f"drills.cli.{name}").command
    assert isinstance(found, ExampledCommand)
    return found


def examples() -> list[str]:
    """Every example of every command."""
    return [example for name in COMMANDS for example in command(name).examples]


@pytest.mark.parametrize("flag", ["-h", "--help"])
@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_a_help_page(run: Run, name: str, flag: str) -> None:
    """It says what the command does, and ends with examples."""
    status, out, err = run(name, flag)
    assert (status, err) == (0, "")
    assert COMMANDS[name] in " ".join(out.split())
    *_, last = command(name).examples
    assert out.endswith(f"  {last}\n")
    assert "Examples:" in out
    assert max(len(line) for line in out.splitlines()) <= 80


@pytest.mark.parametrize("name", COMMANDS)
def test_the_list_of_commands_agrees_with_their_pages(name: str) -> None:
    """The line in the list is the first line of the page, and the name is that of the file."""
    assert (command(name).help or "").split("\n\n")[0] == COMMANDS[name]
    assert command(name).name == name


@pytest.mark.parametrize("name", COMMANDS)
def test_every_option_is_explained(name: str) -> None:
    """No option is without words."""
    options = [each for each in command(name).params if isinstance(each, click.Option)]
    assert options
    assert all(option.help for option in options)


@pytest.mark.parametrize("example", examples())
def test_every_example_runs(
    run: Run, checkout: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, example: str
) -> None:
    """What help shows can be typed."""
    monkeypatch.chdir(tmp_path)
    program, *arguments = shlex.split(example)
    assert program == "drills"
    if "seven-strings.toml" in arguments:
        shutil.copy(checkout / "decks" / "seven-strings.toml", tmp_path)
    if "chords.musicxml" in arguments:
        shutil.copy(checkout / "tests" / "pack" / "score" / "chords.musicxml", tmp_path)
    monkeypatch.setattr("drills.pack.serve.QuizServer.serve_forever", lambda _: None)  # or it would go on
    monkeypatch.setattr("drills.pack.serve.network_address", lambda: "127.0.0.1")  # there may be no network
    status, out, err = run(*arguments)
    assert (status, err) == (0, "")
    assert out


def test_the_first_page_lists_every_command(run: Run) -> None:
    """`drills --help` names them all."""
    out = run("--help")[1]
    for name, words in COMMANDS.items():
        assert f"  {name:<6} {words}\n" in out


def test_the_welcome_shows_a_voicing_and_what_to_type(run: Run) -> None:
    """`drills` alone ends well, fits a small terminal, and the lines it offers run."""
    status, out, err = run()
    assert (status, err) == (0, "")
    assert "E♭13♯11" in out
    assert "■♯11" in out
    assert len(out.splitlines()) <= 24
    offered = [line.split("   ")[0].strip() for line in out.splitlines() if line.startswith("  drills ")]
    assert len(offered) == 4
    for line in offered[:3]:
        assert run(*shlex.split(line)[1:])[0] == 0


def test_the_version_is_that_of_the_package(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """It is asked of the installation; a bare checkout says that it is one."""
    from importlib import metadata

    monkeypatch.setattr(metadata, "version", lambda _: "1.2.3")
    assert run("--version") == (0, "drills 1.2.3\n", "")

    def missing(name: str) -> str:
        raise metadata.PackageNotFoundError(name)

    monkeypatch.setattr(metadata, "version", missing)
    assert run("--version") == (0, "drills (a checkout that is not installed)\n", "")


def modules_after(*arguments: str) -> set[str]:
    """What a fresh interpreter has loaded once the program has run."""
    code = f"""
import json, sys
from drills.cli.main import main
status = main({list(arguments)!r})
print(json.dumps(sorted(sys.modules)), file=sys.stderr)
sys.exit(status)
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = json.loads(done.stderr)
    assert isinstance(loaded, list)
    return set(loaded)


def test_help_loads_no_theory_and_no_heavy_library() -> None:
    """The list of commands needs click and little more."""
    loaded = modules_after("--help")
    assert not HEAVY & loaded
    ours = {name for name in loaded if name.startswith("drills.")}
    assert ours <= {"drills.cli", "drills.errors"} | {
        f"drills.cli.{each}" for each in ("main", "fail", "output")
    }


@pytest.mark.parametrize(
    "arguments",
    [["grip", "--help"], ["name", "--json", "x32010"], ["spell", "--json", "C7"], ["shelf", "--json"]],
    ids=" ".join,
)
def test_answers_for_programs_load_no_heavy_library(arguments: list[str]) -> None:
    """Tables and pictures are for people."""
    assert not HEAVY & modules_after(*arguments)


@pytest.mark.parametrize(
    ("words", "offered"),
    [("drills gr", "plain,grip"), ("drills grip --roo", "plain,--root"), ("drills nowhere --ro", "")],
)
def test_a_shell_can_complete_what_is_typed(
    run: Run, monkeypatch: pytest.MonkeyPatch, words: str, offered: str
) -> None:
    """Commands and options are completed by click's own means."""
    monkeypatch.setenv("_DRILLS_COMPLETE", "bash_complete")
    monkeypatch.setenv("COMP_WORDS", words)
    monkeypatch.setenv("COMP_CWORD", str(len(words.split()) - 1))
    status, out, _ = run()
    assert (status, out.strip()) == (0, offered)


def test_the_program_is_the_group_of_its_commands() -> None:
    """Nothing is listed that is not there."""
    context = click.Context(drills)
    assert {
        name: drills.get_command(context, name) for name in drills.list_commands(context)
    }.keys() == COMMANDS.keys()
    assert drills.get_command(context, "nowhere") is None
