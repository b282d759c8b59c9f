"""Every place where a voicing lies on the neck.

Conventions: one note on each string; strings rise with pitch unless crossing is asked for.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from drills.neck.grip import Frets, Grip, Rank, Refusal
from drills.neck.hand import USUAL_HAND, Hand, hold, reach_in_turn
from drills.neck.instrument import Instrument
from drills.theory.chord import FOURTHS, habit_root
from drills.theory.clash import low_intervals
from drills.theory.pitch import NoteName
from drills.theory.symbol import Quality
from drills.theory.voicing import PitchedVoicing, Voicing

STANDARD_INSTRUMENT = Instrument()


@dataclass(frozen=True, slots=True)
class Place:
    """A grip and what it sounds.

    Attributes:
        sounding: the voicing in the octave of this grip.
        grip: where it lies.
    """

    sounding: PitchedVoicing
    grip: Grip


@dataclass(frozen=True, slots=True)
class Found:
    """What a search in one key found.

    Attributes:
        places: best first.
        refusal: the narrowest miss, when there is no place.
    """

    places: tuple[Place, ...]
    refusal: Refusal | None = None


def positions(midi: tuple[int, ...], instrument: Instrument, *, crossing: bool = False) -> Iterator[Frets]:
    """Every way to sound notes on the neck, one on each string, whether a hand can hold it or not.

    Args:
        midi: low to high.
        instrument: for its strings and frets.
        crossing: let a higher note lie on a lower string.
    """
    open_midi, highest_fret = instrument.open_midi, instrument.highest_fret
    frets: list[int | None] = [None] * len(open_midi)

    def place(note: int) -> Iterator[Frets]:
        if note == len(midi):
            yield tuple(frets)
            return
        if crossing:
            strings: Iterable[int] = (string for string, fret in enumerate(frets) if fret is None)
        else:
            used = max((string for string, fret in enumerate(frets) if fret is not None), default=-1)
            strings = range(used + 1, len(open_midi) - len(midi) + note + 1)
        for string in list(strings):
            fret = midi[note] - open_midi[string]
            if 0 <= fret <= highest_fret:
                frets[string] = fret
                yield from place(note + 1)
                frets[string] = None

    return place(0)


def find_at(
    sounding: PitchedVoicing,
    instrument: Instrument = STANDARD_INSTRUMENT,
    hand: Hand = USUAL_HAND,
    *,
    arpeggio: bool = False,
    crossing: bool = False,
) -> Found:
    """The grips that sound exactly these notes, best first."""
    return _ranked(_tries(sounding, instrument, hand, arpeggio=arpeggio, crossing=crossing))


def find_in_key(
    voicing: Voicing,
    root: NoteName,
    instrument: Instrument = STANDARD_INSTRUMENT,
    hand: Hand = USUAL_HAND,
    *,
    arpeggio: bool = False,
    crossing: bool = False,
) -> Found:
    """The grips of a voicing over a root, in every octave the neck offers, best first.

    >>> from drills.theory.naming import name_notes
    >>> from drills.theory.pitch import read_note_name
    >>> m11 = name_notes((46, 53, 61, 63, 68, 72), (3, 3)).sounding.voicing
    >>> [place.grip.text for place in find_in_key(m11, read_note_name("E")).places]
    ['0 2 5 2 3 2']
    """
    tries: list[tuple[PitchedVoicing, Grip | Refusal]] = []
    sounding = voicing.lowest_at_or_above(root, instrument.open_midi[0])
    ceiling = instrument.open_midi[-1] + instrument.highest_fret
    while sounding.lowest_midi + voicing.span_semitones <= ceiling:
        tries += _tries(sounding, instrument, hand, arpeggio=arpeggio, crossing=crossing)
        sounding = voicing.over(root, sounding.lowest_midi + 12)
    return _ranked(tries)


def _tries(
    sounding: PitchedVoicing, instrument: Instrument, hand: Hand, *, arpeggio: bool, crossing: bool
) -> list[tuple[PitchedVoicing, Grip | Refusal]]:
    held = reach_in_turn if arpeggio else hold
    return [
        (sounding, held(frets, instrument, hand))
        for frets in positions(sounding.midi, instrument, crossing=crossing)
    ]


def _ranked(tries: list[tuple[PitchedVoicing, Grip | Refusal]]) -> Found:
    places = [Place(sounding, result) for sounding, result in tries if isinstance(result, Grip)]
    if places:
        return Found(tuple(sorted(places, key=lambda place: (place.grip.rank, place.grip.text))))
    refusals = [result for _, result in tries if isinstance(result, Refusal)]
    nowhere = Refusal("the neck has no place for it, one note on each string", 0.0)
    return Found((), min(refusals, key=lambda refusal: refusal.stretch_mm, default=nowhere))


def roots_by_fourths(quality: Quality, start: int = 0) -> tuple[NoteName, ...]:
    """The twelve roots by fourths, as charts spell them for a quality, from a pitch class on."""
    first = FOURTHS.index(start % 12)
    return tuple(habit_root(each, quality) for each in FOURTHS[first:] + FOURTHS[:first])


def on_one_string_set(found: Mapping[NoteName, Found]) -> dict[NoteName, Place]:
    """One place for each key that has any, on the string set that serves most keys.

    Among sets that serve equally many, the one wins that skips fewest strings, then the one that sounds clear
    in more keys (fewer low intervals), then the one with the easier grips. A key that the set does not serve
    gets its own best place.
    """
    by_set: dict[tuple[int, ...], dict[NoteName, Place]] = defaultdict(dict)
    for root, each in found.items():
        for place in each.places:
            by_set[place.grip.strings].setdefault(root, place)
    if not by_set:
        return {}

    def worth(strings: tuple[int, ...]) -> tuple[int, int, int, list[Rank], tuple[int, ...]]:
        places = by_set[strings].values()
        muddy = sum(bool(low_intervals(place.sounding.midi)) for place in places)
        skipped = strings[-1] - strings[0] + 1 - len(strings)
        ranks = sorted((place.grip.rank for place in places), reverse=True)
        return -len(places), skipped, muddy, ranks, strings

    chosen = by_set[min(by_set, key=worth)]
    return {root: chosen.get(root, each.places[0]) for root, each in found.items() if each.places}
