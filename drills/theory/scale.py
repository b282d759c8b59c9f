"""Parent scales and their modes, which chords they serve, and their avoid notes.

Conventions: a scale is written as degrees over its tonic, in scale-step form (1 2 ♭3 4 …); avoid
notes are named as tensions over the chord's root (♭9 11 ♭13), bare: the rule's result, whatever a
handbook goes on to accept.
Source: Nettles and Graf, The Chord Scale Theory and Jazz Harmony (1997), from memory, for modes and
the avoid-note rule; the octatonic and whole-tone scales are definitions.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from drills.errors import DrillsError
from drills.theory.chord import Chord
from drills.theory.degree import Degree
from drills.theory.pitch import NoteName, plain_sign, plain_signs, read_note_name
from drills.theory.words import nearest

_PARENTS = (
    (
        ("ionian", "1 2 3 4 5 6 7"),
        ("dorian", "1 2 b3 4 5 6 b7"),
        ("phrygian", "1 b2 b3 4 5 b6 b7"),
        ("lydian", "1 2 3 #4 5 6 7"),
        ("mixolydian", "1 2 3 4 5 6 b7"),
        ("aeolian", "1 2 b3 4 5 b6 b7"),
        ("locrian", "1 b2 b3 4 b5 b6 b7"),
    ),
    (
        ("melodic minor", "1 2 b3 4 5 6 7"),
        ("dorian b2", "1 b2 b3 4 5 6 b7"),
        ("lydian augmented", "1 2 3 #4 #5 6 7"),
        ("lydian dominant", "1 2 3 #4 5 6 b7"),
        ("mixolydian b6", "1 2 3 4 5 b6 b7"),
        ("locrian #2", "1 2 b3 4 b5 b6 b7"),
        ("altered", "1 b2 b3 b4 b5 b6 b7"),
    ),
    (
        ("harmonic minor", "1 2 b3 4 5 b6 7"),
        ("locrian 6", "1 b2 b3 4 b5 6 b7"),
        ("ionian #5", "1 2 3 4 #5 6 7"),
        ("dorian #4", "1 2 b3 #4 5 6 b7"),
        ("phrygian dominant", "1 b2 3 4 5 b6 b7"),
        ("lydian #2", "1 #2 3 #4 5 6 7"),
        ("altered bb7", "1 b2 b3 b4 b5 b6 bb7"),
    ),
    (
        ("harmonic major", "1 2 3 4 5 b6 7"),
        ("dorian b5", "1 2 b3 4 b5 6 b7"),
        ("phrygian b4", "1 b2 b3 b4 5 b6 b7"),
        ("lydian b3", "1 2 b3 #4 5 6 7"),
        ("mixolydian b2", "1 b2 3 4 5 6 b7"),
        ("lydian augmented #2", "1 #2 3 #4 #5 6 7"),
        ("locrian bb7", "1 b2 b3 4 b5 b6 bb7"),
    ),
    (
        ("half-whole", "1 b2 b3 3 #4 5 6 b7"),
        ("whole-half", "1 2 b3 4 b5 b6 6 7"),
    ),
    (("whole-tone", "1 2 3 #4 #5 b7"),),
)

_OTHER_NAMES = {
    "major": "ionian",
    "minor": "aeolian",
    "natural minor": "aeolian",
    "jazz minor": "melodic minor",
    "locrian natural 2": "locrian #2",
    "locrian natural 6": "locrian 6",
    "super locrian": "altered",
    "superlocrian": "altered",
    "mixolydian b9 b13": "phrygian dominant",
    "mixolydian #11": "lydian dominant",
    "lydian b7": "lydian dominant",
    "mixolydian b13": "mixolydian b6",
    "mixolydian b9": "mixolydian b2",
    "ionian augmented": "ionian #5",
    "dorian #11": "dorian #4",
    "lydian #9": "lydian #2",
    "super-locrian": "altered",
    "diminished whole-tone": "altered",
    "aeolian b5": "locrian #2",
    "dorian b9": "dorian b2",
    "phrygian natural 6": "dorian b2",
    "lydian #5": "lydian augmented",
    "mixolydian #4": "lydian dominant",
    "ionian b6": "harmonic major",
    "half whole": "half-whole",
    "half-whole diminished": "half-whole",
    "dominant diminished": "half-whole",
    "whole half": "whole-half",
    "whole-half diminished": "whole-half",
    "diminished": "whole-half",
    "whole tone": "whole-tone",
}

# Which scales players reach for first over each kind of chord (common practice, no source).
_USUAL = {
    "major": ("ionian", "lydian", "lydian augmented", "lydian #2", "harmonic major", "ionian #5"),
    "dominant": (
        "mixolydian",
        "lydian dominant",
        "altered",
        "half-whole",
        "phrygian dominant",
        "mixolydian b6",
        "mixolydian b2",
        "whole-tone",
    ),
    "sus": ("mixolydian", "dorian b2", "phrygian", "mixolydian b6", "dorian", "aeolian", "ionian"),
    "augmented": ("whole-tone", "lydian augmented", "ionian #5"),
    "minor": (
        "dorian",
        "aeolian",
        "phrygian",
        "melodic minor",
        "harmonic minor",
        "dorian b2",
        "dorian #4",
        "lydian b3",
    ),
    "half-diminished": ("locrian", "locrian #2", "locrian 6", "dorian b5"),
    "diminished": ("whole-half", "altered bb7", "locrian bb7", "locrian", "locrian #2"),
}


@dataclass(frozen=True, slots=True)
class Scale:
    """A scale or mode, free of key.

    Attributes:
        name: its trade name.
        steps: plain degrees in scale-step form, tonic first.
        parent: number of the parent family; modes of one family share it.
    """

    name: str
    steps: tuple[str, ...]
    parent: int

    @property
    def semitones(self) -> tuple[int, ...]:
        """Each step above the tonic, rising, 0 first."""
        return tuple(_step(text).semitones for text in self.steps)

    def notes(self, tonic: NoteName) -> tuple[NoteName, ...]:
        """The scale's notes from a tonic, one letter a step as far as the scale allows."""
        return tuple(_step(text).over(tonic) for text in self.steps)

    def avoid(self, chord_tones: tuple[Degree, ...]) -> tuple[str, ...]:
        """Its notes a half step above a chord tone, as tensions over the chord's root.

        Args:
            chord_tones: the chord's 1 3 5 7 (4 for 3 in a sus chord), tensions left out.
        """
        tones = {each.semitones for each in chord_tones}
        heard = set(self.semitones)
        return tuple(
            _tension(text)
            for text in self.steps
            if (low := _step(text).semitones) not in tones and (low - 1) % 12 in tones & heard
        )


