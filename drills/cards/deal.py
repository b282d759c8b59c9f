"""From subjects to cards: each drill asked of each subject, every card once."""

from __future__ import annotations

from drills.cards.card import Card
from drills.cards.identity import identity
from drills.cards.kinds import drill as drill_maker
from drills.cards.subject import Subject


def deal(subject: Subject, drill: str) -> Card | None:
    """One card, or None where the drill does not apply to the subject."""
    faces = drill_maker(drill)(subject)
    if faces is None:
        return None
    front, back = faces
    tags = () if subject.week is None else (f"week-{subject.week}",)
    return Card(identity(subject, drill), drill, subject.root.shown, label(subject), front, back, tags)


def label(subject: Subject) -> str:
    """Plain words for the names of pictures: chord, key and grip, such as "Eb13#11 x-4-5-5-6-5"."""
    frets = "-".join("x" if fret is None else str(fret) for fret in subject.grip.frets)
    if subject.chord is not None:
        return f"{subject.chord.plain} {frets}"
    layer = subject.layers[0]
    root = subject.sounding.layer_root(layer) or subject.root
    return f"{root.plain} {layer.name.structure} in {subject.root.plain} {frets}"
