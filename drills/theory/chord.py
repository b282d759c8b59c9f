"""Chords: a root, the degrees over it, and perhaps another bass; read generously, written in one form.

Source: Brandt and Roemer, Standardized Chord Symbol Notation (1976), from memory; the further
spellings that are read are common practice, no source. A natural 11 is left out of a 13 chord
over a major third, and a dominant 11 chord is read as sus, as players do.
"""

from __future__ import annotations

import re
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


_SELDOM_WRITTEN = frozenset({"D#", "A#", "E#", "B#", "Cb", "Fb"})


def chart_name(note: NoteName, quality: Quality | None = None) -> NoteName:
    """A note as a chart would write it when it stands alone, as a slash bass or as a layer's root.

    The spelling given is kept where charts know it; D♯, F♭ and double signs are not.

    >>> chart_name(read_note_name("D#")).plain, chart_name(read_note_name("G#"), "major").plain
    ('Eb', 'Ab')
    """
    is_seldom = note.plain in _SELDOM_WRITTEN or abs(note.alter_semitones) > 1
    if is_seldom or (quality == "major" and note.plain in ("C#", "G#")):
        return habit_root(note.pitch_class, quality or "major")
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
_LISTED = re.compile(r"\((1(?:,[b#\d]+)*)\)")
_WORDS = str.maketrans({"△": "maj", "Δ": "maj", "∆": "maj", "^": "maj", "ø": "hdim", "Ø": "hdim", "°": "dim", "º": "dim",
                        "−": "-", "–": "-", "＋": "+"})
_QUALITY = re.compile(
    r"(?P<minmaj>(?:min|mi|m|-)\(?(?:maj|Maj|ma|M)(?P<minmaj_no>7|9|11|13)?\)?)"
    r"|(?P<half>hdim|half-?dim(?:inished)?|h)"
    r"|(?P<minor>minor|min|mi|m(?!a)|-)"
    r"|(?P<major>major|maj|Maj|MAJ|ma(?!j)|M|j(?=\d))"
    r"|(?P<dim>dim(?:inished)?|o(?=\d|$|\())"
    r"|(?P<aug>aug(?:mented)?|\+)"
    r"|(?P<dom>dom)"
)
_NUMBER = re.compile(r"6\s?[/\\]\s?9|6add9|69|13|11|9|7|6|5|4|2")
_PART = re.compile(
    r"(?P<sus>sus(?:pended)?(?P<sus_no>2|4)?)"
    r"|(?P<add>add\s?(?P<add_no>bb|b|##|#)?(?P<add_deg>\d+))"
    r"|(?P<no>(?:no|omit)\s?(?P<no_no>\d))"
    r"|(?P<maj7>(?:maj|Maj|ma|M)(?P<maj7_no>7|9|11|13)?)"
    r"|(?P<alt>alt(?:ered)?)"
    r"|(?P<altered>(?P<sign>bb|b|##|#|flat\s?|sharp\s?|\+|-)(?P<deg>\d+))"
    r"|(?P<plain>\d+)"
    r"|(?P<gap>[\s,()/.]+)"
)


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
        return _ordered({read_degree(each, where=where).plain for each in listed[1].split(",")})
    rest = suffix.translate(_WORDS)
    has = {"1", "3", "5"}
    quality = _QUALITY.match(rest)
    kind = quality.lastgroup.split("_")[0] if quality and quality.lastgroup else ""
    if quality and quality["minmaj"]:
        kind = "minmaj"
    is_major_seventh = kind == "minmaj"
    rest = rest[quality.end() :] if quality else rest
    if kind in ("minor", "minmaj", "half", "dim"):
        has = has - {"3"} | {"b3"}
    if kind in ("half", "dim"):
        has = has - {"5"} | {"b5"}
    if kind == "aug":
        has = has - {"5"} | {"#5"}
    if kind == "half":
        has.add("b7")
    number_found = _NUMBER.match(rest)
    number = re.sub(r"[\s/\\]|add", "", number_found[0]) if number_found else ""
    rest = rest[number_found.end() :] if number_found else rest
    if kind == "minmaj" and quality:
        number = number or quality["minmaj_no"] or "7"
    has = _with_number(has, kind, number, is_major_seventh=is_major_seventh)
    while rest:
        part = _PART.match(rest)
        if not part:
            raise _unreadable(text, rest, where)
        rest = rest[part.end() :]
        has = _with_part(has, part, text, where)
    return _ordered(has)


def _with_number(has: set[str], kind: str, number: str, *, is_major_seventh: bool) -> set[str]:
    """The chord with what its number brings: a sixth, a seventh, the extensions below it."""
    if number in ("6", "69"):
        return has | {"6"} | ({"9"} if number == "69" else set())
    if number == "5":
        return has - {"3"}
    if number == "2":
        return has - {"3"} | {"9"}
    if number == "4":
        return has - {"3"} | {"4"}
    if not number:
        return has
    if kind == "dim":
        seventh = "bb7"
    else:
        seventh = "7" if kind == "major" or is_major_seventh else "b7"
    has = has | {seventh}
    if number == "7":
        return has
    has = has | {"9"}
    if number == "11" and "3" in has and kind != "major":
        return has - {"3"} | {"4"}
    if number == "11" or (number == "13" and "b3" in has):
        has = has | {"11"}
    return has | {"13"} if number == "13" else has


def _with_part(has: set[str], part: re.Match[str], text: str, where: str) -> set[str]:
    """The chord with one further part of its symbol read in."""
    if part["gap"]:
        return has
    if part["sus"]:
        has = has - {"3", "b3", "11"}
        return has | {"9"} if part["sus_no"] == "2" else has | {"4"}
    if part["no"]:
        gone = {"1": {"1"}, "3": {"3", "b3"}, "5": {"5", "b5", "#5"}}.get(part["no_no"])
        if gone is None:
            raise _unreadable(text, part[0], where)
        return has - gone
    if part["alt"]:
        return has - {"5", "9"} | {"b7", "b9", "#9", "#11", "b13"}
    if part["maj7"]:
        has = has - {"b7"} | {"7"}
        return has | {"9"} if part["maj7_no"] in ("9", "11", "13") else has
    if part["add"]:
        return has | {_tone(f"{part['add_no'] or ''}{part['add_deg']}", text, where)}
    if part["plain"]:
        return has | {_tone(part["plain"], text, where)}
    sign = {"flat": "b", "sharp": "#", "+": "#", "-": "b"}.get(part["sign"].strip(), part["sign"])
    return _with_altered(has, _tone(f"{sign}{part['deg']}", text, where))


def _tone(written: str, text: str, where: str) -> str:
    """One degree out of a symbol, in our word for it."""
    if not is_degree(written):
        raise _unreadable(text, written, where)
    tone = read_degree(written).plain
    return "11" if tone == "4" else tone


def _with_altered(has: set[str], tone: str) -> set[str]:
    """An altered tone takes the place of its natural one; ♯11 and ♭13 leave the fifth alone."""
    replaced = {"b5": {"5"}, "#5": {"5"}, "b9": {"9"}, "#9": {"9"}, "#11": {"11"}, "b13": {"13"}}
    return has - replaced.get(tone, set()) | {tone}


def _ordered(has: set[str]) -> tuple[Degree, ...]:
    degrees = (degree(text) for text in has)
    return tuple(sorted(degrees, key=lambda each: (each.number, each.alter_semitones)))
