"""The hand: which frets four fingers can hold at once, and which finger goes where.

Conventions: fingers 1 (index) to 4 (little finger), 0 for an open string; distances are measured
along the neck between fret positions, in millimetres; strings are places from the lowest, 0.
Source: the limits come from the reach seen in an open data set of 2,069 published grips (99 % of
them stretch no more than 97 mm at 648 mm scale length); the order of fingers and the rules of the
barre are common practice, no source. They are a model: a teacher's eye goes before it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from drills.errors import DrillsError
from drills.neck.grip import Frets, Grip, Refusal
from drills.neck.instrument import Instrument
from drills.theory.words import nearest

FINGERS = 4


@dataclass(frozen=True, slots=True)
class Hand:
    """What a hand can do.

    Attributes:
        name: of the profile.
        max_stretch_mm: between the outer fretted notes, and so between fingers 1 and 4.
        max_frets_apart: below the ninth fret; one more is allowed from there.
        max_neighbour_mm: between neighbouring fingers.
        max_two_apart_mm: between fingers 1 and 3, and 2 and 4.
        long_reach_mm: a grip above it is a long reach.
        max_arpeggio_mm: between the outer notes of an arpeggio, which is not held together.
        offers_reduced: where a voicing does not fit, offer it without its lowest notes.
    """

    name: str = "usual"
    max_stretch_mm: float = 101.0
    max_frets_apart: int = 4
    max_neighbour_mm: float = 67.0
    max_two_apart_mm: float = 98.0
    long_reach_mm: float = 97.0
    max_arpeggio_mm: float = 125.0
    offers_reduced: bool = False

    def frets_apart_from(self, lowest_fret: int) -> int:
        """How many frets apart the outer notes may be, by the lowest fretted fret."""
        return self.max_frets_apart + (1 if lowest_fret >= _UP_THE_NECK else 0)


_UP_THE_NECK = 9
_BARRE_STRAIN = 2
"""A barre is as much trouble as two fingers each one fret away from where they fall by themselves."""
_SILENT_UNDER_BARRE_STRAIN = 1
"""So much more where a string that it lies on must not sound: F△7 at 1 x 2 2 1 x is held 1 x 3 4 2 x."""

USUAL_HAND = Hand()
SMALL_HAND = Hand("small", 88.0, 3, 58.0, 85.0, 84.0, 110.0, offers_reduced=True)
HANDS = {hand.name: hand for hand in (USUAL_HAND, SMALL_HAND)}
"""The profiles a recipe can name."""


def read_hand(name: str, *, where: str = "") -> Hand:
    """A hand profile by name."""
    hand = HANDS.get(name)
    if hand is None:
        close = nearest(name, HANDS)
        mend = f"write {close!r}" if close else f"write {' or '.join(map(repr, HANDS))}"
        raise DrillsError(f"no hand named {name!r}", where=where, mend=mend)
    return hand


@lru_cache(maxsize=200_000)
def hold(frets: Frets, instrument: Instrument, hand: Hand) -> Grip | Refusal:
    """The best way to hold frets, or why this hand cannot.

    Args:
        frets: one for each string, lowest string first; None is not played, 0 open.
        instrument: for distances along the neck.
        hand: for the limits.
    """
    fretted = sorted((fret, string) for string, fret in enumerate(frets) if fret)
    if not fretted:
        return Grip(frets, frets, 0.0, 0, 0, is_long_reach=False)
    lowest, highest = fretted[0][0], fretted[-1][0]
    if highest > instrument.highest_fret:
        return _beyond_the_neck(frets, highest, instrument)
    positions = instrument.positions_mm
    stretch_mm = positions[highest] - positions[lowest]
    apart = highest - lowest
    limit = hand.frets_apart_from(lowest + instrument.capo)
    if stretch_mm > hand.max_stretch_mm:
        return Refusal(f"it stretches {_too_far(stretch_mm, hand.max_stretch_mm)}", stretch_mm, frets)
    if apart > limit:
        return Refusal(f"it spans {apart} frets, more than {limit}", stretch_mm, frets)
    ways = list(fingerings(fretted, frets, positions, hand))
    if not ways:
        return Refusal("four fingers cannot hold it", stretch_mm, frets)
    _, barres, _, fingers = min(ways)
    by_string = dict(zip((string for _, string in fretted), fingers, strict=True))
    return Grip(
        frets,
        tuple(None if fret is None else by_string.get(string, 0) for string, fret in enumerate(frets)),
        stretch_mm,
        apart,
        barres,
        is_long_reach=stretch_mm > hand.long_reach_mm,
    )


def reach_in_turn(frets: Frets, instrument: Instrument, hand: Hand) -> Grip | Refusal:
    """Frets played one after another: only the whole stretch is limited, and no finger stays down."""
    fretted = [fret for fret in frets if fret]
    lowest, highest = min(fretted, default=0), max(fretted, default=0)
    if highest > instrument.highest_fret:
        return _beyond_the_neck(frets, highest, instrument)
    stretch_mm = instrument.positions_mm[highest] - instrument.positions_mm[lowest]
    if stretch_mm > hand.max_arpeggio_mm:
        why = f"the arpeggio stretches {_too_far(stretch_mm, hand.max_arpeggio_mm)}"
        return Refusal(why, stretch_mm, frets)
    fingers = tuple(_finger_in_turn(fret, lowest, highest) for fret in frets)
    return Grip(
        frets, fingers, stretch_mm, highest - lowest, 0, is_long_reach=stretch_mm > hand.long_reach_mm
    )


def _beyond_the_neck(frets: Frets, highest: int, instrument: Instrument) -> Refusal:
    return Refusal(f"fret {highest} lies beyond the neck's {instrument.highest_fret}", 0.0, frets)


def _too_far(stretch_mm: float, limit_mm: float) -> str:
    """A stretch and the limit it breaks, with a decimal where they would look alike."""
    decimals = 1 if round(stretch_mm) == round(limit_mm) else 0
    return f"{stretch_mm:.{decimals}f} mm, more than {limit_mm:.{decimals}f} mm"


def _finger_in_turn(fret: int | None, lowest: int, highest: int) -> int | None:
    """The finger nearest to a fret when the hand opens over the whole stretch."""
    if not fret:
        return fret
    return 1 + round((fret - lowest) * (FINGERS - 1) / max(highest - lowest, FINGERS - 1))


def fingerings(
    fretted: list[tuple[int, int]],
    frets: Frets,
    positions_mm: tuple[float, ...],
    hand: Hand,
) -> Iterator[tuple[int, int, int, tuple[int, ...]]]:
    """Every way to finger notes sorted by fret, then string: (strain, barres, awkwardness, fingers).

    Fingers rise with the frets, and on one fret from the bass side to the treble side, so that none
    crosses another; the index is always the lowest.
    """
    limits_mm = (0.0, hand.max_neighbour_mm, hand.max_two_apart_mm, hand.max_stretch_mm)
    lowest = fretted[0][0]

    def extend(
        done: int, held: tuple[tuple[int, int], ...], barres: int, strain: int, fingers: tuple[int, ...]
    ) -> Iterator[tuple[int, int, int, tuple[int, ...]]]:
        if done == len(fretted):
            yield strain + _BARRE_STRAIN * barres, barres, _awkwardness(held, fingers), fingers
            return
        fret = fretted[done][0]
        first_free = held[-1][0] + 1 if held else 1
        last_free = FINGERS if held else 1
        for finger in range(first_free, last_free + 1):
            if any(positions_mm[fret] - positions_mm[low] > limits_mm[finger - other] for other, low in held):
                continue
            ideal = min(FINGERS, 1 + fret - lowest)
            for end in _ends(fretted, done, frets, is_index=finger == 1):
                is_barre = end - done > 1
                is_over_silent = None in frets[fretted[done][1] : fretted[end - 1][1]]
                yield from extend(
                    end,
                    (*held, (finger, fret)),
                    barres + is_barre,
                    strain + abs(finger - ideal) + _SILENT_UNDER_BARRE_STRAIN * is_over_silent,
                    fingers + (finger,) * (end - done),
                )

    return extend(0, (), 0, 0, ())


def _awkwardness(held: tuple[tuple[int, int], ...], fingers: tuple[int, ...]) -> int:
    """What tells ways of equal strain apart: neighbours that open over two frets, a little finger's barre.

    So 5 7 7 x x x is held 1 3 4, not 1 2 3; but x 3 1 3 3 3 is x 2 1 3 3 3 (common practice, no source).
    """
    pairs = pairwise(held)
    opened = sum(max(0, (fret - low) - (finger - other)) for (other, low), (finger, fret) in pairs)
    return opened + (fingers.count(FINGERS) > 1)


def _ends(fretted: list[tuple[int, int]], start: int, frets: Frets, *, is_index: bool) -> Iterator[int]:
    """Where the notes under one finger, from `start` on, may end: just after it, or after a barre."""
    yield start + 1
    fret, bass_string = fretted[start]
    if any(other is not None and other < fret for other in frets[bass_string + 1 :]):
        return
    for end in range(start + 2, len(fretted) + 1):
        next_fret, string = fretted[end - 1]
        if next_fret != fret or not (is_index or string == fretted[end - 2][1] + 1):
            return
        yield end
