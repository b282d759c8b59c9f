"""Chord symbols without their root: from degrees to text, in the plain and the shown form.

Conventions: quality; the highest natural extension that is really there (9; 11 over a minor third;
13); sus; alterations rising; (addN); (no3). A missing 5 or 9 is silent. What fits no chord is
written as its degrees, such as (1,b9).
Source: Brandt and Roemer, Standardized Chord Symbol Notation (1976), from memory, for the parts of
a symbol; the choice among synonyms is ours.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal, TypeAlias

from drills.theory.degree import Degree, degree

Quality: TypeAlias = Literal[
    "major", "dominant", "sus", "augmented", "minor", "half-diminished", "diminished"
]

_ALTERATIONS = ("b5", "#5", "b9", "#9", "#11", "b13")
_TENSIONS = ("b9", "9", "#9", "11", "#11", "b13", "13")
_ALTERED = frozenset({"1", "3", "b7", "b9", "#9", "#11", "b13"})
_SIGNS = str.maketrans({"b": "♭", "#": "♯"})


@dataclass(frozen=True, slots=True)
class Symbol:
    """A chord symbol without its root.

    Attributes:
        plain: ASCII, such as "m9(maj7)".
        shown: as print shows it, such as "m△9".
        quality: what decides how the root is spelled.
        is_chord: False where the degrees themselves are the name.
    """

    plain: str
    shown: str
    quality: Quality
    is_chord: bool = True


def symbol(degrees: Iterable[Degree]) -> Symbol:
    """The symbol for degrees over a root that may be left out.

    >>> from drills.theory.degree import degree
    >>> symbol(degree(text) for text in "b7 3 13 9 #11".split()).plain
    '13#11'
    """
    return _symbol(frozenset(each.plain for each in degrees))


def meant(degrees: tuple[Degree, ...]) -> tuple[Degree, ...]:
    """Typed degrees in the word that the rest of the chord gives each: ♭13 for a ♯5 beside a 5, and so on.

    >>> from drills.theory.degree import degree
    >>> [each.plain for each in meant(tuple(degree(text) for text in "1 3 5 #5 6 b7".split()))]
    ['1', '3', '5', 'b13', '13', 'b7']
    """
    words = _words_meant(frozenset(each.plain for each in degrees))
    return tuple(degree(words[each.plain]) for each in degrees)


@lru_cache(maxsize=4096)
def _symbol(given: frozenset[str]) -> Symbol:
    has = frozenset(_words_meant(given).values())
    if has | {"1"} == _ALTERED:
        return Symbol("7alt", "7alt", "dominant")
    third = _third(has)
    if third == "none" and not _is_chord_without_third(has):
        listed = sorted(given | {"1"}, key=lambda text: (int(text.strip("b#")), text))
        plain = f"({','.join(listed)})"
        return Symbol(plain, plain.translate(_SIGNS), _quality(has, third), is_chord=False)
    return _written(has, third)


def _words_meant(given: frozenset[str]) -> dict[str, str]:
    """For each degree the one word that its tone has in this chord: 13 or 6, 4 or 11, ♭5 or ♯11."""
    words = {each: each for each in given}

    def reword(old: str, new: str, *, when: bool) -> None:
        if when:
            words.update({each: new for each, word in words.items() if word == old})

    is_minor = "b3" in given and "3" not in given
    has_seventh = bool({"b7", "7"} & given)
    is_diminished = is_minor and "b5" in given and not {"5", "b7"} & given
    reword("b3", "#9", when="3" in given)
    reword("#9", "b3", when=is_minor)
    reword("11", "4", when=not {"b3", "3"} & given)
    reword("4", "11", when=is_minor)
    reword("b5", "#11", when="5" in given)
    reword("#11", "b5", when="b5" in given and "5" not in given)
    reword("#5", "b13", when="5" in given)
    reword("b13", "#5", when="#5" in given and "5" not in given)
    for sixth in ("6", "13", "bb7"):
        reword(sixth, "bb7" if is_diminished else "13" if has_seventh else "6", when=True)
    return words


def _third(has: frozenset[str]) -> str:
    if "4" in has:
        return "sus4"
    if "3" in has:
        return "major"
    return "minor" if "b3" in has else "none"


def _seventh(has: frozenset[str]) -> str:
    """What stands in the place of the seventh, or nothing."""
    return next((each for each in ("b7", "bb7", "7", "6") if each in has), "")


def _is_chord_without_third(has: frozenset[str]) -> bool:
    return bool(_seventh(has)) or "5" in has


def _quality(has: frozenset[str], third: str) -> Quality:
    seventh = _seventh(has)
    if third == "sus4" or (third == "none" and not seventh and "9" in has):
        return "sus"
    if third == "minor":
        if "b5" not in has:
            return "minor"
        return "half-diminished" if seventh == "b7" else "diminished"
    if "b7" in has:
        return "dominant"
    return "augmented" if "#5" in has and not seventh else "major"


def _written(has: frozenset[str], third: str) -> Symbol:
    seventh = _seventh(has)
    quality = _quality(has, third)
    used = {"1", "3", "b3", "4", "5", seventh}
    if quality == "diminished":
        plain, shown = {"": ("dim", "°"), "bb7": ("dim7", "°7")}.get(seventh, ("dim(maj7)", "°(△7)"))
        used.add("b5")
    elif quality == "augmented":
        plain, shown = "aug", "+"
        used.add("#5")
    elif third == "none" and not seventh:
        plain = shown = "sus2" if "9" in has else "5"
        used.add("9")
    else:
        plain, shown = _numbered(has, third, seventh, quality, used)
    if seventh not in ("", "bb7"):
        altered = [
            each for each in _ALTERATIONS if each in has - used and each.strip("b#") not in has - {"5"}
        ]
        plain += "".join(altered)
        shown += "".join(each for each in altered if (each, quality) != ("b5", "half-diminished"))
        used.update(altered)
    tail = [f"({each})" for each in ("b5", "#5") if each in has - used]
    if third == "sus4" and "3" in has:
        tail.append("(add3)")
    tail += [f"(add{each})" for each in (*_TENSIONS, "7") if each in has - used]
    if third == "none" and seventh:
        tail.append("(no3)")
    return Symbol(plain + "".join(tail), (shown + "".join(tail)).translate(_SIGNS), quality)


def _numbered(
    has: frozenset[str], third: str, seventh: str, quality: Quality, used: set[str]
) -> tuple[str, str]:
    """Quality, number and sus of all other chords, plain and shown; marks in `used` what they say."""
    minor = "m" if third == "minor" else ""
    sus = "sus4" if third == "sus4" else ""
    number = ""
    if seventh == "6":
        number = "6/9" if "9" in has else "6"
        used.add("9")
    elif seventh:
        number = _extension(has, third, used)
    if seventh == "7":
        in_minor = f"m{number.strip('7')}(maj7)"
        return in_minor if minor else f"maj{number}{sus}", f"{minor}△{number}{sus}"
    if quality == "half-diminished":
        return f"m{number}", f"ø{number}"
    return f"{minor}{number}{sus}", f"{minor}{number}{sus}"


def _extension(has: frozenset[str], third: str, used: set[str]) -> str:
    """The highest natural extension really there; the natural ones below it are said with it."""
    number = "7"
    for each in ("9", "11", "13"):
        if each in has and (each != "11" or third == "minor"):
            number = each
            used.add(each)
    return number
