"""Chords: a root, the degrees over it, and perhaps another bass; read generously, written in one form.

Source: Brandt and Roemer, Standardized Chord Symbol Notation (1976), from memory; the further
spellings that are read are common practice, no source. A natural 11 is left out of a 13 chord
over a major third, and a dominant 11 chord is read as sus, as players do.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from drills.errors import DrillsError
from drills.theory.degree import Degree, degree, is_degree, read_degree
from drills.theory.pitch import NoteName, plain_signs, read_note_name
from drills.theory.symbol import Quality, Symbol, symbol

FOURTHS = (0, 5, 10, 3, 8, 1, 6, 11, 4, 9, 2, 7)
"""The twelve pitch classes by rising fourths from C."""

_FLAT_ROOTS = {1: "Db", 3: "Eb", 6: "Gb", 8: "Ab", 10: "Bb"}
_HABITS: dict[Quality, dict[int, str]] = {
    "major": _FLAT_ROOTS,
    "dominant": _FLAT_ROOTS | {6: "F#"},
    "sus": _FLAT_ROOTS | {6: "F#"},
    "augmented": _FLAT_ROOTS | {6: "F#"},
    "minor": {1: "C#", 3: "Eb", 6: "F#", 8: "G#", 10: "Bb"},
    "half-diminished": {1: "C#", 3: "Eb", 6: "F#", 8: "G#", 10: "Bb"},
    "diminished": {1: "C#", 3: "Eb", 6: "F#", 8: "G#", 10: "Bb"},
}
_NATURAL_ROOTS = {0: "C", 2: "D", 4: "E", 5: "F", 7: "G", 9: "A", 11: "B"}


@lru_cache(maxsize=256)
def habit_root(pitch_class: int, quality: Quality) -> NoteName:
    """How charts spell a root, by the chord's quality (common practice, no source).

    >>> habit_root(6, "major").plain, habit_root(6, "minor").plain
    ('Gb', 'F#')
    """
    return read_note_name((_NATURAL_ROOTS | _HABITS[quality])[pitch_class % 12])


_SELDOM_WRITTEN = frozenset({"E#", "B#", "Fb"})


def chart_name(note: NoteName, quality: Quality = "major") -> NoteName:
    """A chord tone as a chart would write it when it stands alone: a slash bass, a layer's root.

    Degree-true, such as the D♯ of B/D♯; but E♯, B♯, F♭ and double signs give way to plainer names.

    >>> [chart_name(read_note_name(text)).plain for text in ("D#", "Cb", "Fb", "Bbb")]
    ['D#', 'Cb', 'E', 'A']
    """
    if note.plain in _SELDOM_WRITTEN or abs(note.alter_semitones) > 1:
        return habit_root(note.pitch_class, quality)
    return note


@dataclass(frozen=True, slots=True)
class Chord:
    """A chord, free of octaves.

    Attributes:
        root: spelled.
        degrees: the full chord, lowest number first; a voicing may leave some out.
        bass: the lowest note where it is not the root.
    """

    root: NoteName
    degrees: tuple[Degree, ...]
    bass: NoteName | None = None

    @property
    def symbol(self) -> Symbol:
        """The symbol without its root."""
        return symbol(self.degrees)

    @property
    def plain(self) -> str:
        """Plain form, such as F#m7b5 or Cmaj7/G."""
        return self.root.plain + self.symbol.plain + (f"/{self.bass.plain}" if self.bass else "")

    @property
    def shown(self) -> str:
        """Shown form, such as F♯ø7 or C△7/G."""
        return self.root.shown + self.symbol.shown + (f"/{self.bass.shown}" if self.bass else "")

    @property
    def notes(self) -> tuple[NoteName, ...]:
        """The full chord's notes, spelled degree-true."""
        return tuple(each.over(self.root) for each in self.degrees)


