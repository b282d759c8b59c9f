"""Notes that get in each other's way: clashes inside a voicing, and thirds too low to be clear.

Conventions: heights are semitones above the voicing's lowest note, low to high.
Source: the avoid-note rule of Nettles and Graf, The Chord Scale Theory and Jazz Harmony (1997), from
memory; the mends are common practice, no source. Low interval limits: see the table's source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from drills.theory.degree import Degree
from drills.theory.symbol import Quality
from drills.theory.tables import LOW_INTERVAL_LIMITS_MIDI

_MINOR_NINTHS = (13, 25, 37)
_SHOWN = str.maketrans({"b": "♭", "#": "♯"})
_LIMITS_MIDI = dict(LOW_INTERVAL_LIMITS_MIDI)


@dataclass(frozen=True, slots=True)
class Clash:
    """Two degrees that rub, and what to do about it.

    Attributes:
        degree: the one to change, plain form.
        against: the one it rubs against.
        mend: the degree to use instead, or "exchange them", or "leave out 5".
    """

    degree: str
    against: str
    mend: str

    @property
    def words(self) -> str:
        """The clash and its mend as a sentence, shown form."""
        degree, against, mend = (text.translate(_SHOWN) for text in (self.degree, self.against, self.mend))
        return f"{degree} rubs against {against}: " + (mend if " " in mend else f"{degree} → {mend}")


def clashes(
    degrees: tuple[Degree, ...], heights_semitones: tuple[int, ...], quality: Quality
) -> tuple[Clash, ...]:
    """The clashes of a voicing whose chord has the given quality, in a fixed order.

    No clash: ♭9 over the root of a dominant, and a third above the fourth of a sus chord.
    """
    words = {each.plain for each in degrees}
    if words.isdisjoint(_CAN_CLASH):
        return ()
    return tuple(_clashes(words, degrees, heights_semitones, quality))


_CAN_CLASH = frozenset({"11", "#9", "7", "b13", "b9", "#11"})


def _clashes(
    words: set[str], degrees: tuple[Degree, ...], heights: tuple[int, ...], quality: Quality
) -> Iterator[Clash]:
    at: dict[str, list[int]] = {word: [] for word in words}
    for each, height in zip(degrees, heights, strict=True):
        at[each.plain].append(height)
    if {"11", "3"} <= words:
        yield Clash("11", "3", "#11")
    if {"#9", "3"} <= words and min(at["#9"]) < max(at["3"]):
        yield Clash("#9", "3", "exchange them")
    if {"7", "1"} <= words and _has_minor_ninth(at["7"], at["1"]):
        yield Clash("1", "7", "13")
    if {"b13", "5"} <= words:
        yield Clash("b13", "5", "leave out 5")
    if "b9" in words and quality not in ("dominant", "sus"):
        yield Clash("b9", "1", "9")
    if {"#11", "5"} <= words and _has_minor_ninth(at["#11"], at["5"]):
        yield Clash("#11", "5", "exchange them")


def _has_minor_ninth(lower: list[int], upper: list[int]) -> bool:
    return any(high - low in _MINOR_NINTHS for low in lower for high in upper)


def low_intervals(midi: tuple[int, ...]) -> tuple[tuple[int, int], ...]:
    """Neighbouring notes that lie below the low interval limit, as pairs of MIDI notes.

    >>> low_intervals((36, 40, 60))
    ((36, 40),)
    """
    return tuple((low, high) for low, high in pairwise(midi) if low < _LIMITS_MIDI.get(high - low, 0))
