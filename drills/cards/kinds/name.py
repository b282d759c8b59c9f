"""name: a neck without degrees, the root said; which chord, which layers?"""

from __future__ import annotations

from drills.cards.answer import whole_answer
from drills.cards.card import Face
from drills.cards.picture import picture_of
from drills.cards.subject import Subject
from drills.theory.naming import Named, readings

MOST_OTHER_READINGS = 3


def make(subject: Subject) -> tuple[Face, Face]:
    """Asks for the chord and the layers; every correct reading counts."""
    front = Face(
        f"over {subject.root.shown}",
        picture=picture_of(
            subject.sounding,
            subject.grip.frets,
            subject.instrument,
            is_left_handed=subject.is_left_handed,
            hide_degrees=True,
        ),
        ask="Which layer, which inversion?" if subject.chord is None else "Which chord, which layers?",
    )
    others = _other_readings(subject)
    return front, whole_answer(subject, *([f"also heard as {', '.join(others)}"] if others else []))


def _other_readings(subject: Subject) -> tuple[str, ...]:
    """The nearest other names of the same notes, over other roots."""
    if subject.is_single_layer:
        return ()
    own = subject.voicing.lowest_over_root_semitones
    rest = tuple(
        each
        for each in readings(subject.voicing.heights_semitones)
        if each.lowest_over_root_semitones != own and not each.clashes
    )
    named = Named(subject.sounding, subject.reading, rest[:MOST_OTHER_READINGS])
    return tuple(shown for _, shown, _ in named.also_named)
