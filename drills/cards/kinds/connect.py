"""connect: a grip is shown, and the chord that comes next is named; where is its nearest grip?"""

from __future__ import annotations

from drills.cards import words
from drills.cards.answer import neck_of, whole_answer
from drills.cards.card import Face
from drills.cards.dealt import Dealt
from drills.cards.subject import Subject
from drills.cards.task import NeckTask


def make(subject: Subject) -> Dealt | None:
    """Asks for the next chord, shown is the grip before it; the answer says what each voice does."""
    after = subject.next
    if after is None:
        return None
    there = words.chord_head(after)
    front = Face(
        there,
        head_note=words.head_note(after),
        layers=words.asked_lines(after),
        lines=(words.strings_words(after, after.grip.strings),),
        ask=f"From this {words.chord_head(subject)}, where is the nearest {there}?",
        picture=neck_of(subject),
    )
    back = whole_answer(after, words.voices_words(subject.sounding, after.sounding))
    task = NeckTask("frets", (after.grip.frets,), after.grip.strings)
    return Dealt(front, back, task, after.sounding)
