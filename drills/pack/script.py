"""JavaScript cut into tokens: enough to find imports, and to drop comments without harm.

Conventions: a token is a slice of the text, and all tokens joined are the text. Blanks and comments between
two others are one gap. Of a template, the texts around `${…}` are tokens; what is inside is cut like any
code.

A slash divides after a value and starts a pattern elsewhere; `)`, `]` and `}` count as ends of values.
Source: ECMAScript Language Specification (Ecma-262), clause 12, from memory.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final, Literal, NamedTuple, TypeAlias

Kind: TypeAlias = Literal["gap", "word", "text", "pattern", "sign"]

_GAP: Final = re.compile(r"(?:\s|//[^\n]*|/\*.*?\*/)+", re.DOTALL)
_WORD: Final = re.compile(r"[\w$#.]*[\w$]")  # numbers too; a dot belongs to what follows it
_STRING: Final = re.compile(r""""(?:[^"\\\n]|\\.)*"|'(?:[^'\\\n]|\\.)*'""", re.DOTALL)
_TEMPLATE: Final = re.compile(r"[`}](?:[^`\\$]|\\.|\$(?!\{))*(?:`|\$\{)", re.DOTALL)
_PATTERN: Final = re.compile(r"/(?:[^/\\\[\n]|\\.|\[(?:[^\]\\\n]|\\.)*\])+/[a-z]*")
_SIGNS: Final = re.compile(r"[^\w$#.\s\"'`/()\[\]{}]+")
_OPENING: Final = {")": "(", "]": "[", "}": "{"}
_BEFORE_A_PATTERN: Final = frozenset(
    "await case delete do else in instanceof new of return throw typeof void yield".split()
)


class Token(NamedTuple):
    """A slice of a script.

    Attributes:
        kind: a gap, a word (name, keyword, number), a text in quotes, a pattern, one bracket, or other signs.
        text: the slice.
        start: where it begins in the script.
        depth: how many brackets stand open around it.
    """

    kind: Kind
    text: str
    start: int
    depth: int


class ScriptError(ValueError):
    """A script that cannot be read; `start` says where in the text."""

    def __init__(self, what: str, start: int) -> None:
        super().__init__(what)
        self.start = start


def tokens(script: str) -> Iterator[Token]:
    """Cuts a script into tokens.

    Raises:
        ScriptError: at a text, pattern or bracket without its end.
    """
    opened: list[tuple[str, int]] = []
    at, is_after_value = 0, False
    while at < len(script):
        is_in_template = bool(opened) and opened[-1][0] == "${"
        kind, text = _token(script, at, is_after_value, is_in_template)
        wanted = _closes(kind, text)
        if wanted and (not opened or opened.pop()[0] != wanted):
            raise ScriptError(f"a {text[0]!r} that closes nothing", at)
        yield Token(kind, text, at, len(opened))
        if opener := _opens(kind, text):
            opened.append((opener, at))
        if kind != "gap":
            is_after_value = _ends_value(kind, text)
        at += len(text)
    if opened:
        raise ScriptError(f"a {opened[-1][0]!r} that nothing closes", opened[-1][1])


def _token(script: str, at: int, is_after_value: bool, is_in_template: bool) -> tuple[Kind, str]:
    """The token at a place."""
    sign = script[at]
    if gap := _GAP.match(script, at):
        return "gap", gap[0]
    if sign in "\"'`" or (sign == "}" and is_in_template):
        rule = _STRING if sign in "\"'" else _TEMPLATE
        if not (text := rule.match(script, at)):
            raise ScriptError("a text without its end", at)
        return "text", text[0]
    if sign == "/" and not is_after_value:
        if not (pattern := _PATTERN.match(script, at)):
            raise ScriptError("a pattern or comment without its end", at)
        return "pattern", pattern[0]
    if word := _WORD.match(script, at):
        return "word", word[0]
    signs = _SIGNS.match(script, at)
    return "sign", signs[0] if signs else sign


def _opens(kind: Kind, text: str) -> str:
    """The bracket that a token opens, `${` in a template, or nothing."""
    if kind == "text":
        return "${" if text.endswith("${") else ""
    return text if text in _OPENING.values() else ""


def _closes(kind: Kind, text: str) -> str:
    """The bracket that a token closes, or nothing."""
    if kind == "text":
        return "${" if text.startswith("}") else ""
    return _OPENING.get(text, "")


def _ends_value(kind: Kind, text: str) -> bool:
    """Whether a slash after the token divides."""
    if kind == "word":
        return text not in _BEFORE_A_PATTERN
    return kind == "pattern" or text in _OPENING or (kind == "text" and not text.endswith("${"))


def plain(token: Token) -> str:
    """The token as a script without comments and indents has it: of a gap, its blank or line end stays.

    >>> "".join(map(plain, tokens('const a = "// b"; // c')))
    'const a = "// b"; '
    """
    if token.kind != "gap":
        return token.text
    return "\n" if "\n" in token.text else " "
