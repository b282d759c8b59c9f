"""Output: UTF-8 in any locale, plain where nobody sees colour, nothing read as markup."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from typing import TypeAlias

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.cli.output import visible

Run: TypeAlias = Callable[..., tuple[int, str, str]]

PROGRAM = [sys.executable, "-c", "import sys; from drills.cli.main import main; sys.exit(main())"]


def environment(**changes: str) -> dict[str, str]:
    """This process's environment without what steers colour, and with changes."""
    steering = ("NO_COLOR", "FORCE_COLOR", "COLORTERM", "PYTHONIOENCODING", "PYTHONUTF8", "TERM")
    return {name: value for name, value in os.environ.items() if name not in steering} | changes


@pytest.mark.parametrize(
    "changes",
    [{"LC_ALL": "C", "PYTHONUTF8": "0"}, {"PYTHONIOENCODING": "ascii"}],
    ids=["C locale", "another encoding asked for"],
)
def test_output_is_utf8_whatever_the_locale(changes: dict[str, str]) -> None:
    """♭ and ♯ come out as they are, in words and in errors."""
    arguments = [*PROGRAM, "name", "--root", "Eb", "x 4 5 5 6 5"]
    done = subprocess.run(arguments, capture_output=True, env=environment(**changes), check=True)
    assert "E♭13♯11" in done.stdout.decode()
    wrong = subprocess.run(
        [*PROGRAM, "name", "♭♭"], capture_output=True, env=environment(**changes), check=False
    )
    assert wrong.returncode == 2


def test_text_that_is_no_unicode_is_escaped(run: Run) -> None:
    """A byte that no encoding explains is shown, and does no harm."""
    status, _, err = run("name", "\udcff")
    assert status == 2
    assert "\\udcff" in err


def on_a_terminal(**changes: str) -> str:
    """What the program writes to a terminal."""
    pty = pytest.importorskip("pty")
    parent, child = pty.openpty()
    process = subprocess.Popen(
        [*PROGRAM, "name", "x32010"], stdout=child, stderr=child, env=environment(**changes)
    )
    os.close(child)
    chunks = []
    try:
        while chunk := os.read(parent, 65536):
            chunks.append(chunk)
    except OSError:  # Linux: the other end is closed
        pass
    os.close(parent)
    assert process.wait(timeout=30) == 0
    return b"".join(chunks).decode()


def test_a_terminal_gets_colour_unless_it_is_not_wanted() -> None:
    """NO_COLOR and a terminal that can do nothing get plain text, and the same text."""
    coloured = on_a_terminal(TERM="xterm-256color")
    plain = on_a_terminal(TERM="xterm-256color", NO_COLOR="1")
    assert "\x1b[" in coloured
    assert "\x1b" not in plain
    assert "\x1b" not in on_a_terminal(TERM="dumb")
    assert "● 3" in plain


def test_a_pipe_gets_plain_text(run: Run) -> None:
    """Words for people are readable without colour."""
    assert "\x1b" not in run("name", "x32010")[1]


@given(st.text())
def test_visible_text_holds_no_control_characters(text: str) -> None:
    """What is left can be printed, and printable text is left alone."""
    assert visible(text).isprintable()
    assert visible(visible(text)) == visible(text)
    assert visible(text, keep="\n").replace("\n", "").isprintable()
