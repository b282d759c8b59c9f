"""Answers as data for other programs: the objects that `--json` prints.

Conventions: notes, degrees and chords in plain ASCII form; lists run from low to high, frets and
fingers from the lowest string to the highest, null for a string that is not played.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any, TypeAlias

from drills.neck.search import Found, Place
from drills.theory.chord import Chord
from drills.theory.naming import Named, name_notes
from drills.theory.pitch import NoteName
from drills.theory.scale import Scale, guide_tones, scales_for
from drills.theory.voicing import Layer

if TYPE_CHECKING:
    from drills.build import Built
    from drills.catalogue.path import Way
    from drills.plan import Plan

Answer: TypeAlias = dict[str, Any]


def named_answer(named: Named) -> Answer:
    """A voicing with its name, layers, other readings and warnings."""
    sounding = named.sounding
    return {
        "chord": named.chord_plain,
        "root": named.root.plain,
        "bass": named.bass.plain,
        "rootless": named.reading.is_rootless,
        "notes": [pitch.plain for pitch in sounding.pitches],
        "midi": list(sounding.midi),
        "degrees": [degree.plain for degree in named.reading.degrees],
        "layers": [_layer_answer(named, layer) for layer in named.layers],
        "also": [{"chord": plain, "root": root.plain} for plain, _, root in named.also_named],
        "warnings": _warnings(named),
    }


def _layer_answer(named: Named, layer: Layer) -> Answer:
    sounding = named.sounding
    root = sounding.layer_root(layer)
    return {
        "role": layer.role,
        "notes": [pitch.plain for pitch in sounding.pitches[layer.places]],
        "degrees": [degree.plain for degree in named.reading.degrees[layer.places]],
        "structure": layer.name.structure,
        "root": root.plain if root else None,
        "inversion": layer.name.inversion,
        "spacing": layer.name.spacing,
        "gaps": list(sounding.voicing.gaps_semitones[layer.first : layer.last - 1]),
    }


def _warnings(named: Named) -> list[Answer]:
    pitches = named.sounding.pitches
    rubs: list[Answer] = [
        {"kind": "avoid note", "degree": clash.degree, "against": clash.against, "mend": clash.mend}
        for clash in named.reading.clashes
    ]
    low: list[Answer] = [
        {"kind": "low interval", "notes": [pitches[place].plain for place in places]}
        for places in named.low_intervals
    ]
    return rubs + low


def chord_answer(chord: Chord) -> Answer:
    """A chord spelled out, with its scales and their avoid notes."""
    return {
        "chord": chord.plain,
        "root": chord.root.plain,
        "notes": [note.plain for note in chord.notes],
        "degrees": [degree.plain for degree in chord.degrees],
        "scales": [_scale_answer(scale, chord) for scale in scales_for(chord)],
    }


def _scale_answer(scale: Scale, chord: Chord) -> Answer:
    return {
        "name": scale.name,
        "notes": [note.plain for note in scale.notes(chord.root)],
        "avoid": list(scale.avoid(guide_tones(chord))),
    }


def grip_answer(place: Place) -> Answer:
    """A grip, its key, and the notes it sounds."""
    grip = place.grip
    return {
        "key": place.sounding.root.plain,
        "frets": list(grip.frets),
        "fingers": list(grip.fingers),
        "stretch_mm": round(grip.stretch_mm, 1),
        "frets_apart": grip.frets_apart,
        "long_reach": grip.is_long_reach,
        "notes": [pitch.plain for pitch in place.sounding.pitches],
    }


def grips_answer(named: Named, found: Iterable[Found]) -> Answer:
    """The grips of one key or several, best first; among equals the order of the keys stands."""
    places = [place for each in found for place in each.places]
    places.sort(key=lambda place: place.grip.rank)
    return {"chord": named.chord_plain, "grips": [grip_answer(place) for place in places]}


def all_keys_answer(named: Named, found: Mapping[NoteName, Found]) -> Answer:
    """The same in all keys, with the number of grips in each."""
    answer = grips_answer(named, found.values())
    return answer | {"keys": {root.plain: len(each.places) for root, each in found.items()}}


def named_at(place: Place) -> Named:
    """A voicing at its place, named over its own root with its own degrees."""
    sounding = place.sounding
    voicing = sounding.voicing
    return name_notes(sounding.midi, voicing.sizes, root=sounding.root, degrees=voicing.degrees)


def ways_answer(chords: Iterable[Chord], ways: Iterable[Way]) -> Answer:
    """The ways through a progression, smoothest first."""
    symbols = [chord.plain for chord in chords]
    return {
        "paths": [
            {
                "cost": way.cost,
                "steps": [
                    {"chord": symbol, "voicing": named_answer(named_at(place)), "grip": grip_answer(place)}
                    for symbol, place in zip(symbols, way.places, strict=True)
                ],
            }
            for way in ways
        ]
    }


def plan_answer(planned: Plan) -> Answer:
    """What a recipe would build."""
    return {
        "title": planned.deck.title,
        "cards": len(planned.deck.cards),
        "voicings": planned.voicings,
        "unreached": [
            {"voicing": each.voicing, "key": each.key, "why": each.why, "instead": each.instead or None}
            for each in planned.unreached
        ],
    }


def built_answer(built: Built) -> Answer:
    """What was built, and the files."""
    return plan_answer(built.plan) | {"files": [str(path) for path in built.files]}
