"""What a move gives: a voicing named anew, and which notes changed on the way.

Conventions: a move takes and gives sounding voicings and never changes what it was given; notes are
told from low to high, in the words of the voicing they stand in.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import zip_longest
from typing import TypeAlias

from drills.errors import DrillsError
from drills.theory.degree import Degree
from drills.theory.naming import Named, name_notes
from drills.theory.pitch import HIGHEST_MIDI, LOWEST_MIDI, Pitch
from drills.theory.symbol import meant
from drills.theory.voicing import Layer, PitchedVoicing

NotePair: TypeAlias = tuple[Pitch | None, Pitch | None]
"""A note before and after; None for a note that was not there."""

NEW = -1
"""The place of a note that was not there before the move."""

ROLES = ("lower", "middle", "upper", "single")


@dataclass(frozen=True, slots=True)
class Moved:
    """A voicing after a move.

    Attributes:
        named: the voicing and its name.
        move: what was done, in a few words.
        changed: the notes that changed, as pairs of before and after.
        words: the change told to a player, shown form.
    """

    named: Named
    move: str
    changed: tuple[NotePair, ...]
    words: str


@dataclass(frozen=True, slots=True)
class Voice:
    """One note on its way through a move.

    Attributes:
        degree: over the root.
        midi: what sounds.
        layer: the layer it belongs to, 0 the lowest.
        place: where it stood in the voicing before the move; NEW for a note that was not there.
    """

    degree: Degree
    midi: int
    layer: int
    place: int = NEW


def named_sounding(sounding: PitchedVoicing) -> Named:
    """A sounding voicing with the name its degrees give it over its root."""
    voicing = sounding.voicing
    return name_notes(sounding.midi, voicing.sizes, root=sounding.root, degrees=voicing.degrees)


def voices_of(named: Named) -> tuple[Voice, ...]:
    """The notes of a voicing, low to high, each with its layer and place."""
    degrees, midi = named.reading.degrees, named.sounding.midi
    return tuple(
        Voice(degrees[place], midi[place], number, place)
        for number, layer in enumerate(named.layers)
        for place in range(layer.first, layer.last)
    )


def check_role(role: str, *, where: str = "") -> str:
    """The role of a layer in our word for it.

    >>> check_role("Upper")
    'upper'
    """
    wanted = role.strip().lower()
    if wanted not in ROLES:
        raise DrillsError(f"no layer named {role!r}", where=where, mend="write lower or upper")
    return wanted


def layer_called(named: Named, role: str, *, where: str = "") -> int:
    """The number of the layer with a role, 0 the lowest; of a single layer any role will do."""
    wanted = check_role(role, where=where)
    if len(named.layers) == 1:
        return 0
    roles = [layer.role for layer in named.layers]
    for number, each in enumerate(roles):
        if each == wanted:
            return number
    raise DrillsError(f"the voicing has no {wanted} layer", where=where, mend=f"write {' or '.join(roles)}")


def layer_words(named: Named, layer: Layer) -> str:
    """A layer in full.

    >>> named = name_notes((49, 55, 60, 65, 69), (2, 3))
    >>> [layer_words(named, layer) for layer in named.layers]
    ['tritone', 'F major triad, close, second inversion']
    """
    name = layer.name
    parts = [named.sounding.layer_words(layer)]
    if name.inversion is not None:
        parts.append(name.spacing)
        if name.family not in ("stack", "sus"):
            parts.append(name.inversion)
    return ", ".join(parts)


def renamed(before: Named, voices: Iterable[Voice], *, reread: bool = False) -> Named:
    """Voices named over the root they had, lowest first; two on one pitch become one.

    Args:
        before: for the root.
        voices: in any order; each layer keeps its number of notes.
        reread: work the degrees out from the pitches, rather than keep the words they had.
    """
    ordered = in_order(voices)
    midi = tuple(voice.midi for voice in ordered)
    check_range(midi)
    layers = [voice.layer for voice in ordered]
    sizes = tuple(layers.count(number) for number in sorted(set(layers)))
    degrees = None if reread else meant(tuple(voice.degree for voice in ordered))
    return name_notes(midi, sizes, root=before.root, degrees=degrees)


def check_range(midi: Sequence[int]) -> None:
    """Refuses notes that MIDI cannot number."""
    if midi[0] < LOWEST_MIDI or midi[-1] > HIGHEST_MIDI:
        mend = "start in another octave; a guitar sounds from about E2 to E6"
        raise DrillsError("the move leads out of range", mend=mend)


def in_order(voices: Iterable[Voice]) -> list[Voice]:
    """The voices from low to high, one for each pitch; of several the first stays."""
    by_midi: dict[int, Voice] = {}
    for voice in voices:
        by_midi.setdefault(voice.midi, voice)
    return sorted(by_midi.values(), key=lambda voice: voice.midi)


def changes(before: Named, after: Named, voices: Iterable[Voice]) -> tuple[NotePair, ...]:
    """The notes that changed: those that can be followed, then what went beside what came.

    Args:
        before: the voicing that was moved.
        after: the voicing it became.
        voices: the notes of `after`, with the places they had in `before`.
    """
    old, new = before.sounding.pitches, after.sounding.pitches
    now = {pitch.midi: pitch for pitch in new}
    followed = {voice.place: now[voice.midi] for voice in in_order(voices) if voice.place != NEW}
    reached = {pitch.midi for pitch in followed.values()}
    gone = [pitch for place, pitch in enumerate(old) if place not in followed]
    come = [pitch for pitch in new if pitch.midi not in reached]
    stayed = {pitch.midi for pitch in gone} & {pitch.midi for pitch in come}
    pairs: list[NotePair] = [
        (old[place], pitch) for place, pitch in followed.items() if old[place].midi != pitch.midi
    ]
    pairs += zip_longest(
        (pitch for pitch in gone if pitch.midi not in stayed),
        (pitch for pitch in come if pitch.midi not in stayed),
    )
    return tuple(sorted(pairs, key=_height))


def in_turn(first: Sequence[NotePair], second: Sequence[NotePair]) -> tuple[NotePair, ...]:
    """The changes of two moves, one after the other, as the changes of one."""
    onwards = {old.midi: new for old, new in second if old is not None}
    reached = {new.midi for _, new in first if new is not None}
    pairs: list[NotePair] = [
        (old, onwards.get(new.midi, new) if new is not None else None) for old, new in first
    ]
    pairs += [(old, new) for old, new in second if old is None or old.midi not in reached]
    return tuple(sorted((pair for pair in pairs if _differs(pair)), key=_height))


def _differs(pair: NotePair) -> bool:
    old, new = pair
    return (old.midi if old else None) != (new.midi if new else None)


def _height(pair: NotePair) -> int:
    return next((pitch.midi for pitch in pair if pitch is not None), 0)


def pairs_words(pairs: Iterable[NotePair]) -> str:
    """Changed notes without octaves: "G → G♯, B left out, F♯ added"."""
    return ", ".join(_pair_words(old, new) for old, new in pairs)


def _pair_words(old: Pitch | None, new: Pitch | None) -> str:
    if old is None:
        return f"{new.name.shown} added" if new else ""
    if new is None:
        return f"{old.name.shown} left out"
    if old.name.pitch_class == new.name.pitch_class:
        octaves = abs(new.midi - old.midi) // 12
        way = "up" if new.midi > old.midi else "down"
        return f"{old.name.shown} {octaves_words(octaves)} {way}"
    return f"{old.name.shown} → {new.name.shown}"


def octaves_words(octaves: int) -> str:
    """How many octaves, such as "an octave"."""
    return "an octave" if octaves == 1 else f"{octaves} octaves"
