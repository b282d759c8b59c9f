"""Modes as players speak of them: a mode with the scale it belongs to, and the mode one step further.

Source: which tonics charts prefer is common practice, no source.
"""

from __future__ import annotations

from drills.theory.chord import chart_name, habit_root
from drills.theory.degree import Degree, read_degree
from drills.theory.motion.step import scale_words
from drills.theory.pitch import NoteName
from drills.theory.scale import SCALES, Scale

_SELDOM_MINOR_TONICS = ("Cb", "Fb", "E#", "B#")


def mode_words(tonic: NoteName, mode: Scale) -> str:
    """A mode and its parent scale.

    >>> from drills.theory.scale import read_scale
    >>> mode_words(*read_scale("Eb lydian dominant")), mode_words(*read_scale("C half-whole"))
    ('E♭ lydian dominant, that is B♭ melodic minor', 'C half-whole')
    """
    parent, *_ = family = _family(mode)
    own = scale_words(tonic, mode)
    if mode == parent or len(mode.steps) != len(family):
        return own
    return f"{own}, that is {scale_words(_parent_tonic(tonic, mode, family), parent)}"


def mode_above(mode: Scale) -> Scale | None:
    """The mode one step further up its parent; None for scales that are not told apart by modes."""
    family = _family(mode)
    if len(mode.steps) != len(family):
        return None
    return family[(family.index(mode) + 1) % len(family)]


def is_one_colour(mode: Scale) -> bool:
    """Whether players hear no note of its parent as one to avoid: melodic minor, and what is symmetrical."""
    return _family(mode)[0].name == "melodic minor" or mode_above(mode) is None


def seventh_chord(mode: Scale) -> tuple[Degree, ...]:
    """The first, third, fifth and seventh note of a mode."""
    return tuple(read_degree(step) for step in mode.steps[::2])


def _family(mode: Scale) -> tuple[Scale, ...]:
    """The modes of one parent, from the parent itself up."""
    return tuple(scale for scale in SCALES if scale.parent == mode.parent)


def _parent_tonic(tonic: NoteName, mode: Scale, family: tuple[Scale, ...]) -> NoteName:
    note = mode.notes(tonic)[-family.index(mode) % len(family)]
    if family[0].name == "ionian":
        return chart_name(note)
    if note.plain in _SELDOM_MINOR_TONICS or abs(note.alter_semitones) > 1:
        return habit_root(note.pitch_class, "minor")
    return note
