"""What a voicing is called by ear, and what it may be taken for: the choices of the drill `hear`.

By ear a voicing is its kind of chord and its upper layer, whatever lies below that; a layer by itself is its
structure and form. Two names are a choice only where one can hear them apart.

Source: that the common chords below are played with these triads on top is common practice; most of them are
rows of `tests/handbook/upper_structure_*.json`, with their sources.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

from drills.cards import words
from drills.cards.subject import Subject
from drills.theory.chord import read_suffix
from drills.theory.degree import Degree, read_degree
from drills.theory.layer import LayerName, name_layer
from drills.theory.symbol import symbol
from drills.theory.voicing import Layer

MOST_CHOICES = 6
FEWEST_NOTES = 3

COMMON_CHORDS = (
    ("maj7", "3 5 7"),
    ("maj9", "5 7 9"),
    ("maj9#11", "7 9 #11"),
    ("maj13#11", "9 #11 13"),
    ("m7", "b3 5 b7"),
    ("m9", "5 b7 9"),
    ("m11", "b7 9 11"),
    ("m13", "9 11 13"),
    ("7", "3 5 b7"),
    ("9", "5 b7 9"),
    ("13#11", "9 #11 13"),
    ("13b9", "13 b9 3"),
    ("7#9", "#9 5 b7"),
    ("7#9b13", "b13 1 #9"),
    ("7b9b13", "b9 3 b13"),
    ("9sus4", "b7 9 11"),
    ("13sus4", "11 13 1"),
    ("m11b5", "b7 9 11"),
)
"""A kind of chord, and a triad on top of it from its root up."""

_TRIADS = ((4, 3), (3, 5), (5, 4), (3, 4), (4, 5), (5, 3), (3, 3), (4, 4))
_OPEN_TRIADS = tuple((low + high, 12 - high) for low, high in _TRIADS)  # the middle note an octave up
_STACKS = ((5, 5), (7, 7), (5, 2), (2, 5))
_SEVENTH_CHORDS = ((4, 3, 4), (4, 3, 3), (3, 4, 3), (3, 3, 4), (3, 3, 3), (3, 4, 4))
COMMON_LAYERS: tuple[tuple[int, ...], ...] = (*_TRIADS, *_OPEN_TRIADS, *_STACKS, *_SEVENTH_CHORDS)
"""Layers that players tell apart, by their gaps in semitones: triads in all forms, stacks, seventh chords."""


@dataclass(frozen=True, slots=True)
class Heard:
    """What an ear is asked to tell.

    Attributes:
        text: the choice, free of key.
        upper: what the upper layer sounds, in semitones over the root.
        sounding: what sounds of all of it.
        tones: what may sound under that name.
    """

    text: str
    upper: frozenset[int]
    sounding: frozenset[int]
    tones: frozenset[int]

    def fits(self, other: Heard) -> bool:
        """Whether this would be a right name for the other too, by ear."""
        return self.text == other.text or (self.upper == other.upper and other.sounding <= self.tones)


def choices(subject: Subject) -> tuple[str, tuple[str, ...]] | None:
    """The right choice, and all of them in the order of their texts.

    They are the voicings of the deck first, then common ones, the most similar first.

    Returns:
        None where there is nothing to ask: a layer of fewer than three notes, a voicing without a chord.
    """
    if subject.is_single_layer:
        return _layer_choices(subject)
    own = _heard(subject)
    if own is None:
        return None
    beside = [each for each in map(_heard, subject.beside) if each is not None]
    ranked = [*_nearest_first(beside, own), *_nearest_first(_common_chords(), own)]
    return _chosen(own.text, [each.text for each in ranked if not each.fits(own)])


def _chosen(own: str, others: Iterable[str]) -> tuple[str, tuple[str, ...]]:
    """The right choice, and it among the first few others that are called otherwise."""
    apart = [text for text in dict.fromkeys(others) if text != own]
    return own, tuple(sorted((own, *apart[: MOST_CHOICES - 1])))


def _nearest_first(candidates: Iterable[Heard], own: Heard) -> list[Heard]:
    """What shares most with a voicing comes first; the rest as it comes."""
    return sorted(candidates, key=lambda each: -len(each.tones & own.sounding) - len(each.upper & own.upper))


def _heard(subject: Subject) -> Heard | None:
    """A voicing of several layers over a chord."""
    if subject.chord is None or subject.is_single_layer:
        return None
    upper = subject.degrees(subject.layers[-1])
    text = _text(subject.chord.symbol.shown, subject.layers[-1].name, upper)
    sounding = _classes(subject.voicing.degrees)
    return Heard(text, _classes(upper), sounding, sounding | _classes(subject.chord.degrees))


@cache
def _common_chords() -> tuple[Heard, ...]:
    made = []
    for suffix, written in COMMON_CHORDS:
        upper, chord = tuple(map(read_degree, written.split())), read_suffix(suffix)
        gaps = tuple((high.semitones - low.semitones) % 12 for low, high in pairwise(upper))
        tones = _classes(chord)
        made.append(Heard(_text(symbol(chord).shown, name_layer(gaps), upper), _classes(upper), tones, tones))
    return tuple(made)


def _classes(degrees: Iterable[Degree]) -> frozenset[int]:
    return frozenset(each.semitones for each in degrees)


def _text(chord: str, layer: LayerName, degrees: tuple[Degree, ...]) -> str:
    """Such as "13♯11, major triad on the 9"; fewer than three notes by their degrees."""
    kind = chord or "major"
    if layer.root_place is None or len(degrees) < FEWEST_NOTES:
        return f"{kind}, {' and '.join(each.shown for each in degrees)} on top"
    return f"{kind}, {layer.structure} on the {degrees[layer.root_place].shown}"


def _layer_choices(subject: Subject) -> tuple[str, tuple[str, ...]] | None:
    """A layer by itself among others of as many notes: the same spacing first, then the same structure."""
    own = subject.voicing.gaps_semitones
    if len(own) < FEWEST_NOTES - 1:
        return None
    called = name_layer(own)
    beside = [each.voicing.gaps_semitones for each in subject.beside if each.is_single_layer]

    def unlike(gaps: tuple[int, ...]) -> tuple[bool, bool, int]:
        name = name_layer(gaps)
        apart = sum(abs(other - gap) for other, gap in zip(gaps, own, strict=True))
        return name.spacing != called.spacing, name.structure != called.structure, apart

    ranked = [
        gaps
        for group in (beside, COMMON_LAYERS)
        for gaps in sorted((each for each in group if len(each) == len(own)), key=unlike)
    ]
    return _chosen(_layer_text(own), map(_layer_text, ranked))


def _layer_text(gaps_semitones: tuple[int, ...]) -> str:
    """Such as "major triad, close, second inversion"."""
    name = name_layer(gaps_semitones)
    form = words.layer_form(Layer("single", 0, len(gaps_semitones) + 1, name))
    return ", ".join(part for part in (name.structure, form) if part)
