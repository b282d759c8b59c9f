"""From a family of a recipe to its voicings: the best that the catalogue has.

numpy comes with the catalogue, so this is loaded only for a recipe that has a family.
"""

from __future__ import annotations

from drills.catalogue.chord_type import chord_type
from drills.catalogue.entry import Entry
from drills.catalogue.filters import Query
from drills.catalogue.find import Result, find
from drills.catalogue.setup import Setup
from drills.errors import DrillsError
from drills.recipe.model import FamilyEntry, Recipe, VoicingEntry
from drills.theory.chord import Chord, read_suffix
from drills.theory.pitch import NoteName

_C = NoteName(0)


def voicings_of(family: FamilyEntry, recipe: Recipe) -> tuple[VoicingEntry, ...]:
    """The voicings of a family, best first.

    Raises:
        DrillsError: there is none; it names the filter that left nothing.
    """
    query = Query(
        chords=tuple(chord_type(name) for name in family.chords),
        lower=family.lower,
        upper=family.upper,
        notes=() if family.notes is None else (family.notes,),
        top=family.top,
        bass=family.bass,
        rootless=family.rootless,
        min_keys=family.min_keys,
        max_stretch_mm=family.max_stretch_mm,
    )
    setup = Setup(recipe.instrument, recipe.hand, family.strings)
    result = find(query, setup, limit=family.at_most)
    if not result.entries:
        raise _empty(family, recipe, result)
    return tuple(_voicing(entry, family) for entry in result.entries)


def _voicing(entry: Entry, family: FamilyEntry) -> VoicingEntry:
    chord = Chord(_C, read_suffix(entry.symbol.plain))
    where = f"{family.where}: {entry.symbol.plain} {entry.voicing.text}"
    return VoicingEntry(
        entry.voicing,
        chord,
        where,
        strings=family.strings,
        keys=family.keys,
        week=family.week,
        note=family.note,
    )


def _empty(family: FamilyEntry, recipe: Recipe, result: Result) -> DrillsError:
    """Which filter left nothing, and what there would be without it."""
    step = result.emptied_by
    words = step.words if step is not None else "these chords"
    if result.left_without_it:
        mend = f"without that filter there are {result.left_without_it}: ask for less, or for other layers"
    else:
        mend = "ask for less at once: other layers, fewer keys, another chord"
    where = f"{recipe.source}: {family.where}"
    return DrillsError(f"no voicing is left by the filter {words!r}", where=where, mend=mend)
