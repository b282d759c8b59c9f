"""The page's modules put together into one script, which runs from a file as well as from a host.

Each module becomes a function that takes what it imports and returns what it exports, so that names of two
modules never meet; a module stands after those it imports. Comments and indents stay behind.

Conventions: a module is named by its path under the page's folder, such as `answers/neck.js`. It imports by
`import { a, b as c } from "./x.js";` and exports by `export function|const|class|async function NAME`. Other
forms are refused, so that there is nothing else to get wrong.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, NoReturn, TypeAlias

from drills.pack.script import ScriptError, Token, plain, tokens

Read: TypeAlias = Callable[[str], str]
"""Gives a module's text by its name, or raises FileNotFoundError."""

_NAME = r"[A-Za-z_$][\w$]*"
_TAKEN = rf"{_NAME}(?: as {_NAME})?"
_IMPORT: Final = re.compile(
    rf'import \{{\s*({_TAKEN}(?:\s*,\s*{_TAKEN})*),?\s*\}} from "(\.\.?/[\w./-]+\.js)";'
)
_CALL: Final = re.compile(r"\s*\(")
_EXPORT: Final = re.compile(rf"export (?=(?:function|const|class|async function) ({_NAME})\b)")


@dataclass(frozen=True, slots=True)
class _Import:
    """One import.

    Attributes:
        module: the name of the other module.
        names: each name there, and what it is called here.
        line: where it stands, from 1.
    """

    module: str
    names: tuple[tuple[str, str], ...]
    line: int


@dataclass(frozen=True, slots=True)
class _Module:
    """A module taken apart.

    Attributes:
        name: its path under the page's folder.
        imports: in order of writing.
        exports: names.
        body: the rest of its text.
    """

    name: str
    imports: tuple[_Import, ...]
    exports: tuple[str, ...]
    body: str


def bundle(entry: str, read: Read) -> str:
    """Puts a module and all that it imports into one script.

    Args:
        entry: the module that starts the page.
        read: gives the texts.

    Raises:
        ValueError: a module is missing or imports itself by way of others, or a line is written in a way that
            is not read here; names the file and the line.
    """
    modules = _in_order(entry, read)
    wrapped = "\n".join(map(_wrapped, modules))
    return f'(function () {{\n"use strict";\n{wrapped}\n}})();\n'


def _in_order(entry: str, read: Read) -> list[_Module]:
    """All modules, each after those it imports."""
    done: dict[str, _Module] = {}

    def visit(name: str, importers: tuple[str, ...]) -> None:
        module = _taken_apart(name, read(name))
        for wanted in module.imports:
            if wanted.module in (*importers, name):
                circle = " → ".join((*importers, name, wanted.module))
                _refuse(name, wanted.line, f"modules lean on each other: {circle}")
            if wanted.module not in done:
                try:
                    visit(wanted.module, (*importers, name))
                except FileNotFoundError:
                    _refuse(name, wanted.line, f"there is no {wanted.module}")
            for there, _ in wanted.names:
                if there not in done[wanted.module].exports:
                    _refuse(name, wanted.line, f"{wanted.module} exports no {there}")
        done[name] = module

    visit(entry, ())
    return list(done.values())


def _taken_apart(name: str, script: str) -> _Module:
    """Reads imports and exports and cuts both out of the text."""
    imports: list[_Import] = []
    exports: list[str] = []
    body: list[str] = []
    cut_to = 0
    try:
        for token in tokens(script):
            if token.start < cut_to:
                continue
            if not _is_of_modules(token, script):
                body.append(plain(token))
                continue
            line = script.count("\n", 0, token.start) + 1
            if found := _IMPORT.match(script, token.start):
                imports.append(_import(name, line, found[1], found[2]))
            elif found := _EXPORT.match(script, token.start):
                exports.append(found[1])
            else:
                _refuse(name, line, f"not a form of {token.text} that is read here")
            cut_to = found.end()
    except ScriptError as fault:
        _refuse(name, script.count("\n", 0, fault.start) + 1, str(fault))
    return _Module(name, tuple(imports), tuple(exports), "".join(body).strip())


def _is_of_modules(token: Token, script: str) -> bool:
    """Whether an import or an export begins here, or something that only a module may say."""
    if token.kind != "word":
        return False
    if token.depth == 0 and token.text in ("import", "export", "await"):
        return True
    is_call = token.text == "import" and _CALL.match(script, token.start + len("import"))
    return token.text.startswith("import.") or bool(is_call)


def _import(name: str, line: int, names: str, path: str) -> _Import:
    module = posixpath.normpath(posixpath.join(posixpath.dirname(name), path))
    if module.startswith("../"):
        _refuse(name, line, f"{path} is outside the page's folder")
    pairs = [each.split(" as ") for each in re.split(r"\s*,\s*", names)]
    return _Import(module, tuple((pair[0], pair[-1]) for pair in pairs), line)


def _refuse(name: str, line: int, what: str) -> NoReturn:
    raise ValueError(f"{name}:{line}: {what}")


def _wrapped(module: _Module) -> str:
    """The module as a constant: what its function returns. Imports are arguments, so nothing hides them."""
    taken = ", ".join(f"{{ {', '.join(map(_taken, each.names))} }}" for each in module.imports)
    given = ", ".join(_constant(each.module) for each in module.imports)
    returned = f"return {{ {', '.join(module.exports)} }};"
    return f"const {_constant(module.name)} = (({taken}) => {{\n{module.body}\n{returned}\n}})({given});"


def _taken(names: tuple[str, str]) -> str:
    there, here = names
    return there if there == here else f"{there}: {here}"


def _constant(module: str) -> str:
    """A name for the module in the script, which is no name of the browser's and no other module's."""
    return "$" + module.removesuffix(".js").replace("-", "_").replace("/", "$")
