"""What an answer has to be: the question of a card as data that a page can put and check by itself.

Conventions: strings are counted from the lowest sounding string, 0, upwards; frets run from the lowest
string to the highest, None is not played; pitch classes are counted from C, 0 to 11; all text is in the
shown form. `quality`, `needs`, `allows`, `structure` and `inversion` are places in the lists of
`drills/cards/pads.py`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from drills.neck.grip import Frets
from drills.theory.voicing import Role


@dataclass(frozen=True, slots=True)
class NeckTask:
    """Notes to be put on the neck.

    Attributes:
        by: by frets, one of `accepts` is right; by pitches, whatever sounds like the first of them.
        accepts: frets that are right; the answer shows the first.
        strings: the strings that the question says; empty where it says none.
        start: frets that lie there from the beginning and may be moved; None for an empty neck.
        fixed: strings whose note at the start stays.
    """

    by: Literal["frets", "pitches"]
    accepts: tuple[Frets, ...]
    strings: tuple[int, ...] = ()
    start: Frets | None = None
    fixed: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class ChordReading:
    """One right name of a chord, in parts.

    Right is its root with its quality and tensions that hold all of `needs`, and none but those and `allows`.
    """

    root: int
    text: str
    quality: int
    needs: tuple[int, ...]
    allows: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class LayerParts:
    """The name of a layer, in parts.

    Attributes:
        role: where it lies.
        root: the pitch class of its root.
        other_roots: roots that are right as well, of a layer that divides the octave evenly.
        structure: such as major triad.
        inversion: None where it is not asked, since the layer stands on its lowest note or has no one root.
        text: the name in full.
    """

    role: Role
    root: int
    other_roots: tuple[int, ...]
    structure: int
    inversion: int | None
    text: str


@dataclass(frozen=True, slots=True)
class DegreePart:
    """A note whose degree is asked: what it is called, and what it is; semitones are above the root."""

    name: str
    semitones: int
    text: str


@dataclass(frozen=True, slots=True)
class PartsTask:
    """A chord, layers or degrees to be named in parts.

    Attributes:
        root_said: the root that the question says.
        readings: every right name of the chord, the card's own first; empty where no chord is asked.
        layers: the layers to be named.
        degrees: the notes whose degrees are asked, low to high.
    """

    root_said: int
    readings: tuple[ChordReading, ...] = ()
    layers: tuple[LayerParts, ...] = ()
    degrees: tuple[DegreePart, ...] = ()


@dataclass(frozen=True, slots=True)
class NotesTask:
    """Notes to be spelled, low to high; any spelling that sounds right counts."""

    midi: tuple[int, ...]
    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DegreesTask:
    """Degrees to be told, low to high."""

    asked: tuple[DegreePart, ...]


@dataclass(frozen=True, slots=True)
class ChoiceTask:
    """One of a few; `right` is its place among the options."""

    options: tuple[str, ...]
    right: int


Task: TypeAlias = NeckTask | PartsTask | NotesTask | DegreesTask | ChoiceTask
