"""What a drill makes of a subject: question, answer, and what the answer has to be and to sound."""

from __future__ import annotations

from dataclasses import dataclass

from drills.cards.card import Face, SoundSpec, ToneNames
from drills.cards.task import Task
from drills.theory.reading import twelve_degrees
from drills.theory.voicing import PitchedVoicing

_LOWEST_ROOT_MIDI = 36
"""C2: a phone hardly sounds a root below it."""


@dataclass(frozen=True, slots=True)
class Dealt:
    """One question and its answer.

    Attributes:
        front, back: the faces.
        task: what the answer has to be; None where only the student can judge.
        answer: what the answer sounds, over the root that its notes are called from.
        sounds_root: the root is heard before it.
    """

    front: Face
    back: Face
    task: Task | None
    answer: PitchedVoicing
    sounds_root: bool = False

    @property
    def sound(self) -> SoundSpec:
        """The answer as it sounds, after its root where that is heard."""
        midi = self.answer.midi
        return SoundSpec(midi, _root_below(self.answer) if self.sounds_root else None)

    @property
    def names(self) -> ToneNames:
        """The twelve notes over the answer's root; those of the answer as its face calls them."""
        by_class = {note.midi % 12: note.name for layer in self.back.notes for note in layer}
        root, degrees = self.answer.root, twelve_degrees(self.answer.voicing.degrees)
        in_order = [degrees[(pitch_class - root.pitch_class) % 12] for pitch_class in range(12)]
        notes = tuple(by_class.get(place, each.over(root).shown) for place, each in enumerate(in_order))
        return ToneNames(notes, tuple(each.shown for each in in_order))


def _root_below(answer: PitchedVoicing) -> int:
    """The root at the lowest note or next below it, in a register that a phone can sound."""
    lowest = answer.midi[0]
    root_midi = lowest - (lowest - answer.root.pitch_class) % 12
    return root_midi if root_midi >= _LOWEST_ROOT_MIDI else root_midi + 12
