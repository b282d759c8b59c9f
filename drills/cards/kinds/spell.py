"""spell: a chord and its layers are named; which notes, from low to high?"""

from __future__ import annotations

from drills.cards import words
from drills.cards.answer import whole_answer
from drills.cards.card import Face
from drills.cards.dealt import Dealt
from drills.cards.subject import Subject
from drills.cards.task import NotesTask


def make(subject: Subject) -> Dealt:
    """Asks for the notes; any spelling that sounds right counts."""
    front = Face(
        words.chord_head(subject),
        head_note=words.head_note(subject),
        layers=words.asked_lines(subject),
        ask="Which notes, from low to high?",
    )
    names = tuple(name.shown for name in subject.sounding.names)
    task = NotesTask(subject.sounding.midi, names)
    return Dealt(front, whole_answer(subject), task, subject.sounding)
