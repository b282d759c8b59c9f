"""spell: a chord and its layers are named; which notes, from low to high?"""

from __future__ import annotations

from drills.cards import words
from drills.cards.answer import whole_answer
from drills.cards.card import Face
from drills.cards.subject import Subject


def make(subject: Subject) -> tuple[Face, Face]:
    """Asks for the notes; any spelling that sounds right counts."""
    front = Face(
        words.chord_head(subject),
        head_note=words.head_note(subject),
        layers=words.asked_lines(subject),
        ask="Which notes, from low to high?",
    )
    return front, whole_answer(subject)
