"""Kinds of chord as recipes write them: without a root, which the keys give, and without a bass."""

from __future__ import annotations

from drills.errors import DrillsError
from drills.recipe.fields import quoted
from drills.theory.chord import read_chord, read_suffix
from drills.theory.degree import Degree
from drills.theory.words import nearest

_USUAL = tuple(
    "maj m 5 6 m6 6/9 m6/9 7 maj7 m7 m7b5 dim7 m(maj7) 9 maj9 m9 m9b5 m11 m11b5 13 maj13 m13 13#11 maj9#11 "
    "maj13#11 7b9 7#9 7#11 7b13 7b9b13 7#9b13 7alt 13b9 7sus4 9sus4 13sus4 sus2 sus4 aug 7#5 7b5 dim".split()
)
"""What a chord that cannot be read is likened to."""


def read_kind(text: str) -> tuple[Degree, ...]:
    """The degrees of a chord without a root.

    Raises:
        DrillsError: it cannot be read; the mend says what is meant.
    """
    try:
        return read_suffix(text)
    except DrillsError:
        raise DrillsError(f"cannot read the chord {quoted(text)}", mend=_meant(text)) from None


def _meant(text: str) -> str:
    """What to write for a chord that cannot be read."""
    for whole in (text, f"C{text}"):
        try:
            meant = read_chord(whole).symbol.plain or "maj"
        except DrillsError:
            continue
        return f"write {meant!r}, without root and bass: keys give the root, and the lowest note is the bass"
    close = nearest(text, _USUAL)
    return f"write {close!r}" if close else "write a chord without its root, such as 'm11', '13#11' or 'maj'"
