"""top: a melody note and a chord; what lies under it?"""

from __future__ import annotations

from dataclasses import replace

from drills.cards import words
from drills.cards.answer import neck_of, whole_answer
from drills.cards.card import Face, LayerLine
from drills.cards.dealt import Dealt
from drills.cards.subject import Subject
from drills.cards.task import NeckTask
from drills.theory.voicing import Layer

_FEWEST_NOTES = 3


def make(subject: Subject) -> Dealt | None:
    """Asks for the voicing under its highest note; says of the layers what makes it the only one."""
    if len(subject.voicing.degrees) < _FEWEST_NOTES:
        return None
    neck = neck_of(subject)
    degree, name = subject.voicing.degrees[-1].shown, subject.sounding.names[-1].shown
    tone = "root" if degree == "1" else degree
    front = Face(
        words.chord_head(subject),
        head_note=words.head_note(subject),
        layers=tuple(LayerLine(layer.role, _kind(subject, layer)) for layer in reversed(subject.layers)),
        lines=(words.strings_words(subject, subject.grip.strings),),
        ask=f"The melody is {name}, the {tone}. What lies under it?",
        picture=replace(neck, markers=neck.markers[-1:], muted=()),
    )
    *under, melody = subject.grip.strings
    start = tuple(None if string in under else fret for string, fret in enumerate(subject.grip.frets))
    task = NeckTask("frets", (subject.grip.frets,), subject.grip.strings, start, (melody,))
    return Dealt(front, whole_answer(subject), task, subject.sounding)


def _kind(subject: Subject, layer: Layer) -> str:
    """A layer without its root: what it is, and where it starts unless the melody says that."""
    form = words.layer_form(layer)
    kind = ", ".join(part for part in (layer.name.structure, form) if part)
    if subject.is_single_layer:
        return layer.name.spacing if _is_told_by_its_top(layer) else form
    if layer == subject.layers[-1] and form:
        return kind
    return f"{kind}, from the {subject.degrees(layer)[0].shown} up"


def _is_told_by_its_top(layer: Layer) -> bool:
    """Whether spacing and highest note leave one form only: three notes, not wide."""
    return layer.last - layer.first == _FEWEST_NOTES and layer.name.spacing != "wide"
