"""Spelled notes: a letter and an alteration, with or without an octave.

Conventions: letters count from C = 0 to B = 6; an alteration is in semitones, flats negative;
octaves are scientific (C4 is middle C, MIDI note 60) and always sounding, never written pitch.
The letter decides the octave, so C♭4 sounds a half step below C4 (MIDI 59).
Source: MIDI 1.0 Detailed Specification for note numbers; the rest is arithmetic.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from drills.errors import DrillsError

LETTERS = "CDEFGAB"
NATURAL_SEMITONES = (0, 2, 4, 5, 7, 9, 11)
LOWEST_MIDI, HIGHEST_MIDI = 0, 127

_SIGNS = str.maketrans({"♭": "b", "♯": "#", "♮": "", "𝄫": "bb", "𝄪": "##"})
_PRINTED = str.maketrans({"b": "♭", "#": "♯"})
_SUFFIX = r"(?:\d|m|dim|aug|sus|add|alt|no\d)"  # how what stands behind a chord's root begins
_TYPED_NOTE = rf"(?<!\w)[A-G](?:##?|bb?(?={_SUFFIX})|b(?!\w))"
_TYPED_DEGREE = r"(?:(?<![^\W\d])|(?<=\badd))(?:bb|##|[b#])(?=(?:[2-79]|11|13)(?!\d))"
_TYPED_SIGNS = re.compile(f"{_TYPED_NOTE}|{_TYPED_DEGREE}")
_NOTE = re.compile(r"([A-G])(bb|b|##|#|x)?(-?[0-9]{1,2})?")


def plain_signs(text: str) -> str:
    """The text with ♭ ♯ 𝄫 𝄪 written as b # bb ##.

    >>> plain_signs("B𝄫 F𝄪 E♭")
    'Bbb F## Eb'
    """
    return text.translate(_SIGNS)


def shown_signs(alter_semitones: int) -> str:
    """The sign of an alteration as print shows it.

    >>> [shown_signs(n) for n in (-3, -2, -1, 0, 1, 2)]
    ['𝄫♭', '𝄫', '♭', '', '♯', '𝄪']
    """
    double, single = ("𝄪", "♯") if alter_semitones > 0 else ("𝄫", "♭")
    twos, ones = divmod(abs(alter_semitones), 2)
    return double * twos + single * ones


def with_signs(words: str) -> str:
    """Plain words with ♭ and ♯ for b and # where a note or a degree is spelled, and nowhere else.

    A note begins a word; a degree has no letter before it but the "add" of a chord symbol. A bare "Ebb" is
    taken for a word.

    >>> with_signs("7b9#11 b7 3 | bb7, Bbm7/Ab, club7")
    '7♭9♯11 ♭7 3 | ♭♭7, B♭m7/A♭, club7'
    """
    return _TYPED_SIGNS.sub(lambda typed: typed[0].translate(_PRINTED), words)


def plain_sign(alter_semitones: int) -> str:
    """The sign of an alteration in ASCII: b, bb, #, ##."""
    return ("#" if alter_semitones > 0 else "b") * abs(alter_semitones)


@dataclass(frozen=True, slots=True)
class NoteName:
    """A spelled note without an octave.

    Attributes:
        letter: 0 for C to 6 for B.
        alter_semitones: -1 for ♭, 1 for ♯, and so on.
    """

    letter: int
    alter_semitones: int = 0

    @property
    def pitch_class(self) -> int:
        """Semitones above C, 0 to 11."""
        return (NATURAL_SEMITONES[self.letter] + self.alter_semitones) % 12

    @property
    def plain(self) -> str:
        """ASCII name, such as Bb."""
        return LETTERS[self.letter] + plain_sign(self.alter_semitones)

    @property
    def shown(self) -> str:
        """Printed name, such as B♭."""
        return LETTERS[self.letter] + shown_signs(self.alter_semitones)

    def at_midi(self, midi: int) -> Pitch:
        """This name for the sounding MIDI note, which must have its pitch class.

        >>> NoteName(0, -1).at_midi(59)
        Pitch(name=NoteName(letter=0, alter_semitones=-1), octave=4)
        """
        octave, rest = divmod(midi - self.alter_semitones - NATURAL_SEMITONES[self.letter], 12)
        if rest:
            raise ValueError(f"{self.plain} cannot name MIDI note {midi}")
        return Pitch(self, octave - 1)

    def above(self, steps: int, semitones: int) -> NoteName:
        """The note a number of letters and semitones higher, spelled exactly.

        A spelling that would need a triple sign is moved to the neighbouring letter.

        >>> NoteName(5, -1).above(1, 1).plain, NoteName(3, -1).above(1, 1).plain
        ('Bbb', 'Gbb')
        """
        letter = (self.letter + steps) % 7
        target = self.pitch_class + semitones
        alter = (target - NATURAL_SEMITONES[letter] + 6) % 12 - 6
        while abs(alter) > 2:
            letter = (letter + (1 if alter > 0 else -1)) % 7
            alter = (target - NATURAL_SEMITONES[letter] + 6) % 12 - 6
        return NoteName(letter, alter)


@dataclass(frozen=True, slots=True)
class Pitch:
    """A spelled note in an octave, as it sounds."""

    name: NoteName
    octave: int

    @property
    def midi(self) -> int:
        """MIDI note number; middle C is 60."""
        return NATURAL_SEMITONES[self.name.letter] + self.name.alter_semitones + 12 * (self.octave + 1)

    @property
    def plain(self) -> str:
        """ASCII name, such as Bb2."""
        return f"{self.name.plain}{self.octave}"

    @property
    def shown(self) -> str:
        """Printed name, such as B♭2."""
        return f"{self.name.shown}{self.octave}"


def read_note(text: str, *, where: str = "") -> tuple[NoteName, int | None]:
    """A note name and its octave, if it has one.

    >>> read_note("E♭4")
    (NoteName(letter=2, alter_semitones=-1), 4)
    >>> read_note("h")
    Traceback (most recent call last):
    drills.errors.DrillsError: no note named 'h'; write A to G and b or # if need be, such as Bb or F#3
    """
    found = _NOTE.fullmatch(plain_signs(text))
    if not found:
        mend = "write A to G and b or # if need be, such as Bb or F#3"
        raise DrillsError(f"no note named {text!r}", where=where, mend=mend)
    letter, sign, octave = found.groups()
    alter = {"b": -1, "bb": -2, "#": 1, "##": 2, "x": 2}.get(sign or "", 0)
    return NoteName(LETTERS.index(letter), alter), None if octave is None else int(octave)


def read_note_name(text: str, *, where: str = "") -> NoteName:
    """A note name without an octave, such as a root or a key."""
    name, octave = read_note(text, where=where)
    if octave is not None:
        raise DrillsError(f"{text!r} has an octave", where=where, mend=f"write {name.plain}")
    return name


def read_pitch(text: str, *, where: str = "") -> Pitch:
    """A note with its octave, within the range of MIDI notes (C-1 to G9)."""
    name, octave = read_note(text, where=where)
    if octave is None:
        raise DrillsError(f"{text!r} has no octave", where=where, mend=f"write {name.plain}3, say")
    return checked_range(Pitch(name, octave), where=where)


def checked_range(pitch: Pitch, *, where: str = "") -> Pitch:
    """The pitch itself, if MIDI can number it."""
    if not LOWEST_MIDI <= pitch.midi <= HIGHEST_MIDI:
        mend = "use octaves from C-1 to G9; a guitar sounds from about E2 to E6"
        raise DrillsError(f"{pitch.plain} is out of range", where=where, mend=mend)
    return pitch
