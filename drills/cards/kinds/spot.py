"""spot: a neck with one marker empty; which degree is it?"""

from __future__ import annotations

from drills.cards.answer import whole_answer
from drills.cards.card import Face
from drills.cards.dealt import Dealt
from drills.cards.parts import degree_parts
from drills.cards.picture import picture_of
from drills.cards.subject import Subject
from drills.cards.task import DegreesTask


def make(subject: Subject) -> Dealt:
    """Asks for the degree of one note other than the root, going round with the keys."""
    degrees = subject.voicing.degrees
    candidates = [note for note, degree in enumerate(degrees) if degree.semitones] or [0]
    asked = candidates[subject.alternate(len(candidates))]
    front = Face(
        f"over {subject.root.shown}",
        picture=picture_of(
            subject.sounding,
            subject.grip.frets,
            subject.instrument,
            is_left_handed=subject.is_left_handed,
            asked=asked,
        ),
        ask="Which degree is missing?",
    )
    back = whole_answer(subject, f"{degrees[asked].shown}, {subject.sounding.names[asked].shown}")
    task = DegreesTask(degree_parts(subject, slice(asked, asked + 1)))
    return Dealt(front, back, task, subject.sounding)
