"""One `[[family]]` of a recipe: what its voicings have in common; the catalogue finds them."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from drills.errors import DrillsError
from drills.neck.instrument import Instrument
from drills.neck.search import roots_by_fourths
from drills.recipe.chords import read_kind
from drills.recipe.entry import LAST_WEEK, MOST_NOTE
from drills.recipe.fields import Table, quoted
from drills.recipe.keys import read_keys
from drills.recipe.known import FAMILY_KEYS, HAND_RANGES, HOME
from drills.recipe.model import FamilyEntry
from drills.recipe.pin import read_strings
from drills.theory.degree import read_degree
from drills.theory.layer_pattern import read_layer_pattern
from drills.theory.symbol import symbol

FEWEST_NOTES, MOST_NOTES = 4, 7
USUAL_VOICINGS, MOST_VOICINGS = 12, 200

_HOME = {**HOME, "nickname": "nicknames belong to a [[voicing]]", "id": "ids belong to a [[voicing]]"}
_Value = TypeVar("_Value")


def read_family_entry(table: Table, instrument: Instrument) -> FamilyEntry:
    """Reads and checks a family, for an instrument whose strings it may name."""
    table.only(FAMILY_KEYS, _HOME)
    if not table.has("chord"):
        mend = 'write chord = ["maj9#11", "13#11"], say'
        raise DrillsError("the family has no chord", where=table.where(), mend=mend)
    chords = tuple(symbol(read).plain for read in _each(table, "chord", '["maj9#11", "13#11"]', read_kind))
    notes = table.whole_number("notes", FEWEST_NOTES, MOST_NOTES, 0) or None
    family = FamilyEntry(
        chords,
        table.label,
        lower=_each(table, "lower", '["open triad", "quintal stack"]', read_layer_pattern),
        upper=_each(table, "upper", '["close triad", "sus4"]', read_layer_pattern),
        notes=notes,
        top=_each(table, "top", '["9", "#11"]', read_degree),
        bass=_each(table, "bass", '["1", "5"]', read_degree),
        rootless=table.flag("rootless", default=False) if table.has("rootless") else None,
        min_keys=table.whole_number("min_keys", 1, 12, 1),
        max_stretch_mm=table.number("max_stretch_mm", *HAND_RANGES["max_stretch_mm"], 0.0) or None,
        strings=_strings(table, notes, len(instrument.open_midi)),
        at_most=table.whole_number("at_most", 1, MOST_VOICINGS, USUAL_VOICINGS),
        keys=(read_keys(table, "keys") or roots_by_fourths("major")) if table.has("keys") else None,
        week=table.whole_number("week", 1, LAST_WEEK, 0) or None,
        note=table.text("note", MOST_NOTE, lines=True),
    )
    twice = next((chord for place, chord in enumerate(chords) if chord in chords[:place]), None)
    if twice is not None:
        raise table.error("chord", f"{quoted(twice)} stands twice", "name each chord once")
    return family


def _each(table: Table, key: str, example: str, read: Callable[[str], _Value]) -> tuple[_Value, ...]:
    """What a text, or each text of a list, means; nothing where the key is missing."""
    if not table.has(key):
        return ()
    texts = (table.text(key),) if isinstance(table.values[key], str) else table.texts(key, example)
    with table.at(key):
        return tuple(read(text) for text in texts)


def _strings(table: Table, notes: int | None, count: int) -> tuple[int, ...] | None:
    """The strings to play on, one for each note."""
    if not table.has("strings"):
        return None
    text = table.text("strings")
    if notes is None:
        mend = "write notes = 5, say, as many as there are strings"
        raise table.error("strings", "the strings do not say how many notes", mend)
    with table.at("strings"):
        return read_strings(text, count, notes)
