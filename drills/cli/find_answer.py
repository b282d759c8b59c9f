"""What `drills find --json` prints."""

from __future__ import annotations

from drills.catalogue.entry import Entry
from drills.catalogue.find import Result
from drills.cli.answers import Answer, grip_answer, named_answer
from drills.neck.search import Place
from drills.theory.chord import habit_root
from drills.theory.naming import Named, name_notes
from drills.theory.pitch import NoteName


def found_answer(result: Result, root: NoteName | None = None) -> Answer:
    """What was found, and what each filter left of it."""
    return {
        "total": result.total,
        "voicings": [_entry_answer(entry, root) for entry in result.entries],
        "filters": [{"filter": each.name, "asks": each.words, "left": each.left} for each in result.steps],
        "emptied_by": result.emptied_by.name if result.emptied_by else None,
    }


def _entry_answer(entry: Entry, root: NoteName | None) -> Answer:
    place = shown_place(entry, root)
    named = named_entry(entry, place)
    quality = entry.symbol.quality
    return {
        "degrees": [each.plain for each in entry.voicing.degrees],
        "layers": named_answer(named)["layers"],
        "chord": entry.symbol.plain,
        "keys": entry.keys,
        "stretch_mm": round(place.grip.stretch_mm, 1) if place else None,
        "best_grip": grip_answer(place) if place else None,
        "text": entry.voicing.text,
        "rootless": entry.is_rootless,
        "asked": entry.asked,
        "in_keys": [habit_root(each, quality).plain for each in entry.key_classes],
        "score": entry.score,
        "why": dict(entry.why),
    }


def shown_place(entry: Entry, root: NoteName | None) -> Place | None:
    """The grip to show: over the root that was asked for, if it can be held there, else the entry's own."""
    asked = entry.place_over(root) if root is not None else None
    return asked or entry.place


def named_entry(entry: Entry, place: Place | None) -> Named:
    """An entry with its notes, where it is held, else from the lowest string up over its root."""
    voicing = entry.voicing
    floor = entry.setup.instrument.open_midi[0]
    sounding = place.sounding if place else voicing.lowest_at_or_above(entry.root, floor)
    return name_notes(sounding.midi, voicing.sizes, root=sounding.root, degrees=voicing.degrees)
