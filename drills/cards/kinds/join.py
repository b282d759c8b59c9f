"""join: two layers over a root; which chord do they make, and what is each upper note in it?"""

from __future__ import annotations

from drills.cards import words
from drills.cards.answer import whole_answer
from drills.cards.card import Face
from drills.cards.dealt import Dealt
from drills.cards.parts import chord_readings, degree_parts
from drills.cards.subject import Subject
from drills.cards.task import PartsTask


def make(subject: Subject) -> Dealt | None:
    """Asks for the chord and for the degrees of the upper layer's notes."""
    if subject.is_single_layer or subject.chord is None:
        return None
    front = Face(
        f"over {subject.root.shown}",
        head_note=words.head_note(subject),
        layers=words.asked_lines(subject),
        ask="Which chord? What is each upper note in it?",
    )
    upper = subject.layers[-1].places
    pairs = zip(subject.sounding.names[upper], subject.voicing.degrees[upper], strict=True)
    answer = ", ".join(f"{name.shown} is {degree.shown}" for name, degree in pairs)
    task = PartsTask(subject.root.pitch_class, chord_readings(subject), degrees=degree_parts(subject, upper))
    return Dealt(front, whole_answer(subject, answer), task, subject.sounding)
