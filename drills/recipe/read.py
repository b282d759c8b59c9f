"""A recipe read from its file: checked once, here, and trusted afterwards.

Every fault is a `DrillsError` that names file, line and key, what was found, and what would be right.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from hashlib import sha256
from pathlib import Path
from typing import Any, TypeAlias

from drills.errors import DrillsError
from drills.neck.hand import HANDS, USUAL_HAND, Hand
from drills.neck.instrument import FEWEST_FRETS, MOST_FRETS, Instrument
from drills.neck.tuning import Tuning, read_tuning
from drills.recipe.entry import read_entry
from drills.recipe.family import read_family_entry
from drills.recipe.fields import Table, nearest_of, quoted, read_toml, word_like
from drills.recipe.handout import read_handout
from drills.recipe.keys import read_keys
from drills.recipe.known import (
    DRILLS,
    DRILLS_KEYS,
    HAND_KEYS,
    HAND_RANGES,
    HOME,
    INSTRUMENT_KEYS,
    OF_PROGRESSIONS,
    PACE_KEYS,
    SOUND_KEYS,
    TOP_KEYS,
    USUAL_DRILLS,
)
from drills.recipe.model import ORDERS, Order, ProgressionEntry, Recipe, Sound, VoicingEntry
from drills.recipe.progression import read_progression_entry
from drills.recipe.shelf import find_recipe
from drills.theory.pitch import NoteName

MOST_TITLE, MOST_ABOUT = 120, 2000
LAST_EDITION = 9999

DrillKeys: TypeAlias = tuple[tuple[str, tuple[NoteName, ...] | None], ...]


def read_recipe(path_or_name: str | Path) -> Recipe:
    """The recipe of a file, or of a name on the shelf.

    Raises:
        DrillsError: there is no such recipe, or something in it is wrong.
    """
    found = find_recipe(path_or_name)
    return parse_recipe(found.text, source=found.source, default_id=found.name)


def parse_recipe(text: str, *, source: str, default_id: str) -> Recipe:
    """The recipe that a TOML text holds.

    Args:
        text: the whole file.
        source: its name, for messages.
        default_id: the id where the recipe gives none, made into a word if need be.

    Raises:
        DrillsError: something in it is wrong.
    """
    top = read_toml(text, source)
    top.only(TOP_KEYS, HOME)
    title = top.text("title", MOST_TITLE)
    if not title:
        mend = 'write title = "Riverside evening group, week 3", say, at the top of the file'
        raise top.error("title", "the recipe has no title", mend)
    instrument_table = top.table("instrument", "instrument")
    instrument = _instrument(instrument_table)
    progressions = _progressions(top, instrument)
    ask, drill_keys = _drills(top.table("drills", "drills"), has_progression=bool(progressions))
    sound = _sound(top.table("sound", "sound"), ask)
    pace = top.table("pace", "pace")
    pace.only(PACE_KEYS, HOME)
    return Recipe(
        id=_id(top, default_id),
        title=title,
        voicings=_voicings(top, instrument),
        ask=ask,
        progressions=progressions,
        families=tuple(read_family_entry(table, instrument) for table in top.tables("family")),
        about=top.text("about", MOST_ABOUT, lines=True),
        keys=read_keys(top, "keys") if top.has("keys") else None,
        drill_keys=drill_keys,
        order=_order(top),
        instrument=instrument,
        is_left_handed=instrument_table.flag("left_handed", default=False),
        hand=_hand(top),
        fresh_per_day=pace.whole_number("fresh_per_day", 1, 200, 5),
        target_recall=pace.number("target_recall", 0.7, 0.97, 0.9),
        sound=sound,
        handout=read_handout(top.table("handout", "handout")),
        edition=top.whole_number("edition", 1, LAST_EDITION, 1),
        source=source,
    )


def _id(top: Table, default_id: str) -> str:
    """The id as given, else the one that the file's name makes; a name in other letters makes a number."""
    return top.word("id") or word_like(default_id) or f"recipe-{_number_of(default_id)}"


def _number_of(name: str) -> str:
    return sha256(name.encode(errors="surrogatepass")).hexdigest()[:8]


def _order(top: Table) -> Order:
    word = top.one_of("order", ORDERS, ORDERS[0])
    return next(each for each in ORDERS if each == word)


def _sound(table: Table, ask: Collection[str]) -> Sound:
    table.only(SOUND_KEYS, HOME)
    usual = Sound()
    is_on = table.flag("on", default=usual.is_on)
    if not is_on and "hear" in ask:
        mend = "write on = true, or leave 'hear' out of [drills] ask"
        raise table.error("on", "the drill 'hear' is asked, and there is no sound", mend)
    return Sound(
        is_on,
        table.number("seconds", 1.5, 6.0, usual.seconds),
        table.number("a4_hz", 400.0, 480.0, usual.a4_hz),
    )


def _instrument(table: Table) -> Instrument:
    table.only(INSTRUMENT_KEYS, HOME)
    usual = Instrument()
    capo = table.whole_number("capo", 0, MOST_FRETS, usual.capo)
    frets = table.whole_number("frets", FEWEST_FRETS, MOST_FRETS, usual.frets)
    length_mm = table.number("scale_length_mm", 300, 900, usual.scale_length_mm)
    tuning = _tuning(table) if table.has("tuning") else usual.tuning
    try:
        return Instrument(tuning, capo, frets, length_mm)
    except DrillsError as fault:
        raise table.error(fault.where, fault.what, fault.mend) from None


