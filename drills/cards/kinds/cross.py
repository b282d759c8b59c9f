"""cross: a grip is shown; where do the same notes lie on the next string set?"""

from __future__ import annotations

from drills.cards import words
from drills.cards.answer import neck_of, whole_answer
from drills.cards.card import Face
from drills.cards.dealt import Dealt
from drills.cards.relative import crossed
from drills.cards.subject import Subject
from drills.cards.task import NeckTask


def make(subject: Subject) -> Dealt | None:
    """Asks for the same notes, in the same octave, one string set further."""
    after = crossed(subject)
    if after is None:
        return None
    here = words.strings_words(subject, subject.grip.strings)
    there = words.strings_words(after, after.grip.strings)
    front = Face(
        words.chord_head(subject),
        head_note=words.head_note(subject),
        lines=(f"here on {here}",),
        ask=f"Where do the very same notes lie on {there}?",
        picture=neck_of(subject),
    )
    task = NeckTask("frets", (after.grip.frets,), after.grip.strings)
    return Dealt(front, whole_answer(after, f"the same notes on {there}"), task, after.sounding)
