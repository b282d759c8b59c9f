"""The key signature that fits notes best.

Conventions: a signature is counted in fifths, as MusicXML and MIDI count it: -2 is two flats, 3 three sharps.
"""

from __future__ import annotations

from collections.abc import Iterable

from drills.theory.pitch import NoteName

_SHARPENED = (3, 0, 4, 1, 5, 2, 6)
"""Letters in the order in which sharps come, 0 for C; flats come the other way round."""

_WIDEST = 6


def fitting_signature(names: Iterable[NoteName]) -> int:
    """The signature under which the fewest of the notes need a sign of their own; of those the plainest.

    >>> from drills.theory.pitch import read_note_name
    >>> [fitting_signature(map(read_note_name, text.split())) for text in ("F A C Eb", "C# E G# B", "C E G")]
    [-2, 3, 0]
    """
    wanted = frozenset(names)

    def cost(fifths: int) -> tuple[int, int, int]:
        return (
            sum(signed(name.letter, fifths) != name.alter_semitones for name in wanted),
            abs(fifths),
            fifths,
        )

    return min(range(-_WIDEST, _WIDEST + 1), key=cost)


def signed(letter: int, fifths: int) -> int:
    """What a signature makes of a letter: -1 for flat, 1 for sharp.

    >>> signed(6, -1), signed(2, -1), signed(3, 1)
    (-1, 0, 1)
    """
    place = _SHARPENED.index(letter)
    if fifths > 0:
        return int(place < fifths)
    return -int(place >= len(_SHARPENED) + fifths)