def _tuning(table: Table) -> Tuning:
    if isinstance(table.values["tuning"], str):
        written: str | tuple[str, ...] = table.text("tuning")
    else:
        written = table.texts("tuning", '"standard", or ["E2", "A2", "D3", "G3", "B3", "E4"]')
    with table.at("tuning"):
        return read_tuning(written)


def _hand(top: Table) -> Hand:
    """The hand by its profile's name alone, or by a table that changes measures of a profile."""
    if isinstance(top.values.get("hand"), str):
        return HANDS[top.one_of("hand", HANDS, USUAL_HAND.name)]
    table = top.table("hand", "hand")
    table.only(HAND_KEYS, HOME)
    hand = HANDS[table.one_of("profile", HANDS, USUAL_HAND.name)]
    measures: dict[str, Any] = {
        key: table.number(key, low, high, getattr(hand, key)) for key, (low, high) in HAND_RANGES.items()
    }
    return replace(
        hand,
        max_frets_apart=table.whole_number("max_frets_apart", 1, 12, hand.max_frets_apart),
        offers_reduced=table.flag("offers_reduced", default=hand.offers_reduced),
        **measures,
    )


def _drills(table: Table, *, has_progression: bool) -> tuple[tuple[str, ...], DrillKeys]:
    """What is asked, and the keys of the drills that have keys of their own.

    A progression is asked in its own drill, named or not.
    """
    table.only(DRILLS_KEYS, HOME)
    ask = table.texts("ask", '["place", "name"]') if table.has("ask") else USUAL_DRILLS
    for place, drill in enumerate(ask):
        _check_drill(table, "ask", drill)
        if drill in ask[:place]:
            raise table.error("ask", f"{drill!r} stands twice", "ask for each drill once")
    if has_progression and OF_PROGRESSIONS not in ask:
        ask = (*ask, OF_PROGRESSIONS)
    keys = table.table("keys", "drills.keys")
    for drill in keys.values:
        _check_drill(keys, drill, drill)
        if drill not in ask:
            raise keys.error(
                drill, f"{drill!r} has keys and is not asked", f"add {drill!r} to ask, or leave its keys out"
            )
    return ask, tuple((drill, read_keys(keys, drill)) for drill in keys.values)


def _check_drill(table: Table, key: str, drill: str) -> None:
    if drill not in DRILLS:
        raise table.error(key, f"no drill named {quoted(drill)}", nearest_of(drill, DRILLS))


def _voicings(top: Table, instrument: Instrument) -> tuple[VoicingEntry, ...]:
    """The voicings, no two of them alike and no two of one id."""
    tables = top.tables("voicing")
    if not tables and not top.has("progression") and not top.has("family"):
        mend = 'write [[voicing]] on a line of its own, and under it lower = "1 5 b3" and upper = "11 b7 9"'
        raise DrillsError("the recipe has no voicing", where=top.where(), mend=mend)
    entries: list[VoicingEntry] = []
    by_id: dict[str, VoicingEntry] = {}
    by_notes: dict[tuple[object, ...], VoicingEntry] = {}
    for table in tables:
        entry = read_entry(table, instrument)
        named = replace(table, label=entry.where)
        if entry.id:
            other = by_id.setdefault(entry.id, entry)
            if other is not entry:
                raise named.error(
                    "id", f"{entry.id!r} is the id of {other.where} too", "give each voicing its own"
                )
        twin = by_notes.setdefault(_notes_and_strings(entry), entry)
        if twin is not entry:
            mend = "leave one of them out, or name other strings for it"
            raise DrillsError(f"this is {twin.where} again", where=named.where(), mend=mend)
        entries.append(entry)
    return tuple(entries)


def _progressions(top: Table, instrument: Instrument) -> tuple[ProgressionEntry, ...]:
    """The progressions, no two of them alike and no two of one id."""
    entries: list[ProgressionEntry] = []
    for table in top.tables("progression"):
        entry = read_progression_entry(table, instrument)
        named = replace(table, label=entry.where)
        for other in entries:
            if entry.id and entry.id == other.id:
                what = f"{entry.id!r} is the id of {other.where} too"
                raise named.error("id", what, "give each progression its own")
            if _steps(entry) == _steps(other):
                mend = "leave one of them out"
                raise DrillsError(f"this is {other.where} again", where=named.where(), mend=mend)
        entries.append(entry)
    return tuple(entries)


def _steps(entry: ProgressionEntry) -> tuple[object, ...]:
    """What makes two progressions one: chords as heard from the key, voicings, notes and strings."""
    chords = [
        ((chord.root.pitch_class - entry.key.pitch_class) % 12, chord.symbol.plain) for chord in entry.chords
    ]
    return chords, entry.voicings, entry.notes, entry.strings


def _notes_and_strings(entry: VoicingEntry) -> tuple[object, ...]:
    """What makes two voicings one: tones over the root, heights, layers, and strings."""
    voicing = entry.voicing
    return voicing.lowest_over_root_semitones, voicing.heights_semitones, voicing.sizes, entry.strings
