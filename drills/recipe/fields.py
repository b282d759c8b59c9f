"""Checked access to the tables of a TOML text: a fault names file, line, key, what was found, what is right.

Text out of a recipe is untrusted: its length is limited, and characters that nobody sees are refused.
"""

from __future__ import annotations

import re
import tomllib
import unicodedata
from collections.abc import Collection, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from drills.errors import DrillsError
from drills.recipe.lines import Path, line_of
from drills.theory.words import nearest

MOST_QUOTED = 60
"""Characters of a wrong value that a message repeats."""

_PLACE = re.compile(r" \(at (?:line (?P<line>\d+), column (?P<column>\d+)|end of document)\)")
_NAME = r"""(?:[\w-]++|"[^"\n]*"|'[^'\n]*')"""
_DEEP_KEY = re.compile(rf"(?<![\w-]){_NAME}(?:[ \t]*\.[ \t]*{_NAME}){{20}}")
"""So many tables in each other that the parser, whose need grows with their square, would fill the memory."""
_WORD = re.compile(r"[._-]*[A-Za-z0-9][A-Za-z0-9._-]*")
_DIRECTIONS = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
_NO_CHARACTERS = "\ufffe\uffff"

_KINDS: tuple[tuple[type, str], ...] = (
    (bool, "true or false"),
    (str, "text"),
    (int, "a whole number"),
    (float, "a number"),
    (list, "a list"),
    (dict, "a table"),
)


def read_toml(text: str, source: str) -> Table:
    """The top table of a TOML text."""
    deep = _DEEP_KEY.search(text)
    if deep:
        line = text.count("\n", 0, deep.start()) + 1
        mend = "a key in a recipe has at most three parts, such as drills.keys.spell"
        raise DrillsError("a key has too many parts", where=f"{source}, line {line}", mend=mend)
    try:
        values = tomllib.loads(text)
    except RecursionError:
        mend = "a recipe has no lists within lists"
        raise DrillsError("this is nested too deeply", where=source, mend=mend) from None
    except ValueError as fault:
        raise _not_toml(str(fault), text, source) from None
    return Table(values, (), "", text, source)


def _not_toml(fault: str, text: str, source: str) -> DrillsError:
    """The parser's own words, with the place in front; without a place it is about a number's length."""
    found = _PLACE.search(fault)
    if found is None:
        return DrillsError("a number in it is too long", where=source, mend="write a shorter one")
    line = found["line"] or text.count("\n") + 1
    column = f" at column {found['column']}" if found["column"] else ""
    words = _PLACE.sub("", fault).removesuffix(".")
    if "overwrite" in words:
        mend = "write each key and each [table] once; voicings have two brackets, [[voicing]]"
    else:
        mend = 'write one key = value a line, and text in "quotes"'
    return DrillsError(f"this is not TOML{column} ({words})", where=f"{source}, line {line}", mend=mend)


def quoted(value: object) -> str:
    r"""A value out of a recipe as a message repeats it: shortened, and with nothing unseen in it.

    >>> print(quoted("B♭\n"), quoted(True), quoted(["C"]), sep=", ")
    'B♭\n', true, a list
    """
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return repr(value if len(value) <= MOST_QUOTED else f"{value[:MOST_QUOTED]}…")
    is_short = isinstance(value, float) or (isinstance(value, int) and abs(value) < 10**12)
    return repr(value) if is_short else _kind_of(value)


def nearest_of(wrong: str, known: Collection[str]) -> str:
    """The mend for a wrong word: the nearest right one, else all of them."""
    close = nearest(wrong[:MOST_QUOTED], known)
    return f"write {close!r}" if close else f"write one of {_listed(known)}"


def _listed(words: Collection[str]) -> str:
    return ", ".join(map(repr, words))


def word_like(text: str) -> str:
    """A text as a word of letters, digits and . _ -, as near as can be; empty if no letter or digit is left.

    >>> word_like("Übung 3 (Riverside)")
    'Ubung-3-Riverside'
    """
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    word = re.sub(r"[^A-Za-z0-9._-]+", "-", plain).strip("-")
    return word if _WORD.fullmatch(word) else ""


def _kind_of(value: object) -> str:
    return next((word for kind, word in _KINDS if isinstance(value, kind)), "a date or time")


