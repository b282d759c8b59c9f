"""connect: a grip is shown, and the chord that comes next is named; where is its nearest grip?"""

from __future__ import annotations

from drills.cards import words
from drills.cards.answer import neck_of, whole_answer
from drills.cards.card import Face
from drills.cards.subject import Subject


def make(subject: Subject) -> tuple[Face, Face] | None:
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
    return front, whole_answer(after, words.voices_words(subject.sounding, after.sounding))
