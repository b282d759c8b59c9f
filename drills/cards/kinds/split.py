"""split: a chord and one of its layers; which is the other layer?"""

from __future__ import annotations

from drills.cards import words
from drills.cards.answer import whole_answer
from drills.cards.card import Face, LayerLine
from drills.cards.dealt import Dealt
from drills.cards.parts import degree_parts, layer_parts
from drills.cards.subject import Subject
from drills.cards.task import DegreesTask, PartsTask, Task
from drills.theory.voicing import Layer

_FAMILY_WORDS = {
    "triad": "triad",
    "stack": "stack",
    "sus": "sus triad",
    "shell": "shell",
    "cluster": "cluster",
    "seventh chord": "seventh chord",
}
_COUNT_WORDS = {1: "note", 2: "two notes", 3: "three notes", 4: "four notes"}


def make(subject: Subject) -> Dealt | None:
    """Asks for one layer, going round with the keys; says enough that only one layer fits."""
    if subject.is_single_layer:
        return None
    hidden = subject.layers[-1 - subject.alternate(len(subject.layers))]
    front = Face(
        words.chord_head(subject),
        head_note=words.head_note(subject),
        layers=tuple(
            LayerLine(layer.role, words.layer_with_degrees(subject, layer))
            for layer in reversed(subject.layers)
            if layer != hidden
        ),
        ask=_question(subject, hidden),
    )
    answer = f"{words.where_word(hidden)}: {words.layer_with_degrees(subject, hidden)}"
    return Dealt(front, whole_answer(subject, answer), _task(subject, hidden), subject.sounding)


def _task(subject: Subject, hidden: Layer) -> Task:
    """The layer by its name, or by its degrees where it has none."""
    layers = layer_parts(subject, [hidden])
    if layers:
        return PartsTask(subject.root.pitch_class, layers=layers)
    return DegreesTask(degree_parts(subject, hidden.places))


def _question(subject: Subject, hidden: Layer) -> str:
    start = subject.degrees(hidden)[0].shown
    what = _FAMILY_WORDS.get(hidden.name.family, "")
    what = f"{hidden.name.spacing} {what}" if what else _COUNT_WORDS[hidden.last - hidden.first]
    verb = "lie" if what.endswith("notes") else "lies"
    if hidden.last - hidden.first == 1:
        return f"Which single note lies {words.where_word(hidden)}?"
    return f"Which {what} {verb} {words.where_word(hidden)}, from the {start} up?"
