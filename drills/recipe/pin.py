"""Where a recipe itself says a voicing lies: on which strings, or with which frets in one key.

Conventions: people number strings from the highest, 1; here places count from the lowest, 0. Frets run
from the lowest string to the highest.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

from drills.errors import DrillsError
from drills.neck.grip import Frets
from drills.neck.instrument import Instrument
from drills.recipe.model import Pinned
from drills.theory.chord import habit_root
from drills.theory.degree import Degree
from drills.theory.naming import read_over
from drills.theory.pitch import NoteName
from drills.theory.text import read_voicing
from drills.theory.voicing import Voicing

_RANGE = re.compile(r"(\d)(?:\s*[-–]\s*(\d))?")
_STRINGS = re.compile(rf"(?:{_RANGE.pattern}[\s,]*)+")
_FRETS = re.compile(r"[xX\d\s,|/]+")
_BETWEEN = re.compile(r"[\s,|/]+")


def read_strings(text: str, count: int, notes: int) -> tuple[int, ...]:
    """The places of as many strings as there are notes; see `read_any_strings`.

    >>> read_strings("5-1", 6, 5), read_strings("6 4-2", 6, 4)
    ((1, 2, 3, 4, 5), (0, 2, 3, 4))
    """
    strings = read_any_strings(text, count, notes)
    if len(strings) != notes:
        mend = f"name {notes} strings, one for each note"
        raise DrillsError(strings_for_notes(len(strings), notes), mend=mend)
    return strings


def strings_for_notes(strings: int, notes: int) -> str:
    """What is wrong when the one does not fit the other."""
    return f"{strings} string{'s' * (strings != 1)} for {notes} note{'s' * (notes != 1)}"


def read_any_strings(text: str, count: int, notes: int) -> tuple[int, ...]:
    """The places of strings written as `5-1`, `5 4 2 1` or `5421`, lowest first.

    Args:
        text: the strings, as guitarists number them.
        count: strings of the instrument.
        notes: of the voicing; errors show how to write so many.

    >>> read_any_strings("5-1", 6, 6)
    (1, 2, 3, 4, 5)
    """
    example = f"write them as '{min(notes, count)}-1', say, 1 for the highest"
    if not _STRINGS.fullmatch(text):
        raise DrillsError(f"cannot read {text!r} as strings", mend=example)
    numbers: list[int] = []
    for first, last in _RANGE.findall(text):
        low, high = sorted((int(first), int(last or first)))
        numbers += range(low, high + 1)
    odd = next((number for number in numbers if not 1 <= number <= count), None)
    if odd is not None:
        raise DrillsError(f"there is no string {odd}", mend=f"strings are 1, the highest, to {count}")
    if len(set(numbers)) < len(numbers):
        raise DrillsError(f"{text!r} names a string twice", mend=example)
    return tuple(sorted(count - number for number in numbers))


def read_frets(text: str, instrument: Instrument) -> tuple[Frets, tuple[int, ...]]:
    """Frets on the neck whose strings rise with pitch, and the sizes of the layers that bars show in them."""
    strings = len(instrument.open_midi)
    words = _BETWEEN.split(text.strip("|/, "))
    count = len(words) if len(words) > 1 else len(words[0])
    what = f"{count} frets for {strings} strings" if count != strings else ""
    if not _FRETS.fullmatch(text):
        what = f"{text!r} are no frets"
    if what:
        raise DrillsError(what, mend=f"write {strings}, low string first, x for a string not played")
    written = read_voicing(text, open_midi=instrument.open_midi)
    frets = written.frets or ()
    highest = max(fret for fret in frets if fret is not None)
    if highest > instrument.highest_fret:
        mend = f"the neck of this recipe ends at fret {instrument.highest_fret}"
        raise DrillsError(f"there is no fret {highest}", mend=mend)
    for (string, low), (next_string, high) in pairwise(_sounding(frets, instrument)):
        if high <= low:
            what = f"string {strings - next_string} does not sound above string {strings - string}"
            raise DrillsError(what, mend="write a grip whose strings rise with pitch")
    return frets, written.sizes


def voicing_of_grip(
    grip: Pinned, sizes: tuple[int, ...], instrument: Instrument, chord: tuple[Degree, ...] | None
) -> Voicing:
    """The voicing that a grip sounds; the chord, where one is given, says what its tones are called."""
    midi = tuple(each for _, each in _sounding(grip.frets, instrument))
    heights = tuple(each - midi[0] for each in midi)
    called = {each.semitones: each for each in reversed(chord or ())}
    heard = read_over(heights, (midi[0] - grip.key.pitch_class) % 12).degrees
    return Voicing(tuple(called.get(each.semitones, each) for each in heard), heights, sizes)


def check_grip(frets: Frets, voicing: Voicing, key: NoteName, instrument: Instrument) -> None:
    """Refuses frets that do not sound a voicing over a key, in any octave.

    Raises:
        DrillsError: it tells what the first wrong string sounds, what it should, and the right frets.
    """
    sounding = list(_sounding(frets, instrument))
    wanted = len(voicing.degrees)
    if len(sounding) != wanted:
        what = f"{len(sounding)} strings sound, and the voicing has {wanted} notes"
        raise DrillsError(what, mend="write one fret for each note, x for the other strings")
    expected = _nearest_octave(tuple(midi for _, midi in sounding), voicing, key)
    for (string, midi), right, degree in zip(sounding, expected, voicing.degrees, strict=True):
        if midi == right:
            continue
        number = len(instrument.open_midi) - string
        meant = degree.over(key).at_midi(right).plain
        found = habit_root(midi, "major").at_midi(midi).plain
        what = f"string {number} sounds {found}, where {degree.plain} over {key.plain} is {meant}"
        raise DrillsError(what, mend=_right_frets(dict(sounding), expected, instrument))


def _sounding(frets: Frets, instrument: Instrument) -> Iterator[tuple[int, int]]:
    """Each string that is played, by its place, and the MIDI note it sounds."""
    for string, (fret, open_midi) in enumerate(zip(frets, instrument.open_midi, strict=True)):
        if fret is not None:
            yield string, open_midi + fret


def _nearest_octave(sounding: tuple[int, ...], voicing: Voicing, key: NoteName) -> tuple[int, ...]:
    """The voicing over a key in the octave that lies nearest to the notes."""
    lowest = voicing.lowest_at_or_above(key, sounding[0] - 12).lowest_midi
    octaves = [voicing.over(key, lowest + lift).midi for lift in (0, 12, 24)]

    def distance_semitones(notes: tuple[int, ...]) -> int:
        return sum(abs(note - heard) for note, heard in zip(notes, sounding, strict=True))

    return min(octaves, key=distance_semitones)


def _right_frets(strings: dict[int, int], expected: tuple[int, ...], instrument: Instrument) -> str:
    """The mend: the frets that sound the voicing on the same strings, if the neck has them."""
    right = dict(zip(strings, expected, strict=True))
    frets = [
        right[place] - midi if place in right else None for place, midi in enumerate(instrument.open_midi)
    ]
    if any(fret is not None and not 0 <= fret <= instrument.highest_fret for fret in frets):
        return "choose other strings: the voicing does not lie on these"
    return f"write '{' '.join('x' if fret is None else str(fret) for fret in frets)}'"