_ROOT = re.compile(r"([A-G](?:bb|b|##|#)?)(.*)", re.DOTALL)
_BASS = re.compile(r"(.*)/\s*([A-G](?:bb|b|##|#)?)\s*", re.DOTALL)
_LISTED = re.compile(r"\((1(?:,[b#0-9]+)*)\)")
_WORD = re.compile(r"(?i:major|minor|maj|min|dim|aug|sus|add|alt|omit|no)")
_SIGNS = str.maketrans(
    {"Δ": "△", "∆": "△", "^": "△", "ø": "half", "Ø": "half", "°": "dim", "º": "dim"}
    | dict.fromkeys("\N{MINUS SIGN}\N{EN DASH}", "-")
)
_QUALITY = re.compile(
    r"(?P<minmaj>(?:min|mi|m|-)\(?(?:maj|ma|M|△)(?P<minmaj_number>7|9|11|13)?\)?)"
    r"|(?P<half>half-?dim(?:inished)?|half|h)"
    r"|(?P<minor>minor|min|mi|m(?!a(?!dd))|-)"
    r"|(?P<triangle>△)"
    r"|(?P<major>major|maj|ma|M|j(?=\d))"
    r"|(?P<dim>dim(?:inished)?|o(?=\d|$|\())"
    r"|(?P<aug>aug(?:mented)?|\+)"
    r"|(?P<dom>dom(?:inant)?)"
)
_NUMBER = re.compile(r"\s*(?:6\s?[/\\]\s?9|6add9|69|13|11|9|7|6|5|4|2)")
_PART = re.compile(
    r"(?P<sus>sus(?:pended)?\s?(?P<sus_number>2|4)?)"
    r"|(?P<add>add\s?(?P<added>(?:bb|b|##|#)?[0-9]+))"
    r"|(?P<no>(?:no|omit)\s?(?P<left_out>[135]))"
    r"|(?P<maj7>(?:maj|ma|M|△)(?P<maj7_number>7|9|11|13)?)"
    r"|(?P<alt>alt(?:ered)?)"
    r"|(?P<altered>(?P<sign>bb|b|##|#|flat\s?|sharp\s?|\+|-)(?P<number>[0-9]+))"
    r"|(?P<aug>\+|aug)"
    r"|(?P<plain>13|11|9|6|4|2)"
    r"|(?P<gap>[\s,()/.]+)"
)

_MAJOR_TRIAD = frozenset({"1", "3", "5"})
_TRIADS = {
    "minor": frozenset({"1", "b3", "5"}),
    "minmaj": frozenset({"1", "b3", "5"}),
    "half": frozenset({"1", "b3", "b5", "b7"}),
    "dim": frozenset({"1", "b3", "b5"}),
    "aug": frozenset({"1", "3", "#5"}),
}
_SEVENTHS = {"minmaj": "7", "major": "7", "triangle": "7", "dim": "bb7"}
_WITHOUT_SEVENTH = {
    # number: (what goes, what comes)
    "6": (frozenset[str](), frozenset({"6"})),
    "69": (frozenset[str](), frozenset({"6", "9"})),
    "5": (frozenset({"3"}), frozenset[str]()),
    "4": (frozenset({"3"}), frozenset({"4"})),
    "2": (frozenset({"3"}), frozenset({"9"})),
}
_REPLACED = {
    "b5": {"5"},
    "#5": {"5"},
    "b9": {"9"},
    "#9": {"9"},
    "#11": {"11"},
    "b13": {"13"},
}
"""An altered tone takes the place of its natural one; ♯11 and ♭13 leave the fifth alone."""

_LEFT_OUT = {"1": {"1"}, "3": {"3", "b3"}, "5": {"5", "b5", "#5"}}
_SIGN_WORDS = {"flat": "b", "sharp": "#", "+": "#", "-": "b"}


def _unreadable(text: str, rest: str, where: str) -> DrillsError:
    what = f"cannot read the chord {text!r}" + (f" from {rest!r} on" if rest and rest != text else "")
    mend = "write a root and a symbol such as Cmaj7, F#m7b5, Bb13#11, G7alt, C9sus4 or C6/9"
    return DrillsError(what, where=where, mend=mend)


def read_chord(text: str, *, where: str = "") -> Chord:
    """A chord symbol with its root, in any of the usual writings.

    >>> read_chord("B♭-7").plain, read_chord("CΔ9(#11)").plain, read_chord("Gø/D♭").shown
    ('Bbm7', 'Cmaj9#11', 'Gø7/D♭')
    """
    plain = plain_signs(text.strip())
    found = _ROOT.fullmatch(plain)
    if not found:
        raise _unreadable(text, "", where)
    root_text, rest = found.groups()
    bass = None
    with_bass = _BASS.fullmatch(rest)
    if with_bass:
        rest, bass_text = with_bass.groups()
        bass = read_note_name(bass_text)
    root = read_note_name(root_text)
    if bass is not None and bass.pitch_class == root.pitch_class:
        bass = None
    return Chord(root, _read_suffix(rest.strip(), text, where), bass)


