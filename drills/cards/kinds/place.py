"""place: a chord and its layers are named; where do they lie on the neck?"""

from __future__ import annotations

from drills.cards import words
from drills.cards.answer import whole_answer
from drills.cards.card import Face
from drills.cards.dealt import Dealt
from drills.cards.subject import Subject
from drills.cards.task import NeckTask


def make(subject: Subject) -> Dealt:
    """Asks for the grip; any grip that sounds the voicing counts."""
    front = Face(
        words.chord_head(subject),
        head_note=words.head_note(subject),
        layers=words.asked_lines(subject),
        lines=(words.strings_words(subject, subject.grip.strings),),
        ask="Where does it lie?",
    )
    accepts = (subject.grip.frets, *(other.frets for other in subject.others))
    task = NeckTask("frets", accepts, subject.grip.strings)
    return Dealt(front, whole_answer(subject), task, subject.sounding)
