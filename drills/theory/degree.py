"""Degrees: where a note stands over a root, such as ♭9 or ♯11.

Conventions: numbers 1 to 7 for chord tones, 9 11 13 for tensions; 4 stands for the fourth of a
sus chord and 6 for the sixth of a chord without a seventh. A degree fixes the letter
(degree-true spelling), so ♭9 over E♭ is F♭.
Source: common practice, no source; the letter arithmetic is definition.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from drills.errors import DrillsError
from drills.theory.pitch import NATURAL_SEMITONES, NoteName, plain_sign, plain_signs, shown_signs

_DEGREE = re.compile(r"(bb|b|##|#)?(\d{1,2})")

_OTHER_WRITINGS = {"2": "9", "b2": "b9", "#2": "#9", "#4": "#11", "b6": "b13"}
"""How players also write a degree, and the word we keep for it."""

KNOWN = tuple("1 b9 9 #9 b3 3 4 11 #11 b5 5 #5 b13 13 6 bb7 b7 7".split())
"""Every degree that voicings are written in, plain form."""


@dataclass(frozen=True, slots=True)
class Degree:
    """A degree over a root.

    Attributes:
        number: 1 to 7, 9, 11 or 13.
        alter_semitones: against the major scale of the root.
        semitones: above the root within one octave, 0 to 11.
        plain: ASCII form, such as #11.
    """

    number: int
    alter_semitones: int = 0
    semitones: int = field(init=False, repr=False, compare=False)
    plain: str = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Works out once what is asked for most."""
        semitones = NATURAL_SEMITONES[(self.number - 1) % 7] + self.alter_semitones
        object.__setattr__(self, "semitones", semitones % 12)
        object.__setattr__(self, "plain", f"{plain_sign(self.alter_semitones)}{self.number}")

    @property
    def shown(self) -> str:
        """Printed form, such as ♯11."""
        return f"{shown_signs(self.alter_semitones)}{self.number}"

    def over(self, root: NoteName) -> NoteName:
        """The note this degree is over a root, spelled degree-true.

        >>> Degree(9, -1).over(NoteName(2, -1)).plain
        'Fb'
        """
        return root.above((self.number - 1) % 7, self.semitones)


_BY_TEXT = {text: Degree(int(text.lstrip("b#")), text.count("#") - text.count("b")) for text in KNOWN}


def degree(text: str) -> Degree:
    """The degree of a plain form that the program itself writes."""
    return _BY_TEXT[text]


def is_degree(text: str) -> bool:
    """Whether a text, once its apostrophes are off, could be a degree."""
    bare = plain_signs(text).rstrip("'")
    return bare in _BY_TEXT or bare in _OTHER_WRITINGS


def read_degree(text: str, *, where: str = "") -> Degree:
    """A degree as a player may write it; 2, ♭2, ♯4 and the like count as 9, ♭9, ♯11.

    >>> read_degree("♯4").plain
    '#11'
    """
    bare = plain_signs(text)
    found = _BY_TEXT.get(_OTHER_WRITINGS.get(bare, bare))
    if found is None:
        looks_right = _DEGREE.fullmatch(bare)
        mend = f"degrees are {' '.join(KNOWN)}"
        what = f"no degree {text!r} is used in voicings" if looks_right else f"{text!r} is no degree"
        raise DrillsError(what, where=where, mend=mend)
    return found
