"""A voicing stepped through its scale, up to the octave: what it becomes, and where that lies."""

from __future__ import annotations

from dataclasses import dataclass

from drills.cards.kinds.step import scale_of
from drills.cards.mode import mode_words
from drills.cards.relative import relative
from drills.cards.subject import Subject
from drills.theory.motion.step import step
from drills.theory.naming import chord_of


@dataclass(frozen=True, slots=True)
class Stepped:
    """A voicing on its way up.

    Attributes:
        scale: its name and its parent's.
        steps: the name of each voicing, and where it is held; None where no hand holds it.
    """

    scale: str
    steps: tuple[tuple[str, Subject | None], ...]


def stepped_through(subject: Subject) -> Stepped | None:
    """The steps after the voicing itself, below its octave; None where no usual scale holds it."""
    scale = scale_of(subject)
    if scale is None:
        return None
    steps = []
    for number in range(1, len(scale.steps)):
        named = step(subject.named, subject.root, scale, number).named
        head = named.sounding.layer_words(named.layers[0])
        if subject.chord is not None:
            head = chord_of(named.reading, named.root).shown
        steps.append((head, relative(subject, named)))
    return Stepped(mode_words(subject.root, scale), tuple(steps))
