"""turn: a grip is shown; where does its next inversion lie on the same strings?"""

from __future__ import annotations

from drills.cards import words
from drills.cards.answer import neck_of, whole_answer
from drills.cards.card import Face
from drills.cards.dealt import Dealt
from drills.cards.relative import turned
from drills.cards.subject import Subject
from drills.cards.task import NeckTask


def make(subject: Subject) -> Dealt | None:
    """Asks for the next inversion, every note gone up to the next one of the voicing on its string."""
    after = turned(subject)
    if after is None:
        return None
    front = Face(
        words.chord_head(subject),
        head_note=words.head_note(subject),
        lines=("every note goes up to the next one of the voicing",),
        ask="Where does the next inversion lie, on the same strings?",
        picture=neck_of(subject),
    )
    back = whole_answer(after, words.voices_words(subject.sounding, after.sounding))
    task = NeckTask("pitches", (after.grip.frets,), after.grip.strings)
    return Dealt(front, back, task, after.sounding)
