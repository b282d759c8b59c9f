"""spot: a neck with one marker empty; which degree is it?"""

from __future__ import annotations

from drills.cards.answer import whole_answer
from drills.cards.card import Face
from drills.cards.picture import picture_of
from drills.cards.subject import Subject


def make(subject: Subject) -> tuple[Face, Face]:
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
    return front, whole_answer(subject, f"{degrees[asked].shown}, {subject.sounding.names[asked].shown}")
