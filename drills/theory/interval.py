"""Intervals counted in semitones, and what each is called.

A layer of two notes is named by its size alone: spelling does not change what is heard.
Source: rudiments of music; compound intervals to two octaves.
"""

from __future__ import annotations

_NAMES = (
    "unison",
    "minor second",
    "major second",
    "minor third",
    "major third",
    "perfect fourth",
    "tritone",
    "perfect fifth",
    "minor sixth",
    "major sixth",
    "minor seventh",
    "major seventh",
    "octave",
    "minor ninth",
    "major ninth",
    "minor tenth",
    "major tenth",
    "perfect eleventh",
    "tritone and an octave",
    "perfect twelfth",
    "minor thirteenth",
    "major thirteenth",
    "minor fourteenth",
    "major fourteenth",
)
_COUNTS = ("two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def interval_name(semitones: int) -> str:
    """What an interval is called, at any width that MIDI notes can have.

    >>> interval_name(7), interval_name(13), interval_name(28)
    ('perfect fifth', 'minor ninth', 'major third and two octaves')
    """
    if semitones < len(_NAMES):
        return _NAMES[semitones]
    octaves, rest = divmod(semitones, 12)
    count = _COUNTS[octaves - 2]
    return f"{_NAMES[rest]} and {count} octaves" if rest else f"{count} octaves"
