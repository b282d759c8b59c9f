"""The kind of a chord in MusicXML, and the degrees that make it the chord.

Conventions: a kind is chosen so that the fewest degrees have to be told beside it. What is added is altered
against the major scale with a minor seventh, what is altered against the kind's own tone, as the standard
says.
Source: MusicXML 4.0, data types kind-value and degree-type-value, elements kind and degree-alter (W3C Music
Notation Community Group, 2021).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from drills.theory.degree import Degree
from drills.theory.degree import degree as read_degree

How: TypeAlias = Literal["add", "alter", "subtract"]

KINDS: Final = {
    "major": "1 3 5",
    "minor": "1 b3 5",
    "augmented": "1 3 #5",
    "diminished": "1 b3 b5",
    "dominant": "1 3 5 b7",
    "major-seventh": "1 3 5 7",
    "minor-seventh": "1 b3 5 b7",
    "diminished-seventh": "1 b3 b5 bb7",
    "augmented-seventh": "1 3 #5 b7",
    "half-diminished": "1 b3 b5 b7",
    "major-minor": "1 b3 5 7",
    "major-sixth": "1 3 5 6",
    "minor-sixth": "1 b3 5 6",
    "dominant-ninth": "1 3 5 b7 9",
    "major-ninth": "1 3 5 7 9",
    "minor-ninth": "1 b3 5 b7 9",
    "dominant-11th": "1 3 5 b7 9 11",
    "major-11th": "1 3 5 7 9 11",
    "minor-11th": "1 b3 5 b7 9 11",
    "dominant-13th": "1 3 5 b7 9 11 13",
    "major-13th": "1 3 5 7 9 11 13",
    "minor-13th": "1 b3 5 b7 9 11 13",
    "suspended-fourth": "1 4 5",
    "suspended-second": "1 9 5",  # our 9 stands for the second as well
    "power": "1 5",
}
"""Kinds and their degrees, the plainer first."""

_COSTS: Final[dict[How, float]] = {"add": 1.0, "alter": 1.0, "subtract": 2.0}
"""Taking a tone away reads worst: the symbol then says what does not sound."""
_SIGNS: Final = {-2: "𝄫", -1: "♭", 0: "", 1: "♯", 2: "𝄪"}


@dataclass(frozen=True, slots=True)
class Change:
    """One degree that a kind has to be told.

    Attributes:
        number: of the degree.
        alter_semitones: against what `how` says.
        how: what is done with it.
    """

    number: int
    alter_semitones: int
    how: How

    @property
    def shown(self) -> str:
        """As a program prints it, where it is not taken away."""
        return f"{_SIGNS[self.alter_semitones]}{self.number}"


def kind_of(degrees: tuple[Degree, ...]) -> tuple[str, tuple[Change, ...]]:
    """The kind that needs the fewest changes, and these, by number; the plainer kind if in doubt."""
    found = ((name, _changes(degrees, tones)) for name, tones in _TONES.items() if _is_meant(name, degrees))
    return min(found, key=lambda each: sum(_COSTS[change.how] for change in each[1]))


_TONES: Final = {
    name: {each.number: each for each in map(read_degree, text.split())} for name, text in KINDS.items()
}


def _is_meant(name: str, degrees: tuple[Degree, ...]) -> bool:
    """Whether a chord may be called that: a fifth alone is no more than root and fifth."""
    return name != "power" or {each.number for each in degrees} == {1, 5}


def _changes(degrees: tuple[Degree, ...], tones: dict[int, Degree]) -> tuple[Change, ...]:
    """What makes a kind with these tones the chord with those degrees."""
    changes = []
    left = dict(tones)
    for each in degrees:
        own = left.pop(each.number, None)
        if own is None:
            changes.append(Change(each.number, _over_dominant(each), "add"))
        elif each.semitones != own.semitones:
            changes.append(Change(each.number, _alter(each) - _alter(own), "alter"))
    changes += [Change(number, 0, "subtract") for number in left]
    return tuple(sorted(changes, key=lambda change: (change.number, change.alter_semitones)))


def _alter(each: Degree) -> int:
    """The signs of a degree."""
    return each.plain.count("#") - each.plain.count("b")


def _over_dominant(each: Degree) -> int:
    return _alter(each) + (1 if each.number == 7 else 0)
