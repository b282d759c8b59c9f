"""Faults: exit statuses, words, and what happens when a terminal or a disk goes away."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TypeAlias

import click
import pytest

from drills.cli.fail import exit_status
from drills.errors import DrillsError

Run: TypeAlias = Callable[..., tuple[int, str, str]]

PROGRAM = [sys.executable, "-c", "import sys; from drills.cli.main import main; sys.exit(main())"]
UNIX = pytest.mark.skipif(os.name == "nt", reason="pipes, signals and terminals of Unix")

WRONG = [
    pytest.param(["nme"], "no command 'nme'\n  did you mean name?\n", id="command"),
    pytest.param(
        ["zzz"],
        "no command 'zzz'\n  commands are name, spell, grip, find, move, path, draw, shelf, check, build, "
        "serve\n",
        id="command like none",
    ),
    pytest.param(["--frob"], "no option '--frob'\n  see `drills --help`\n", id="option before the command"),
    pytest.param(["name", "--rot", "C"], "no option '--rot'\n  did you mean --root?\n", id="option"),
    pytest.param(["grip", "--zzz"], "no option '--zzz'\n  see `drills grip --help`\n", id="option like none"),
    pytest.param(
        ["name", "x32010", "--root"],
        "option '--root' requires an argument\n  see `drills name --help`\n",
        id="option without its value",
    ),
    pytest.param(["build"], "RECIPE is missing\n  see `drills build --help`\n", id="no recipe"),
    pytest.param(
        ["shelf", "a", "b"],
        "got unexpected extra argument (b)\n  see `drills shelf --help`\n",
        id="too many words",
    ),
    pytest.param(
        ["grip", "x32010", "--capo", "two"],
        "--capo: 'two' is no whole number\n  write it in digits, such as 4\n",
        id="no whole number",
    ),
    pytest.param(
        ["grip", "x32010", "--max-stretch-mm", "wide"],
        "--max-stretch-mm: 'wide' is no number\n  write it in digits, such as 4\n",
        id="no number",
    ),
    pytest.param(
        ["path", "C", "--limit", "many"],
        "--limit: 'many' is no whole number\n  write 1 to 50\n",
        id="no number within limits",
    ),
    pytest.param(["path", "C", "--notes", "3"], "--notes: 3 is out of range\n  write 4 to 7\n", id="too few"),
    pytest.param(
        ["find", "--min-keys", "13"], "--min-keys: 13 is out of range\n  write 0 to 12\n", id="many"
    ),
    pytest.param(
        ["move", "x32010", "--mend", "--limit", "0"],
        "--limit: 0 is out of range\n  write 1 or more\n",
        id="no upper limit",
    ),
    pytest.param(
        ["grip", "x32010", "--capo", "20"],
        "--capo: a capo at fret 20\n  ",
        id="capo",
    ),
    pytest.param(["grip", "x32010", "--frets", "40"], "--frets: 40 frets\n  ", id="frets"),
    pytest.param(
        ["grip", "x32010", "--scale-length-mm", "nan"],
        "--scale-length-mm: a scale length of nan mm\n  ",
        id="scale length",
    ),
    pytest.param(
        ["grip", "x32010", "--max-stretch-mm", "nan"],
        "--max-stretch-mm: nan is out of range\n  write 40 to 200\n",
        id="stretch",
    ),
    pytest.param(
        ["grip", "x32010", "--max-frets-apart", "0"],
        "--max-frets-apart: 0 is out of range\n  write 1 to 12\n",
        id="frets apart",
    ),
    pytest.param(
        ["grip", "x32010", "--hand", "smal"], "--hand: no hand named 'smal'\n  write 'small'", id="hand"
    ),
    pytest.param(
        ["name", "x32010", "--root", "H"],
        "--root: no note named 'H'\n  ",
        id="root",
    ),
    pytest.param(
        ["name", "x32010", "--tuning", "dropd"],
        "--tuning: no tuning named 'dropd'\n  write 'drop D'",
        id="tuning",
    ),
    pytest.param(
        ["name", "Bbm11"],
        "'Bbm11' is a chord symbol\n  ",
        id="chord for voicing",
    ),
    pytest.param(
        ["grip"],
        "there is no voicing here\n  ",
        id="no voicing",
    ),
]


@pytest.mark.parametrize(("arguments", "words"), WRONG)
def test_wrong_input_is_told_once_and_ends_with_2(run: Run, arguments: list[str], words: str) -> None:
    """What is wrong and where on one line, how to mend it below; nothing on stdout."""
    status, out, err = run(*arguments)
    assert (status, out) == (2, "")
    assert err.startswith(words)
    assert err.count("\n") == 2


def test_control_characters_cannot_steer_the_terminal(run: Run) -> None:
    """What was typed is shown with its control characters written out."""
    for arguments in (["name", "\x1b[2J"], ["check", "\x1b[2J.toml"], ["\x1b[2J"], ["name", "--\x1b[2J"]):
        status, _, err = run(*arguments)
        assert status == 2
        assert "\x1b" not in err
        assert "x1b[2J" in err


def test_a_fault_of_the_program_ends_with_1(capsys: pytest.CaptureFixture[str]) -> None:
    """The traceback is there for whoever mends it, and a short word for whoever met it."""

    def work() -> None:
        raise RuntimeError("out of \x1btune")

    assert exit_status(work) == 1
    err = capsys.readouterr().err
    assert "Traceback" in err
    assert "RuntimeError: out of \\x1btune" in err
    assert "Sorry: this is a fault of the program" in err


@pytest.mark.parametrize("stop", [KeyboardInterrupt(), click.Abort()], ids=["Ctrl-C", "abort"])
def test_stopping_ends_with_130(capsys: pytest.CaptureFixture[str], stop: BaseException) -> None:
    """One word, no traceback."""

    def work() -> None:
        raise stop

    assert exit_status(work) == 130
    assert capsys.readouterr().err == "\nstopped\n"


def test_a_fault_of_the_system_is_told_with_its_file(capsys: pytest.CaptureFixture[str]) -> None:
    """A file that cannot be read is no fault of the program."""
    missing = Path("nowhere", "at all")
    assert exit_status(missing.read_bytes) == 2
    told = capsys.readouterr().err
    assert told.startswith(f"{missing}: No such file or directory\n  see that it is there")


def test_an_error_without_a_mend_is_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing is said where nothing better can be."""

    def work() -> None:
        raise DrillsError("it is late")

    assert exit_status(work) == 2
    assert capsys.readouterr().err == "it is late\n"