def read_suffix(text: str, *, where: str = "") -> tuple[Degree, ...]:
    """The full degrees of a chord symbol without a root, such as "m11" or "13#11"; "" is a major triad.

    >>> [each.plain for each in read_suffix("7b9b13")]
    ['1', '3', '5', 'b7', 'b9', 'b13']
    """
    return _read_suffix(plain_signs(text.strip()), text, where)


def _read_suffix(suffix: str, text: str, where: str) -> tuple[Degree, ...]:
    listed = _LISTED.fullmatch(suffix)
    if listed:
        return _ordered(read_degree(each, where=where).plain for each in listed[1].split(","))
    rest = _WORD.sub(lambda word: word[0].lower(), suffix.translate(_SIGNS))
    quality = _QUALITY.match(rest)
    kind, number = "", ""
    if quality:
        kind = next(name for name in quality.groupdict() if quality[name])
        number = quality["minmaj_number"] or ""
        rest = rest[quality.end() :]
    numbered = _NUMBER.match(rest)
    if numbered:
        number = number or re.sub(r"[\s/\\]|add", "", numbered[0])
        rest = rest[numbered.end() :]
    if kind in ("minmaj", "triangle"):
        number = number or "7"
    has = _with_number(_TRIADS.get(kind, _MAJOR_TRIAD), kind, number)
    while rest:
        part = _PART.match(rest)
        if not part:
            raise _unreadable(text, rest, where)
        rest = rest[part.end() :]
        has = _with_part(has, part, text, where)
    if "11" in has and not has & {"3", "b3"}:
        has = has - {"11"} | {"4"}
    return _ordered(has)


def _with_number(triad: frozenset[str], kind: str, number: str) -> frozenset[str]:
    """The chord with what its number brings: a sixth, a seventh, the extensions below it."""
    if number in _WITHOUT_SEVENTH:
        goes, comes = _WITHOUT_SEVENTH[number]
        return triad - goes | comes
    if not number:
        return triad
    has = triad | {_SEVENTHS.get(kind, "b7")}
    if number != "7":
        has |= {"9"}
    if number == "13":
        has |= {"13", "11"} if "b3" in has else {"13"}
    if number == "11":
        is_sus = "3" in has and "7" not in has
        has = has - {"3"} | {"4"} if is_sus else has | {"11"}
    return has


def _with_part(has: frozenset[str], part: re.Match[str], text: str, where: str) -> frozenset[str]:
    """The chord with one further part of its symbol read in."""
    if part["sus"]:
        has = has - {"3", "b3", "11"} | {"9" if part["sus_number"] == "2" else "4"}
    elif part["no"]:
        has -= _LEFT_OUT[part["left_out"]]
    elif part["alt"]:
        has = has - {"5", "9"} | {"b7", "b9", "#9", "#11", "b13"}
    elif part["aug"]:
        has = has - {"5"} | {"#5"}
    elif part["maj7"]:
        has = has - {"b7"} | ({"7"} if part["maj7_number"] in (None, "7") else {"7", "9"})
    elif part["add"] or part["plain"]:
        has |= {_tone(part["added"] or part["plain"], text, where)}
    elif part["altered"]:
        sign = part["sign"].strip()
        tone = _tone(_SIGN_WORDS.get(sign, sign) + part["number"], text, where)
        has = has - _REPLACED.get(tone, set()) | {tone}
    return has


def _tone(written: str, text: str, where: str) -> str:
    """One degree out of a symbol, in our word for it."""
    if not is_degree(written):
        raise _unreadable(text, written, where)
    tone = read_degree(written).plain
    return "11" if tone == "4" else tone


def _ordered(has: Iterable[str]) -> tuple[Degree, ...]:
    degrees = {degree(text) for text in has}
    return tuple(sorted(degrees, key=lambda each: (each.number, each.alter_semitones)))
