"""Spread and turn: one layer opened, closed or inverted, the others left in peace.

Conventions: three notes or fewer open and close over their lowest note; four notes keep their highest
one, since drop voicings are dropped from under a melody. Turning, every note of the layer goes to the
next one of its chord, so that the spacing stays and the hand keeps its strings. Where a layer would
cross its neighbour, the upper one of the two goes up by octaves until it is clear.
Source: drop voicings after Pease and Pullig, Modern Jazz Voicings (2001), from memory; the rest is
common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise
from typing import TypeAlias

from drills.errors import DrillsError
from drills.theory.clash import low_intervals
from drills.theory.degree import Degree
from drills.theory.layer import LARGEST_LAYER, name_layer
from drills.theory.motion.moved import (
    Moved,
    Voice,
    changes,
    in_order,
    layer_called,
    octaves_words,
    pairs_words,
    renamed,
    voices_of,
)
from drills.theory.naming import Named
from drills.theory.tables import INVERSIONS
from drills.theory.voicing import Layer
from drills.theory.words import nearest

Notes: TypeAlias = tuple[Voice, ...]

_DROPS = {"drop 2": (2,), "drop 3": (1,), "drop 2 and 4": (2, 0)}
"""Which notes of a close layer of four go down an octave, counted from the lowest."""

SPACINGS = ("close", "open", *_DROPS)
TURNS = {name.removesuffix(" inversion"): name for name in INVERSIONS[1:]} | {"root": INVERSIONS[0]}
"""How inversions may be asked for, and their full names."""


def spread(named: Named, role: str, spacing: str, *, where: str = "") -> Moved:
    """The voicing with one layer closed or opened: close, open, or for four notes a drop.

    >>> from drills.theory.naming import name_notes
    >>> m11 = name_notes((46, 53, 61, 63, 68, 72), (3, 3))
    >>> moved = spread(m11, "lower", "close")
    >>> moved.named.sounding.voicing.text, moved.words
    ('1 b3 5 | 11 b7 9', 'lower layer closed: D♭ an octave down')
    """
    wanted = " ".join(spacing.lower().split())
    if wanted not in SPACINGS:
        mend = f"write {nearest(wanted, SPACINGS) or 'close or open'}"
        raise DrillsError(f"no spacing named {spacing!r}", where=where, mend=mend)
    number = layer_called(named, role, where=where)
    layer = named.layers[number]
    own = voices_of(named)[layer.places]
    wanted = _fitting(wanted, len(own), where)
    so_already = f"the {layer.role} layer is {wanted} already"
    if layer.name.spacing == wanted:
        return Moved(named, so_already, (), so_already)
    verb = {"close": "closed", "open": "opened"}.get(wanted, f"spread as {wanted}")
    return _told(named, number, in_order(_spread(own, wanted)), f"{layer.role} layer {verb}", so_already)


def turn(named: Named, role: str, inversion: str, *, floor_midi: int = 0, where: str = "") -> Moved:
    """The voicing with one layer in another inversion, where it stays clear and moves least.

    Args:
        named: what to turn a layer of.
        role: lower, middle or upper.
        inversion: root, first, second or third.
        floor_midi: a place whose lowest note would lie below it is taken only when there is no other.
        where: named in errors.

    >>> from drills.theory.naming import name_notes
    >>> m11 = name_notes((46, 53, 61, 63, 68, 72), (3, 3))
    >>> moved = turn(m11, "upper", "root")
    >>> moved.named.sounding.voicing.text, moved.words
    ('1 5 b3 | b7 9 11', 'upper layer to root position: E♭ → A♭, A♭ → C, C → E♭')
    """
    wanted = " ".join(inversion.lower().removesuffix("position").removesuffix("inversion").split())
    if wanted not in TURNS:
        mend = "write root, first, second or third"
        raise DrillsError(f"no inversion named {inversion!r}", where=where, mend=mend)
    number = layer_called(named, role, where=where)
    layer = named.layers[number]
    own = voices_of(named)[layer.places]
    inversion_wanted = TURNS[wanted]
    turned = [each for each in _turns(own) if _form(each) == (layer.name.structure, inversion_wanted)]
    if not turned:
        raise _cannot_turn(layer, inversion_wanted, where)

    def trouble(shaped: Notes) -> tuple[bool, int, bool, int, int]:
        settled = _settled(named, number, shaped)
        muddy = len(low_intervals(tuple(note.midi for layer in settled for note in layer)))
        crosses = settled != _beside(named, number, shaped)
        distance = sum(abs(new.midi - old.midi) for new, old in zip(shaped, own, strict=True))
        return shaped[0].midi < floor_midi, muddy, crosses, distance, shaped[0].midi

    so_already = f"the {layer.role} layer is in {inversion_wanted} already"
    move = f"{layer.role} layer to {inversion_wanted}"
    best = min(turned, key=trouble)
    return _told(named, number, best, move, so_already)


def _fitting(spacing: str, count: int, where: str) -> str:
    """The spacing in the word that fits a number of notes, where they can have it."""
    if count == 1:
        mend = "spread a layer of two notes or more"
        raise DrillsError("one note has no spacing", where=where, mend=mend)
    if spacing in _DROPS and count != LARGEST_LAYER:
        mend = "write close or open"
        raise DrillsError(f"{count} notes have no {spacing}", where=where, mend=mend)
    return "drop 2" if spacing == "open" and count == LARGEST_LAYER else spacing


def _spread(own: Notes, spacing: str) -> Notes:
    """A layer closed, then opened as asked."""
    close = in_order(_closed(own))
    if spacing == "open":
        _shift(close, len(own) // 2, 12)
    for dropped in _DROPS.get(spacing, ()):
        _shift(close, dropped, -12)
    return tuple(close)


def _shift(layer: list[Voice], place: int, octave_semitones: int) -> None:
    """Moves one note by octaves to the next place where no other note lies."""
    taken = {note.midi for note in layer}
    midi = layer[place].midi
    while midi in taken:
        midi += octave_semitones
    layer[place] = replace(layer[place], midi=midi)


def _closed(own: Notes) -> Iterator[Voice]:
    """A layer within an octave, over its lowest note or, of four, under the highest; doubled notes go on."""
    way, ordered = (-1, own[::-1]) if len(own) == LARGEST_LAYER else (1, own)
    anchor = ordered[0].midi
    taken: set[int] = set()
    for note in ordered:
        distance = (note.midi - anchor) * way % 12
        while distance in taken:
            distance += 12
        taken.add(distance)
        yield replace(note, midi=anchor + way * distance)


def _turns(own: Notes) -> Iterator[Notes]:
    """A layer in every inversion, down and up from where it is, each note on the next of its chord."""
    degrees = {note.midi % 12: note.degree for note in own}
    count = len(degrees)
    for times in range(-count, count + 1):
        yield tuple(_turned(note, degrees, times) for note in own)


def _turned(note: Voice, degrees: dict[int, Degree], times: int) -> Voice:
    """A note so many chord notes higher or lower."""
    midi = note.midi
    for _ in range(abs(times)):
        midi += 1 if times > 0 else -1
        while midi % 12 not in degrees:
            midi += 1 if times > 0 else -1
    return replace(note, midi=midi, degree=degrees[midi % 12])


def _form(own: Notes) -> tuple[str, str | None]:
    name = name_layer(tuple(high.midi - low.midi for low, high in pairwise(own)))
    return name.structure, name.inversion


def _cannot_turn(layer: Layer, inversion: str, where: str) -> DrillsError:
    name = layer.name
    mend = "spread it open or close instead, or swap the layer"
    if name.inversion is None:
        what = f"the {layer.role} layer is {_a(name.structure)}, which has no inversions"
    elif name.is_symmetrical:
        what = f"{_a(name.structure)} sounds the same in every inversion"
    elif name.family in ("stack", "sus"):
        what = f"{_a(name.structure)} stands on its lowest note and has no {inversion}"
    else:
        what = f"there is no {inversion} of {_a(name.structure)}"
    return DrillsError(what, where=where, mend=mend)


def _a(structure: str) -> str:
    if structure.endswith("mixed notes"):
        return structure
    return f"{'an' if structure[0] in 'aeiou' else 'a'} {structure}"


def _beside(named: Named, number: int, shaped: Iterable[Voice]) -> list[list[Voice]]:
    """The voices of every layer, one of the layers in a new shape."""
    voices = voices_of(named)
    layers = [list(voices[layer.places]) for layer in named.layers]
    layers[number] = list(shaped)
    return layers


def _settled(named: Named, number: int, shaped: Iterable[Voice]) -> list[list[Voice]]:
    """The same, each layer lifted by octaves until it is clear of the one below."""
    settled: list[list[Voice]] = []
    for layer in _beside(named, number, shaped):
        lift = max(0, (settled[-1][-1].midi - layer[0].midi) // 12 + 1) if settled else 0
        settled.append([replace(note, midi=note.midi + 12 * lift) for note in layer])
    return settled


def _told(named: Named, number: int, shaped: Iterable[Voice], move: str, so_already: str) -> Moved:
    """The voicing with one layer in a new shape, and the change in words."""
    layers = _settled(named, number, shaped)
    voices = [voice for layer in layers for voice in layer]
    after = renamed(named, voices)
    pairs = changes(named, after, voices)
    if not pairs:
        return Moved(named, so_already, (), so_already)
    own = {pitch.midi for pitch in named.sounding.pitches[named.layers[number].places]}
    told = pairs_words(pair for pair in pairs if pair[0] is not None and pair[0].midi in own)
    words = [f"{move}: {told}"]
    for place, (layer, now) in enumerate(zip(named.layers, layers, strict=True)):
        rise = now[0].midi - named.sounding.midi[layer.first]
        if place != number and rise:
            words.append(f"the {layer.role} layer goes up {octaves_words(rise // 12)} to stay clear")
    return Moved(after, move, pairs, "; ".join(words))
