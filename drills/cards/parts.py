"""The parts that a naming answer is put together from: chord, layers, degrees of a subject."""

from __future__ import annotations

from collections.abc import Iterable

from drills.cards import words
from drills.cards.pads import is_even, is_turned, structure_place
from drills.cards.subject import Subject
from drills.cards.task import ChordReading, DegreePart, DegreesTask, LayerParts, PartsTask, Task
from drills.theory.naming import Named, Reading, readings
from drills.theory.parts import QUALITIES, TENSIONS, Parts, parts_of
from drills.theory.pitch import NoteName
from drills.theory.tables import INVERSIONS
from drills.theory.voicing import Layer


def naming_task(subject: Subject, layers: Iterable[Layer]) -> Task:
    """The chord by any right name, and layers by theirs; what has neither by its degrees."""
    chord = chord_readings(subject)
    if chord:
        chord += _readings_over_other_roots(subject)
    named = layer_parts(subject, layers)
    if chord or named:
        return PartsTask(subject.root.pitch_class, chord, named)
    return DegreesTask(degree_parts(subject, slice(None)))


def chord_readings(subject: Subject) -> tuple[ChordReading, ...]:
    """Every right name of the chord over the root it is asked over, its own first; none for no chord."""
    if subject.chord is None:
        return ()
    sounding = frozenset(subject.voicing.degrees)
    return tuple(_reading(way, subject.root) for way in parts_of(frozenset(subject.chord.degrees), sounding))


def other_readings(subject: Subject) -> tuple[Reading, ...]:
    """What the same notes are over other roots, without a clash; the nearest first."""
    own = subject.voicing.lowest_over_root_semitones
    return tuple(
        each
        for each in readings(subject.voicing.heights_semitones)
        if each.lowest_over_root_semitones != own and not each.clashes
    )


def _readings_over_other_roots(subject: Subject) -> tuple[ChordReading, ...]:
    """Every right name of the same notes over other roots."""
    others = other_readings(subject)
    named = Named(subject.sounding, subject.reading, others).also_named
    return tuple(
        _reading(way, root, shown.removeprefix(root.shown + each.symbol.shown))
        for each, (_, shown, root) in zip(others, named, strict=True)
        for way in parts_of(frozenset(each.degrees), frozenset(each.degrees))
    )


def _reading(way: Parts, root: NoteName, slash: str = "") -> ChordReading:
    return ChordReading(
        root.pitch_class,
        root.shown + way.symbol.shown + slash,
        QUALITIES.index(way.quality),
        tuple(map(TENSIONS.index, way.needs)),
        tuple(map(TENSIONS.index, way.allows)),
    )


def layer_parts(subject: Subject, layers: Iterable[Layer]) -> tuple[LayerParts, ...]:
    """The names of those layers that have one: three different notes or more."""
    return tuple(part for layer in layers if (part := _layer(subject, layer)) is not None)


def _layer(subject: Subject, layer: Layer) -> LayerParts | None:
    structure, root = structure_place(layer.name), subject.sounding.layer_root(layer)
    if structure is None or root is None or layer.name.inversion is None:
        return None
    heard = sorted({midi % 12 for midi in subject.sounding.midi[layer.places]} - {root.pitch_class})
    inversion = INVERSIONS.index(layer.name.inversion)
    return LayerParts(
        layer.role,
        root.pitch_class,
        tuple(heard) if is_even(structure) else (),
        structure,
        inversion if is_turned(structure) and not is_even(structure) else None,
        words.layer_in_full(subject, layer),
    )


def degree_parts(subject: Subject, places: slice) -> tuple[DegreePart, ...]:
    """What the notes at some places are over the root, low to high."""
    names, degrees = subject.sounding.names[places], subject.voicing.degrees[places]
    return tuple(
        DegreePart(name.shown, each.semitones, each.shown) for name, each in zip(names, degrees, strict=True)
    )
