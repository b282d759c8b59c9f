"""Voicings: degrees at fixed heights, in layers, free of key; and the same over a sounding root.

Conventions: notes run from low to high; heights are semitones above the lowest note; `sizes` counts
the notes of each layer, lowest layer first.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate, pairwise
from typing import Literal, TypeAlias

from drills.errors import DrillsError
from drills.theory.chord import chart_name, habit_root
from drills.theory.degree import Degree
from drills.theory.layer import LARGEST_LAYER, LayerName, name_layer
from drills.theory.pitch import NoteName, Pitch
from drills.theory.symbol import Quality

Role: TypeAlias = Literal["lower", "middle", "upper", "single"]

DEFAULT_SIZES = {1: (1,), 2: (2,), 3: (3,), 4: (2, 2), 5: (2, 3), 6: (3, 3), 7: (3, 4), 8: (4, 4)}
"""How a voicing without a bar falls into layers."""

MOST_NOTES = 8

_ROLES: dict[int, tuple[Role, ...]] = {
    1: ("single",),
    2: ("lower", "upper"),
    3: ("lower", "middle", "upper"),
}


def checked_sizes(sizes: tuple[int, ...], *, where: str = "") -> tuple[int, ...]:
    """The layer sizes, or an error where no name could be given to them."""
    if len(sizes) > len(_ROLES):
        raise DrillsError(f"{len(sizes)} layers are too many", where=where, mend="use at most three layers")
    if 0 in sizes:
        raise DrillsError(
            "a layer is empty", where=where, mend="write at least one note on each side of a bar"
        )
    if max(sizes) > LARGEST_LAYER:
        mend = "put a bar | so that no layer has more than four"
        raise DrillsError(f"a layer of {max(sizes)} notes is too large", where=where, mend=mend)
    return sizes


@dataclass(frozen=True, slots=True)
class Layer:
    """A layer inside a voicing.

    Attributes:
        role: lower, middle, upper, or single where there is only one.
        first, last: places of its notes in the voicing, last excluded.
        name: what it is.
    """

    role: Role
    first: int
    last: int
    name: LayerName

    @property
    def places(self) -> slice:
        """Its notes as a slice of the voicing's notes."""
        return slice(self.first, self.last)


