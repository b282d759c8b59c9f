"""Grips: one way to hold a voicing, and how grips are ranked.

Conventions: frets and fingers run from the lowest string to the highest; None is not played; fret 0
and finger 0 are an open string.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TypeAlias

Frets: TypeAlias = tuple[int | None, ...]
Rank: TypeAlias = tuple[bool, bool, int, int, float, int]

MIDDLE_OF_NECK = 12


@dataclass(frozen=True, slots=True)
class Grip:
    """A grip, or an arpeggio with one note on each string.

    Attributes:
        frets: for each string.
        fingers: for each string, 1 to 4, 0 open.
        stretch_mm: between the outer fretted notes along the neck.
        frets_apart: between the same notes.
        barres: fingers that hold more than one string.
        is_long_reach: near the limit of the hand.
    """

    frets: Frets
    fingers: Frets
    stretch_mm: float
    frets_apart: int
    barres: int
    is_long_reach: bool

    @property
    def strings(self) -> tuple[int, ...]:
        """Places of the strings it uses, lowest first."""
        return tuple(string for string, fret in enumerate(self.frets) if fret is not None)

    @property
    def lowest_fret(self) -> int:
        """The lowest fretted fret; 0 when all strings are open."""
        return min((fret for fret in self.frets if fret), default=0)

    @property
    def highest_fret(self) -> int:
        """The highest fret."""
        return max(fret for fret in self.frets if fret is not None)

    @property
    def skipped_strings(self) -> int:
        """Strings not played between strings that are."""
        strings = self.strings
        return strings[-1] - strings[0] + 1 - len(strings)

    @property
    def text(self) -> str:
        """The frets as guitarists write them: `x 4 5 5 6 5`."""
        return " ".join("x" if fret is None else str(fret) for fret in self.frets)

    @property
    def barre_strain(self) -> int:
        """How much its barres ask of the hand: 1 for the index, else one for each string beyond the first."""
        held = Counter(finger for finger in self.fingers if finger)
        return sum((1 if finger == 1 else strings - 1) for finger, strings in held.items() if strings > 1)

    @property
    def rank(self) -> Rank:
        """Smaller is better: no long reach, within 12 frets, no skipped strings, light barres, small, low.

        A barre of another finger than the index weighs more the more strings it holds (common practice,
        no source).
        """
        return (
            self.is_long_reach,
            self.highest_fret > MIDDLE_OF_NECK,
            self.skipped_strings,
            self.barre_strain,
            round(self.stretch_mm, 3),
            self.lowest_fret,
        )


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why frets cannot be held.

    Attributes:
        why: a clause such as "it stretches 137 mm, more than 101 mm".
        stretch_mm: how wide it would be; the narrowest miss is the one to tell.
        frets: the frets that were tried; empty where the neck has no place for the notes.
    """

    why: str
    stretch_mm: float
    frets: Frets = ()
