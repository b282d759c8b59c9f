"""twin: two grips look alike; which note differs, and which chord does it make?"""

from __future__ import annotations

from drills.cards import words
from drills.cards.answer import neck_of, whole_answer
from drills.cards.card import Face
from drills.cards.dealt import Dealt
from drills.cards.parts import naming_task
from drills.cards.subject import Subject


def make(subject: Subject) -> Dealt | None:
    """Shows one grip and gives the frets of the other; the answer is the note and the other chord."""
    twin = subject.twin
    if twin is None:
        return None
    front = Face(
        words.chord_head(subject),
        head_note=words.head_note(subject),
        lines=(f"its twin: frets {twin.grip.text}, over {twin.root.shown}",),
        ask="Which note differs, and what does it make?",
        picture=neck_of(subject),
    )
    task = naming_task(twin, twin.layers if twin.chord is None else ())
    return Dealt(front, whole_answer(twin, _difference(subject, twin)), task, twin.sounding)


def _difference(subject: Subject, twin: Subject) -> str:
    """The note that differs, before and after, with its degrees."""
    note = next(
        note
        for note, (one, two) in enumerate(zip(subject.sounding.midi, twin.sounding.midi, strict=True))
        if one != two
    )
    (old, old_degree), (new, new_degree) = (
        (each.sounding.names[note].shown, each.voicing.degrees[note].shown) for each in (subject, twin)
    )
    if subject.root.pitch_class == twin.root.pitch_class:
        return f"{old} → {new}: the {old_degree} becomes the {new_degree}"
    return f"{old} → {new}: the {old_degree} of {subject.root.shown}, the {new_degree} of {twin.root.shown}"