@dataclass(frozen=True)
class Voicing:
    """A voicing free of key.

    Attributes:
        degrees: low to high.
        heights_semitones: above the lowest note; the first is 0.
        sizes: notes in each layer.
    """

    degrees: tuple[Degree, ...]
    heights_semitones: tuple[int, ...]
    sizes: tuple[int, ...]

    @property
    def lowest_over_root_semitones(self) -> int:
        """How far the lowest note lies above the root, within an octave."""
        return self.degrees[0].semitones

    @property
    def gaps_semitones(self) -> tuple[int, ...]:
        """From each note to the next above it."""
        return tuple(high - low for low, high in pairwise(self.heights_semitones))

    @property
    def span_semitones(self) -> int:
        """From the lowest note to the highest."""
        return self.heights_semitones[-1]

    @cached_property
    def layers(self) -> tuple[Layer, ...]:
        """The named layers, lowest first."""
        return layers_of(self.heights_semitones, self.sizes)

    @property
    def text(self) -> str:
        """The voicing as degrees in plain form, readable again: `1 5 b3 | 11 b7 9`."""
        return " | ".join(" ".join(words) for words in self._words(plain=True))

    @property
    def shown(self) -> str:
        """The voicing as degrees in shown form."""
        return " | ".join(" ".join(words) for words in self._words(plain=False))

    def _words(self, *, plain: bool) -> Iterator[list[str]]:
        """The degrees of each layer, with an apostrophe for every octave beyond the nearest place."""
        lifts = [0, *((gap - 1) // 12 for gap in self.gaps_semitones)]
        for layer in self.layers:
            chosen = zip(self.degrees[layer.places], lifts[layer.places], strict=True)
            yield [(each.plain if plain else each.shown) + "'" * lift for each, lift in chosen]

    def top(self, count: int) -> Voicing:
        """Its highest notes; layers keep what is left of them, and one that empties is gone.

        >>> from drills.theory.degree import degree
        >>> whole = Voicing(tuple(map(degree, ("5", "b3", "11", "b7", "9"))), (0, 8, 10, 15, 19), (2, 3))
        >>> whole.top(4).text, whole.top(3).text
        ('b3 | 11 b7 9', '11 b7 9')
        """
        gone = len(self.degrees) - count
        sizes = tuple(layer.last - max(layer.first, gone) for layer in self.layers if layer.last > gone)
        heights = self.heights_semitones[gone:]
        return Voicing(self.degrees[gone:], tuple(height - heights[0] for height in heights), sizes)

    def over(self, root: NoteName, lowest_midi: int) -> PitchedVoicing:
        """The voicing over a root, its lowest note at a MIDI note that fits the root."""
        return PitchedVoicing(self, root, lowest_midi)

    def lowest_at_or_above(self, root: NoteName, floor_midi: int) -> PitchedVoicing:
        """The voicing over a root in the lowest octave whose lowest note is not below a floor."""
        wanted = root.pitch_class + self.lowest_over_root_semitones
        return PitchedVoicing(self, root, floor_midi + (wanted - floor_midi) % 12)


def layers_of(heights_semitones: tuple[int, ...], sizes: tuple[int, ...]) -> tuple[Layer, ...]:
    """The named layers of notes at given heights."""
    layers = []
    edges = pairwise(accumulate(sizes, initial=0))
    for role, (first, last) in zip(_ROLES[len(sizes)], edges, strict=True):
        gaps = tuple(high - low for low, high in pairwise(heights_semitones[first:last]))
        layers.append(Layer(role, first, last, name_layer(gaps)))
    return tuple(layers)


@dataclass(frozen=True, slots=True)
class PitchedVoicing:
    """A voicing that sounds: over a root, in an octave.

    Attributes:
        voicing: its degrees and layers.
        root: spelled; every note is spelled degree-true from it.
        lowest_midi: the lowest sounding note.
    """

    voicing: Voicing
    root: NoteName
    lowest_midi: int

    @property
    def midi(self) -> tuple[int, ...]:
        """MIDI note numbers, low to high."""
        lowest = self.lowest_midi
        return tuple(lowest + height for height in self.voicing.heights_semitones)

    @property
    def names(self) -> tuple[NoteName, ...]:
        """Note names, low to high."""
        return tuple(each.over(self.root) for each in self.voicing.degrees)

    @property
    def pitches(self) -> tuple[Pitch, ...]:
        """Notes with octaves, low to high."""
        return tuple(name.at_midi(midi) for name, midi in zip(self.names, self.midi, strict=True))

    def layer_root(self, layer: Layer) -> NoteName | None:
        """The root of a layer, as the notes spell it unless players would not; None where it has none.

        Over B7 the upper triad 3 5 ♭7 is D♯ diminished; over C7 the triad ♯9 ♯11 ♭7 is called E♭ minor, since
        D♯ F♯ B♭ spell no triad (common practice, no source).
        """
        place = layer.name.root_place
        if place is None:
            return None
        if layer.name.structure == "augmented triad":
            place = _spelled_root_place(self.names[layer.places])
        is_minor = layer.name.structure.startswith(("minor", "diminished", "half-diminished"))
        quality: Quality = "minor" if is_minor else "major"
        name = self.voicing.degrees[layer.first + place].over(self.root)
        if name.plain in _SELDOM_ROOTS[quality] and not _is_stacked_on(name, self.names[layer.places]):
            return habit_root(name.pitch_class, quality)
        return chart_name(name, quality)

    def layer_words(self, layer: Layer) -> str:
        """A layer's name with its root, such as "A♭ major triad"; an interval has none."""
        root = self.layer_root(layer)
        return layer.name.structure if root is None else f"{root.shown} {layer.name.structure}"


_SELDOM_ROOTS: dict[Quality, frozenset[str]] = {
    "minor": frozenset({"D#", "A#", "Cb"}),
    "major": frozenset({"D#", "A#", "G#", "C#", "Cb"}),
}
_LETTERS_OVER_ROOT = ({0}, {1}, {1}, {2}, {2}, {3}, {3, 4}, {4}, {4, 5}, {5, 6}, {6}, {6})
"""For each semitone over a root, how many letters above it a note may be written."""


def _is_stacked_on(root: NoteName, names: tuple[NoteName, ...]) -> bool:
    """Whether notes are written as the intervals they sound over a root."""
    return all(
        (name.letter - root.letter) % 7 in _LETTERS_OVER_ROOT[(name.pitch_class - root.pitch_class) % 12]
        for name in names
    )


def _spelled_root_place(names: tuple[NoteName, ...]) -> int:
    """The note of an augmented triad over which the others are a third and a fifth."""
    letters = {name.letter for name in names}
    places = enumerate(name.letter for name in names)
    return next(place for place, letter in places if {(letter + 2) % 7, (letter + 4) % 7} <= letters)
