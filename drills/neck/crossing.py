"""Moves that need the neck: the same notes on other strings, and the nearest place over another root.

Conventions: a string set is the places of its strings, 0 the lowest; grips are found by the search and
held by the hand as everywhere.
"""

from __future__ import annotations

from drills.neck.grip import Grip
from drills.neck.hand import USUAL_HAND, Hand
from drills.neck.instrument import Instrument
from drills.neck.search import STANDARD_INSTRUMENT, Place, find_at, find_in_key, positions
from drills.theory.pitch import NoteName
from drills.theory.voicing import PitchedVoicing


def cross(
    sounding: PitchedVoicing,
    strings: tuple[int, ...],
    instrument: Instrument = STANDARD_INSTRUMENT,
    hand: Hand = USUAL_HAND,
) -> tuple[Place, ...]:
    """The best grip of the same notes on every string set but one, the nearest to it first.

    >>> from drills.theory.naming import name_notes
    >>> triad = name_notes((60, 64, 67), (3,)).sounding
    >>> [place.grip.text for place in cross(triad, (3, 4, 5))][:2]
    ['x x 10 9 8 x', 'x 15 14 12 x x']
    """
    by_set: dict[tuple[int, ...], Grip] = {}
    for other in find_at(sounding, instrument, hand).places:
        by_set.setdefault(other.grip.strings, other.grip)
    by_set.pop(strings, None)

    def distance(grip: Grip) -> int:
        return sum(abs(new - old) for new, old in zip(grip.strings, strings, strict=True))

    nearest_first = sorted(by_set.values(), key=lambda grip: (distance(grip), grip.rank, grip.text))
    return tuple(Place(sounding, grip) for grip in nearest_first)


def nearest_over(
    sounding: PitchedVoicing,
    root: NoteName,
    instrument: Instrument = STANDARD_INSTRUMENT,
    hand: Hand = USUAL_HAND,
) -> PitchedVoicing:
    """The voicing over another root in the nearest octave where it can be held, the lower one on a tie.

    Where it can be held in none, the nearest that the neck has strings and frets for counts, and at last
    the nearest of all.

    >>> from drills.theory.naming import name_notes
    >>> m11 = name_notes((46, 53, 61, 63, 68, 72), (3, 3)).sounding
    >>> nearest_over(m11, NoteName(2)).lowest_midi, nearest_over(m11, NoteName(2, -1)).lowest_midi
    (40, 51)
    """
    voicing = sounding.voicing
    lowest = voicing.lowest_at_or_above(root, 0).lowest_midi
    octaves = [voicing.over(root, midi) for midi in range(lowest, 128 - voicing.span_semitones, 12)]
    held = [place.sounding for place in find_in_key(voicing, root, instrument, hand).places]
    on_neck = [each for each in octaves if next(positions(each.midi, instrument), None) is not None]

    def distance(each: PitchedVoicing) -> tuple[int, int]:
        return abs(each.lowest_midi - sounding.lowest_midi), each.lowest_midi

    return min(held or on_neck or octaves, key=distance)
