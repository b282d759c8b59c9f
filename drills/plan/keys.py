"""In which keys a recipe asks what, and how it spells them."""

from __future__ import annotations

from drills.neck.search import roots_by_fourths
from drills.recipe.model import ProgressionEntry, Recipe, VoicingEntry
from drills.theory.naming import read_over
from drills.theory.pitch import NoteName
from drills.theory.symbol import Quality, Symbol
from drills.theory.voicing import Voicing

_ALL_CLASSES = frozenset(range(12))


def key_classes(recipe: Recipe, entry: VoicingEntry | ProgressionEntry, drill: str) -> frozenset[int]:
    """The pitch classes of the roots that a drill asks a voicing in, or of the keys of a progression.

    An entry's own keys stand instead of the recipe's; the keys of a drill narrow them.
    """
    drill_keys = dict(recipe.drill_keys)
    if entry.keys is None:
        return _classes(drill_keys.get(drill, recipe.keys))
    return _classes(entry.keys) & _classes(drill_keys.get(drill))


def _classes(keys: tuple[NoteName, ...] | None) -> frozenset[int]:
    return _ALL_CLASSES if keys is None else frozenset(key.pitch_class for key in keys)


def roots(recipe: Recipe, entry: VoicingEntry) -> tuple[NoteName, ...]:
    """The roots a voicing is asked in by any drill."""
    wanted = frozenset[int]().union(*(key_classes(recipe, entry, drill) for drill in recipe.ask))
    symbol = entry.chord.symbol if entry.chord else _reading_symbol(entry.voicing)
    return spelled(recipe, entry.keys, symbol.quality, wanted)


def spelled(
    recipe: Recipe, own: tuple[NoteName, ...] | None, quality: Quality, wanted: frozenset[int]
) -> tuple[NoteName, ...]:
    """Keys as the entry or else the recipe spells them, else as charts do for a quality."""
    written = [*(own or ()), *(recipe.keys or ())]
    written += [key for _, keys in recipe.drill_keys for key in keys or ()]
    by_habit = roots_by_fourths(quality)
    spelled = {root.pitch_class: root for root in by_habit}
    for key in reversed(written):
        spelled[key.pitch_class] = key
    in_turn = [key.pitch_class for key in written]
    rest = [root.pitch_class for root in by_habit]
    return tuple(spelled[each] for each in dict.fromkeys(in_turn + rest) if each in wanted)


def _reading_symbol(voicing: Voicing) -> Symbol:
    return read_over(voicing.heights_semitones, voicing.lowest_over_root_semitones, voicing.degrees).symbol