def _step(text: str) -> Degree:
    bare = text.lstrip("b#")
    return Degree(int(bare), text.count("#") - text.count("b"))


def _tension(text: str) -> str:
    if text == "b4":
        return "3"
    step = _step(text)
    number = {2: 9, 4: 11, 6: 13}.get(step.number, step.number)
    return f"{plain_sign(step.alter_semitones)}{number}"


SCALES = tuple(
    Scale(name, tuple(steps.split()), parent)
    for parent, modes in enumerate(_PARENTS)
    for name, steps in modes
)
"""Every scale and mode we know, parents in order."""

_BY_NAME = {scale.name: scale for scale in SCALES}


def read_scale(text: str, *, where: str = "") -> tuple[NoteName, Scale]:
    """A scale with its tonic, such as "F major", "D dorian" or "C half-whole".

    >>> tonic, scale = read_scale("C melodic minor")
    >>> [note.plain for note in scale.notes(tonic)]
    ['C', 'D', 'Eb', 'F', 'G', 'A', 'B']
    """
    tonic_text, _, name = plain_signs(text.strip()).partition(" ")
    wanted = " ".join(name.lower().split())
    scale = _BY_NAME.get(_OTHER_NAMES.get(wanted, wanted))
    if scale is None:
        known = (*_BY_NAME, *_OTHER_NAMES)
        mend = f"write a tonic and a scale, such as C {nearest(wanted, known) or 'major'}"
        raise DrillsError(f"no scale named {text!r}", where=where, mend=mend)
    return read_note_name(tonic_text, where=where), scale


def guide_tones(chord: Chord) -> tuple[Degree, ...]:
    """The chord's 1 3 5 7, with the fourth of a sus chord in place of the third."""
    return tuple(each for each in chord.degrees if each.number in (1, 3, 4, 5, 7))


@lru_cache(maxsize=1024)
def scales_for(chord: Chord) -> tuple[Scale, ...]:
    """The scales that hold the whole chord, the usual ones first.

    An altered ninth leaves the fifth of a dominant open: scales without it follow those that have it.
    """
    needed = {each.semitones for each in chord.degrees}
    quality = chord.symbol.quality
    has_open_fifth = quality == "dominant" and needed & {1, 3}
    holding = [scale for scale in SCALES if needed <= set(scale.semitones)]
    if has_open_fifth:
        holding += [scale for scale in SCALES if needed - set(scale.semitones) == {7}]
    order = {name: place for place, name in enumerate(_USUAL[quality])}
    usual = [scale for scale in holding if scale.name in order]
    usual.sort(key=lambda scale: (not needed <= set(scale.semitones), order[scale.name]))
    return tuple(usual or holding)
