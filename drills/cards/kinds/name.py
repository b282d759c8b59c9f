"""name: a neck without degrees, the root said; which chord, which layers?"""

from __future__ import annotations

from drills.cards.answer import whole_answer
from drills.cards.card import Face
from drills.cards.dealt import Dealt
from drills.cards.parts import naming_task, other_readings
from drills.cards.picture import picture_of
from drills.cards.subject import Subject
from drills.theory.naming import Named

MOST_OTHER_READINGS = 3


def make(subject: Subject) -> Dealt:
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
        ask=_question(subject),
    )
    others = _nearest_others(subject)
    back = whole_answer(subject, *([f"also heard as {', '.join(others)}"] if others else []))
    task = naming_task(subject, reversed(subject.layers))
    return Dealt(front, back, task, subject.sounding, sounds_root=True)


def _question(subject: Subject) -> str:
    if subject.chord is not None:
        return "Which chord, which layers?"
    has_inversion = subject.layers[0].name.inversion is not None
    return "Which layer, which inversion?" if has_inversion else "Which degrees, from low to high?"


def _nearest_others(subject: Subject) -> tuple[str, ...]:
    """The nearest other names of the same notes, over other roots."""
    if subject.is_single_layer:
        return ()
    nearest = other_readings(subject)[:MOST_OTHER_READINGS]
    named = Named(subject.sounding, subject.reading, nearest)
    return tuple(shown for _, shown, _ in named.also_named)
