"""hear: a root sounds, then a voicing over it; which chord, and which layer on top, of at most six?"""

from __future__ import annotations

from drills.cards.answer import whole_answer
from drills.cards.by_ear import choices
from drills.cards.card import Face
from drills.cards.dealt import Dealt
from drills.cards.subject import Subject
from drills.cards.task import ChoiceTask


def make(subject: Subject) -> Dealt | None:
    """Asks the ear alone; of a layer by itself for its structure and form."""
    found = choices(subject)
    if found is None:
        return None
    right, options = found
    front = Face(
        f"over {subject.root.shown}",
        lines=options,
        ask="Which layer is it, in which form?"
        if subject.is_single_layer
        else "Which chord, which layer on top?",
    )
    back = whole_answer(subject, right)
    return Dealt(front, back, ChoiceTask(options, options.index(right)), subject.sounding, sounds_root=True)
