"""What commands print: one JSON value for programs, or words and tables for people.

Text that somebody else wrote (a recipe's title, a file's name) goes through `visible` or into a rich
`Text`; none of it is read as markup, and none of it can steer the terminal.
"""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Literal, TextIO

import click

if TYPE_CHECKING:
    from rich.console import Console, RenderableType

WIDEST = 100
"""Columns; longer lines are hard to read even where the terminal is wider."""

INDENT = 2
"""Columns left free before every line for people."""


def use_utf8() -> None:
    """Lets stdout and stderr speak UTF-8 whatever the locale; what UTF-8 cannot say is escaped."""
    sys.stdout, sys.stderr = _open(sys.stdout), _open(sys.stderr)
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure:
            reconfigure(encoding="utf-8", errors="backslashreplace")


def _open(stream: TextIO | None) -> TextIO:
    """The stream; one that was closed before we started, as in `drills shelf >&-`, leads nowhere."""
    return stream or Path(os.devnull).open("w")


def visible(text: str, *, keep: str = "") -> str:
    r"""The text with control characters written out, so that a terminal shows and does not obey them.

    >>> visible("Week\x1b[2J 3")
    'Week\\x1b[2J 3'
    """
    return "".join(each if each.isprintable() or each in keep else repr(each)[1:-1] for each in text)


def columns() -> int:
    """How wide a line may be: as wide as the terminal, within reason; 80 where there is none."""
    return min(shutil.get_terminal_size().columns, WIDEST)


def print_json(value: object) -> None:
    """Prints one JSON value and a line end."""
    import json

    click.echo(json.dumps(value, ensure_ascii=False, allow_nan=False), color=True)


def show(*blocks: RenderableType | None) -> None:
    """Prints blocks for people, a line between two of them; nothing stands for no block.

    There is colour where the terminal has it; elsewhere the text is plain.
    """
    from rich.padding import Padding

    console = _console(to_stderr=False)
    console.width = columns()
    with console.capture() as captured:
        for block in blocks:
            if block is None:
                continue
            console.print()
            console.print(Padding(block, (0, 0, 0, INDENT), expand=False))
        console.print()
    click.echo("\n".join(line.rstrip() for line in captured.get().splitlines()), color=True)


def _console(*, to_stderr: bool) -> Console:
    """A console that reads nothing as markup, and is plain where the user wants no colour."""
    from rich.console import Console

    colours: Literal["auto"] | None = None if os.environ.get("NO_COLOR") else "auto"
    return Console(stderr=to_stderr, color_system=colours, highlight=False, markup=False, emoji=False)


@contextmanager
def progress(words: str, *, is_wanted: bool) -> Iterator[Callable[[int, int], None] | None]:
    """A bar on stderr while something long goes on; none where nobody would see it."""
    if not (is_wanted and sys.stderr.isatty()):
        yield None
        return
    from rich.progress import Progress

    with Progress(console=_console(to_stderr=True), transient=True) as bar:
        task = bar.add_task(words, total=None)
        yield lambda done, total: bar.update(task, completed=done, total=total)