@UNIX
def test_ctrl_c_in_the_middle_of_work_ends_with_130() -> None:
    """A search that takes long stops at once, without a traceback."""
    code = """
import signal, sys, time
import drills.neck.search as search
signal.signal(signal.SIGINT, signal.default_int_handler)  # whoever runs the tests may ignore it
def slow(*arguments, **options):
    print("searching", flush=True)
    time.sleep(60)
search.find_in_key = slow
from drills.cli.main import main
sys.exit(main(["grip", "--root", "C", "1 3 5"]))
"""
    with subprocess.Popen(
        [sys.executable, "-c", code], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == "searching\n"
        process.send_signal(signal.SIGINT)
        _, err = process.communicate(timeout=30)
    assert (process.returncode, err) == (130, "\nstopped\n")


@UNIX
@pytest.mark.parametrize("arguments", [["--help"], ["shelf"], ["name", "--json", "x32010"]], ids=" ".join)
def test_a_reader_that_has_seen_enough_is_no_error(arguments: list[str]) -> None:
    """A closed pipe ends the program quietly."""
    read_end, write_end = os.pipe()
    os.close(read_end)
    done = subprocess.run([*PROGRAM, *arguments], stdout=write_end, stderr=subprocess.PIPE, check=False)
    os.close(write_end)
    assert (done.returncode, done.stderr) == (0, b"")


@UNIX
@pytest.mark.parametrize(("arguments", "status"), [(["shelf", "--json"], 0), (["shelf", "nowhere"], 2)])
def test_a_stream_that_was_closed_before_we_started_is_no_fault(arguments: list[str], status: int) -> None:
    """With nowhere to speak the status alone tells, as after `drills shelf >&-`."""
    for closed in (">&-", "2>&-", ">&- 2>&-"):
        done = subprocess.run(["/bin/sh", "-c", f'"$@" {closed}', "sh", *PROGRAM, *arguments], check=False)
        assert done.returncode == status


@UNIX
def test_words_that_nobody_reads_change_no_status() -> None:
    """A pipe that is closed on stderr hides why, not that something was wrong."""
    read_end, write_end = os.pipe()
    os.close(read_end)
    done = subprocess.run([*PROGRAM, "name", "xyz"], stderr=write_end, check=False)
    os.close(write_end)
    assert done.returncode == 2


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
@pytest.mark.parametrize("arguments", [["--help"], ["name", "--json", "x32010"]], ids=" ".join)
def test_a_full_disk_is_told(arguments: list[str]) -> None:
    """Output that cannot be written is an error with a reason, told once."""
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            [*PROGRAM, *arguments], stdout=full, stderr=subprocess.PIPE, text=True, check=False
        )
    what, mend = done.stderr.splitlines()
    assert (done.returncode, what) == (2, "output: No space left on device")
    assert mend.endswith("that it has room")
