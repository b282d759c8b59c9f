"""A progression: chord symbols in a row, the voicings that the catalogue has for each, the ways through them.

The catalogue holds thousands of voicings of a chord; the best MOST_VOICINGS in its key are gone through, each
at every place of the neck. Among these the smoothest way is exact (see path.py).
"""

from __future__ import annotations

import re
from dataclasses import dataclass

import numpy as np

from drills.catalogue.chord_type import read_chord_type
from drills.catalogue.enumerate import LAYER_PAIRS, NOTES
from drills.catalogue.path import Way, smoothest
from drills.catalogue.setup import Setup
from drills.catalogue.table import Columns, Table, build_tables
from drills.errors import DrillsError
from drills.neck.grip import Frets
from drills.neck.hand import USUAL_HAND, Hand
from drills.neck.instrument import Instrument
from drills.neck.search import STANDARD_INSTRUMENT, Place, find_in_key
from drills.theory.chord import Chord, read_chord
from drills.theory.voicing import Voicing

MOST_VOICINGS = 250
POINT_BELOW_BEST = 0.1
"""What a voicing costs, in frets, for each point it has less than the chord's best."""
MOST_CHORDS = 64


def read_progression(text: str, *, where: str = "") -> tuple[Chord, ...]:
    """The chords of a progression, separated by blanks, commas or bar lines.

    >>> [chord.plain for chord in read_progression("Dm7 | G7alt | CΔ7")]
    ['Dm7', 'G7alt', 'Cmaj7']
    """
    symbols = [symbol for symbol in re.split(r"[\s,|]+(?![^(]*\))", text) if symbol]
    if not symbols:
        raise DrillsError(
            "there is no chord here", where=where, mend="write chords such as 'Dm7 G7alt Cmaj7'"
        )
    if len(symbols) > MOST_CHORDS:
        mend = f"take at most {MOST_CHORDS} at a time"
        raise DrillsError(f"{len(symbols)} chords are too many", where=where, mend=mend)
    return tuple(read_chord(symbol, where=where) for symbol in symbols)


def ways(
    chords: tuple[Chord, ...],
    *,
    notes: int | None = None,
    limit: int = 3,
    setup: Setup | None = None,
) -> tuple[Way, ...]:
    """The smoothest ways through a progression, smoothest first.

    Args:
        chords: in the order they are played.
        notes: how many notes every voicing has; any from 4 to 7 unless given.
        limit: how many ways at most.
        setup: the instrument, the hand, perhaps one set of strings.

    Raises:
        DrillsError: a chord has no voicing that this hand can hold on this instrument.

    >>> way, = ways(read_progression("Dm9 G7alt C6/9"), notes=5, limit=1)
    >>> [place.grip.text for place in way.places]
    ['x 10 10 10 12 12', 'x 10 9 10 11 11', 'x 10 10 9 10 10']
    """
    setup = Setup() if setup is None else setup
    by_chord = {chord: _choices(chord, notes, setup) for chord in dict.fromkeys(chords)}
    return smoothest(
        [by_chord[chord].places for chord in chords],
        limit=limit,
        extra=[by_chord[chord].extra for chord in chords],
    )


def choices(
    chord: Chord,
    *,
    notes: int | None = None,
    instrument: Instrument = STANDARD_INSTRUMENT,
    hand: Hand = USUAL_HAND,
    strings: tuple[int, ...] | None = None,
) -> tuple[Place, ...]:
    """Every place of the catalogue's best voicings of a chord over its root.

    Raises:
        DrillsError: there is none.
    """
    return _choices(chord, notes, Setup(instrument, hand, strings)).places


@dataclass(frozen=True, slots=True)
class _Choices:
    """Places of a chord's voicings, and what each costs for standing lower in the catalogue."""

    places: tuple[Place, ...]
    extra: tuple[float, ...]


def _choices(chord: Chord, notes: int | None, setup: Setup) -> _Choices:
    kind, _ = read_chord_type(chord.symbol.plain, where=chord.plain)
    (table,) = build_tables((kind,), setup)
    rows = _held_over(chord, notes, table)
    if not len(rows):
        raise _nothing(chord, notes, table)
    found: dict[tuple[int, Frets], tuple[Place, float]] = {}
    best = table.entry(int(rows[0])).score
    for row in rows[:MOST_VOICINGS].tolist():
        entry = table.entry(row)
        extra = POINT_BELOW_BEST * (best - entry.score)
        for place in _places(chord, entry.voicing, setup):
            found.setdefault((place.sounding.lowest_midi, place.grip.frets), (place, extra))
    places, extra_costs = zip(*found.values(), strict=True)
    return _Choices(places, extra_costs)


def _held_over(chord: Chord, notes: int | None, table: Table) -> np.ndarray[tuple[int], np.dtype[np.int64]]:
    """The rows that can be held over the chord's root, with its own bass where it names one."""
    columns = table.columns
    fits = (columns.keys >> chord.root.pitch_class & 1).astype(bool)
    if notes is not None:
        fits &= _sizes(columns) == notes
    if chord.bass is not None:
        over_root = np.array([each.semitones for each in table.kind.tones])
        wanted = (chord.bass.pitch_class - chord.root.pitch_class) % 12
        fits &= over_root[columns.tones[:, 0]] == wanted
    return np.flatnonzero(fits)


def _sizes(columns: Columns) -> np.ndarray[tuple[int], np.dtype[np.int64]]:
    return np.array([lower + upper for lower, upper in LAYER_PAIRS])[columns.pair]


def _places(chord: Chord, voicing: Voicing, setup: Setup) -> list[Place]:
    found = find_in_key(voicing, chord.root, setup.instrument, setup.hand)
    return [place for place in found.places if setup.strings in (None, place.grip.strings)]


def _nothing(chord: Chord, notes: int | None, table: Table) -> DrillsError:
    """Why a chord has no place, and the nearest thing that has."""
    held = [size for size in NOTES if len(_held_over(chord, size, table))]
    if chord.bass is not None and not held:
        mend = f"leave the bass out: {chord.root.plain}{chord.symbol.plain}"
    elif notes is not None and held:
        mend = f"{chord.plain} can be held with {' or '.join(str(size) for size in held)} notes"
    else:
        mend = "try another tuning, a wider hand, or a simpler chord"
    said = f"no voicing of {chord.plain}" + (f" with {notes} notes" if notes is not None else "")
    return DrillsError(f"{said} can be held on this instrument", where=chord.plain, mend=mend)