@dataclass(frozen=True, slots=True)
class Table:
    """One table of a recipe.

    Attributes:
        values: what it holds.
        path: the way to it from the top.
        label: how messages call it, such as "voicing 3 (Two hands)"; empty for the top.
        whole: the text of the file, for line numbers.
        source: the name of the file.
    """

    values: Mapping[str, Any]
    path: Path
    label: str
    whole: str
    source: str

    def where(self, key: str = "", *, is_named: bool = True) -> str:
        """The place of a key, or of the table itself, as errors name it; a key not known is not named."""
        line = line_of(self.whole, (*self.path, key) if key else self.path)
        place = self.source if line is None else f"{self.source}, line {line}"
        joint = ": " if " " in self.label else "."
        named = joint.join(name for name in (self.label, key if is_named else "") if name)
        return f"{place}: {named}" if named else place

    def error(self, key: str, what: str, mend: str) -> DrillsError:
        """A fault in the value of a key."""
        return DrillsError(what, where=self.where(key), mend=mend)

    @contextmanager
    def at(self, key: str) -> Iterator[None]:
        """Tells a fault found inside as one of this key."""
        try:
            yield
        except DrillsError as fault:
            raise fault.within(self.where(key)) from None

    def only(self, known: Collection[str], elsewhere: Mapping[str, str]) -> None:
        """Refuses keys that are not known here; `elsewhere` says where a key would be at home."""
        for key in self.values:
            if key in known:
                continue
            mend = elsewhere.get(key) or nearest_of(key, known)
            raise DrillsError(f"unknown key {quoted(key)}", where=self.where(key, is_named=False), mend=mend)

    def has(self, key: str) -> bool:
        """Whether the key is written."""
        return key in self.values

    def wrong_type(self, key: str, wanted: str, mend: str) -> DrillsError:
        """A value that is not of the kind it should be."""
        return self.error(key, f"{wanted} belongs here, not {quoted(self.values[key])}", mend)

    def text(self, key: str, most: int = 200, *, lines: bool = False) -> str:
        """Text without unseen characters, stripped; empty when the key is missing.

        Args:
            key: its name.
            most: characters allowed.
            lines: whether it may have several lines.
        """
        value = self.values.get(key, "")
        if not isinstance(value, str):
            raise self.wrong_type(key, "text", f'write {key} = "…"')
        return self._checked(key, value, most, lines=lines)

    def _checked(self, key: str, value: str, most: int, *, lines: bool = False) -> str:
        if len(value) > most:
            raise self.error(key, f"{len(value)} characters are too many", f"write at most {most}")
        unseen = next((each for each in value if _is_unseen(each) and not (lines and each == "\n")), None)
        if unseen is not None:
            what = f"it holds the unseen character U+{ord(unseen):04X}"
            raise self.error(key, what, "leave it out" if unseen != "\n" else "write it on one line")
        return value.strip()

    def texts(self, key: str, example: str) -> tuple[str, ...]:
        """A list of texts, at least one."""
        value = self.values[key]
        mend = f"write {key} = {example}"
        if not isinstance(value, list):
            raise self.wrong_type(key, "a list", mend)
        if not value:
            raise self.error(key, "the list is empty", f"{mend}, or leave the line out")
        odd = next((each for each in value if not isinstance(each, str)), "")
        if odd != "":
            raise self.error(key, f"text belongs in this list, not {quoted(odd)}", mend)
        return tuple(self._checked(key, each, 200) for each in value)

    def word(self, key: str) -> str:
        """A short word of letters, digits and . _ -, for identities; empty when the key is missing."""
        text = self.text(key, 60)
        if self.has(key) and not _WORD.fullmatch(text):
            close = word_like(text)
            mend = f"write {close!r}" if close else "use letters A to Z, digits and . _ -"
            raise self.error(key, f"{quoted(text)} cannot be an id", mend)
        return text

    def flag(self, key: str, *, default: bool) -> bool:
        """True or false."""
        value = self.values.get(key, default)
        if not isinstance(value, bool):
            raise self.wrong_type(
                key, "true or false", f"write {key} = true or {key} = false, without quotes"
            )
        return value

    def whole_number(self, key: str, low: int, high: int, default: int) -> int:
        """A whole number within limits."""
        value = self.values.get(key, default)
        if not isinstance(value, int) or isinstance(value, bool):
            raise self.wrong_type(
                key, "a whole number", f"write a number from {low} to {high}, without quotes"
            )
        return int(self._within(key, value, low, high)) if key in self.values else default

    def number(self, key: str, low: float, high: float, default: float) -> float:
        """A number within limits, whole or not."""
        value = self.values.get(key, default)
        if not isinstance(value, (int, float)) or isinstance(value, bool):
            raise self.wrong_type(key, "a number", f"write a number from {low:g} to {high:g}, without quotes")
        return float(self._within(key, value, low, high)) if key in self.values else default

    def _within(self, key: str, value: float, low: float, high: float) -> float:
        if not low <= value <= high:
            raise self.error(
                key, f"{quoted(value)} is out of range", f"write a number from {low:g} to {high:g}"
            )
        return value

    def one_of(self, key: str, known: Collection[str], default: str) -> str:
        """One of the known words."""
        if key not in self.values:
            return default
        value = self.values[key]
        if not isinstance(value, str):
            raise self.wrong_type(key, "text", f"write one of {_listed(known)}")
        if value not in known:
            raise self.error(key, f"{quoted(value)} is unknown here", nearest_of(value, known))
        return value

    def table(self, key: str, label: str) -> Table:
        """The table of a key, empty when it is missing."""
        value = self.values.get(key, {})
        if not isinstance(value, dict):
            raise self.wrong_type(key, "a table", f"write [{label}] on a line of its own")
        return Table(value, (*self.path, key), label, self.whole, self.source)

    def tables(self, key: str) -> tuple[Table, ...]:
        """The tables of a repeated [[key]]."""
        value = self.values.get(key, [])
        mend = f"write [[{key}]], with two brackets on each side, above each {key}"
        if not isinstance(value, list) or not all(isinstance(each, dict) for each in value):
            raise self.wrong_type(key, "a list of tables", mend)
        return tuple(
            Table(each, (*self.path, key, place), f"{key} {place + 1}", self.whole, self.source)
            for place, each in enumerate(value)
        )


def _is_unseen(character: str) -> bool:
    """Controls, stray halves of a pair, line separators, direction overrides, and what is no character."""
    is_control = unicodedata.category(character) in ("Cc", "Cs", "Zl", "Zp")
    return is_control or character in _DIRECTIONS or character in _NO_CHARACTERS
