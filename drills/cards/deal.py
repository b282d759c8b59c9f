"""From subjects to cards: each drill asked of each subject, every card once."""

from __future__ import annotations

from drills.cards.card import Card, Quiz, VoicingWords
from drills.cards.identity import identity
from drills.cards.kinds import drill as drill_maker
from drills.cards.subject import Subject


def deal(subject: Subject, drill: str) -> Card | None:
    """One card, or None where the drill does not apply to the subject."""
    made = drill_maker(drill)(subject)
    if made is None:
        return None
    tags = () if subject.week is None else (f"week-{subject.week}",)
    quiz = Quiz(
        made.task,
        made.sound,
        made.names,
        subject.root.pitch_class,
        voicing_words(subject),
        is_layer=drill == "layer" or subject.is_single_layer,
    )
    own = identity(subject, drill)
    return Card(own, drill, subject.root.shown, label(subject), made.front, made.back, tags, quiz)


def voicing_words(subject: Subject) -> VoicingWords:
    """A voicing free of key: its nickname or its kind of chord or layer, and its degrees."""
    if subject.chord is None:
        kind = " over ".join(layer.name.structure for layer in reversed(subject.layers))
    else:
        kind = subject.chord.symbol.shown or "major"
    return VoicingWords(subject.nickname or kind, f"{kind} · {subject.voicing.shown}")


def label(subject: Subject) -> str:
    """Plain words for the names of pictures: chord, key and grip, such as "Eb13#11 x-4-5-5-6-5"."""
    frets = "-".join("x" if fret is None else str(fret) for fret in subject.grip.frets)
    if subject.chord is not None:
        return f"{subject.chord.plain} {frets}"
    layer = subject.layers[0]
    root = subject.sounding.layer_root(layer) or subject.root
    return f"{root.plain} {layer.name.structure} in {subject.root.plain} {frets}"
