"""Tunings: what the open strings sound.

Conventions: strings run from the lowest, place 0, to the highest; people number them the other way
round, 1 for the highest, and `string_number` is the one place where that is turned.
Source: standard tuning and the named ones are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drills.errors import DrillsError
from drills.theory.pitch import Pitch, plain_signs, read_note, read_pitch
from drills.theory.words import nearest

FEWEST_STRINGS, MOST_STRINGS = 6, 8

_NAMED = {
    "standard": "E2 A2 D3 G3 B3 E4",
    "drop D": "D2 A2 D3 G3 B3 E4",
    "double drop D": "D2 A2 D3 G3 B3 D4",
    "DADGAD": "D2 A2 D3 G3 A3 D4",
    "open C": "C2 G2 C3 G3 C4 E4",
    "open D": "D2 A2 D3 F#3 A3 D4",
    "open E": "E2 B2 E3 G#3 B3 E4",
    "open G": "D2 G2 D3 G3 B3 D4",
    "open A": "E2 A2 E3 A3 C#4 E4",
    "all fourths": "E2 A2 D3 G3 C4 F4",
    "seven strings": "B1 E2 A2 D3 G3 B3 E4",
    "seven strings, low A": "A1 E2 A2 D3 G3 B3 E4",
    "eight strings": "F#1 B1 E2 A2 D3 G3 B3 E4",
}
_OTHER_NAMES = {
    "dropped d": "drop D",
    "fourths": "all fourths",
    "seven": "seven strings",
    "7 strings": "seven strings",
    "eight": "eight strings",
    "8 strings": "eight strings",
}
_USUAL_LOWEST_MIDI = {6: 40, 7: 35, 8: 30}
_LOWEST_OPEN_MIDI, _HIGHEST_OPEN_MIDI = 12, 88


@dataclass(frozen=True, slots=True)
class Tuning:
    """The open strings of an instrument.

    Attributes:
        name: a trade name, or the notes themselves.
        open_pitches: low to high.
    """

    name: str
    open_pitches: tuple[Pitch, ...]

    @property
    def open_midi(self) -> tuple[int, ...]:
        """MIDI notes of the open strings, low to high."""
        return tuple(pitch.midi for pitch in self.open_pitches)

    @property
    def string_names(self) -> tuple[str, ...]:
        """Note names of the open strings, low to high, shown form."""
        return tuple(pitch.name.shown for pitch in self.open_pitches)

    def string_number(self, place: int) -> int:
        """The number guitarists give the string at a place: 1 is the highest.

        >>> STANDARD.string_number(0)
        6
        """
        return len(self.open_pitches) - place


def _tuning(name: str, notes: str) -> Tuning:
    return Tuning(name, tuple(read_pitch(note) for note in notes.split()))


TUNINGS = {name: _tuning(name, notes) for name, notes in _NAMED.items()}
"""The tunings known by name."""

STANDARD = TUNINGS["standard"]

_BY_WORD = {name.lower(): tuning for name, tuning in TUNINGS.items()} | {
    other: TUNINGS[name] for other, name in _OTHER_NAMES.items()
}


def read_tuning(text: str | Sequence[str], *, where: str = "") -> Tuning:
    """A tuning by name, or by six to eight note names from low to high.

    Notes without octaves start near the usual lowest string and go up to the nearest place.

    >>> read_tuning("drop d").name, read_tuning("D A D G B E").open_midi
    ('drop D', (38, 45, 50, 55, 59, 64))
    """
    words = text.split() if isinstance(text, str) else list(text)
    if isinstance(text, str):
        by_name = _BY_WORD.get(" ".join(words).lower())
        if by_name is not None:
            return by_name
        if not all(_is_note(word) for word in words):
            close = nearest(text, [*TUNINGS, *_OTHER_NAMES]) or "standard"
            mend = f"write {close!r}, or six to eight notes such as 'E2 A2 D3 G3 B3 E4'"
            raise DrillsError(f"no tuning named {text!r}", where=where, mend=mend)
    if not FEWEST_STRINGS <= len(words) <= MOST_STRINGS:
        mend = "name six to eight strings, low string first"
        raise DrillsError(f"a tuning of {len(words)} strings", where=where, mend=mend)
    return _from_notes(words, where)


def _is_note(word: str) -> bool:
    try:
        read_note(plain_signs(word))
    except DrillsError:
        return False
    return True


def _from_notes(words: Sequence[str], where: str) -> Tuning:
    pitches: list[Pitch] = []
    for word in words:
        name, octave = read_note(plain_signs(word), where=where)
        if octave is None:
            floor = pitches[-1].midi + 1 if pitches else _USUAL_LOWEST_MIDI[len(words)] - 6
            pitch = name.at_midi(floor + (name.pitch_class - floor) % 12)
        else:
            pitch = Pitch(name, octave)
        if pitches and pitch.midi <= pitches[-1].midi:
            mend = "name the strings from low to high"
            raise DrillsError(f"string {word} does not lie above the one before it", where=where, mend=mend)
        pitches.append(pitch)
    if pitches[0].midi < _LOWEST_OPEN_MIDI or pitches[-1].midi > _HIGHEST_OPEN_MIDI:
        mend = "a guitar's open strings lie between C0 and E6"
        raise DrillsError("a tuning out of range", where=where, mend=mend)
    named = Tuning(" ".join(pitch.plain for pitch in pitches), tuple(pitches))
    return next((known for known in TUNINGS.values() if known.open_midi == named.open_midi), named)
