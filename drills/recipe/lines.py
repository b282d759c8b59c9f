"""On which line of a TOML text a key stands, which the standard parser does not tell.

Conventions: lines count from 1. A path names tables and keys from the top, with places from 0 in
arrays of tables: ("voicing", 2, "lower"). The text has been parsed before, so it is known to be TOML.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from typing import Any, TypeAlias

Path: TypeAlias = tuple[str | int, ...]

_PIECE = re.compile(
    r'"""(?:\\.|[^\\])*?"{3,5}'
    r"|'''.*?'{3,5}"
    r'|"(?:\\.|[^"\\])*"'
    r"|'[^']*'"
    r"|#[^\n]*"
    r"|[\[\]{}\n]"
    r"|[^\"'#\[\]{}\n]+",
    re.DOTALL,
)


def line_of(text: str, path: Path) -> int | None:
    r"""The line of a key or table, else of the nearest table around it; None for the file as a whole.

    >>> line_of('title = "a"\n[[voicing]]\nlower = "1"\n', ("voicing", 0, "lower"))
    3
    """
    lines: dict[Path, int] = {}
    for each, line in _key_lines(text):
        lines.setdefault(each, line)
    while path and path not in lines:
        path = path[:-1]
    return lines.get(path)


def _key_lines(text: str) -> Iterator[tuple[Path, int]]:
    table: Path = ()
    counts: dict[Path, int] = {}
    for line, statement in _statements(text):
        names, is_array = _names(tomllib.loads(statement))
        if not statement.startswith("["):
            for length in range(1, len(names) + 1):
                yield table + names[:length], line
            continue
        table = ()
        for depth, name in enumerate(names, start=1):
            table += (name,)
            if is_array and depth == len(names):
                counts[table] = counts.get(table, -1) + 1
            yield table, line
            if table in counts:
                table += (counts[table],)
                yield table, line


def _statements(text: str) -> Iterator[tuple[int, str]]:
    """Headers and assignments, each with the line it starts on."""
    line, depth, begun = 1, 0, ""
    for piece in _PIECE.findall(text.replace("\r\n", "\n") + "\n"):
        depth += (piece in "[{") - (piece in "]}")
        begun += piece
        line += piece.count("\n")
        if piece == "\n" and not depth:
            statement = begun.strip()
            if statement and not statement.startswith("#"):
                yield line - begun.count("\n"), statement
            begun = ""


def _names(parsed: dict[str, Any]) -> tuple[tuple[str, ...], bool]:
    """The names that lead to the one thing in a parsed statement, and whether that is an array of tables."""
    names: tuple[str, ...] = ()
    inner: Any = parsed
    while isinstance(inner, dict) and len(inner) == 1:
        ((name, inner),) = inner.items()
        names += (name,)
    return names, inner == [{}]
