"""One `[[progression]]` of a recipe: its chords, the key they are in, and perhaps a voicing for each."""

from __future__ import annotations

from dataclasses import replace

from drills.errors import DrillsError
from drills.neck.instrument import Instrument
from drills.neck.search import roots_by_fourths
from drills.recipe.contradiction import agreed_chord
from drills.recipe.entry import FEWEST_NOTES, LAST_WEEK, MOST_CHORD, MOST_NICKNAME, MOST_NOTE
from drills.recipe.fields import Table, quoted
from drills.recipe.keys import read_key, read_keys
from drills.recipe.known import HOME, PROGRESSION_KEYS
from drills.recipe.layers import read_layer, voicing_of_layers
from drills.recipe.model import ProgressionEntry
from drills.recipe.pin import read_strings
from drills.theory.chord import Chord
from drills.theory.voicing import DEFAULT_SIZES, MOST_NOTES, Voicing

FEWEST_CHORDS, MOST_CHORDS = 2, 64
FEWEST_CHOSEN, MOST_CHOSEN = 4, 7
"""Notes of the voicings that the catalogue has."""

_EXAMPLE = 'chords = "Dm9 G7b9b13 C6/9"'
_HOME = {**HOME, "chord": f"write {_EXAMPLE}", "voicing": "write voicings"}


def read_progression_entry(table: Table, instrument: Instrument) -> ProgressionEntry:
    """Reads and checks a progression, to be played on an instrument whose strings it may name."""
    nickname = table.text("nickname", MOST_NICKNAME)
    table = replace(table, label=f"{table.label} ({nickname})") if nickname else table
    table.only(PROGRESSION_KEYS, _HOME)
    chords = _chords(table)
    if not table.has("key"):
        mend = 'write key = "C", the key that the chords are written in'
        raise DrillsError("the progression has no key", where=table.where(), mend=mend)
    voicings = _voicings(table, chords, instrument) if table.has("voicings") else None
    if voicings is None:
        _check_types(table, chords)
    else:
        chords = _agreed(table, chords, voicings)
    notes = _notes(table)
    entry = ProgressionEntry(
        chords,
        read_key(table, "key", table.text("key")),
        table.label,
        voicings,
        notes,
        _strings(table, voicings, notes, len(instrument.open_midi)),
        nickname=nickname,
        id=table.word("id"),
        week=table.whole_number("week", 1, LAST_WEEK, 0) or None,
        note=table.text("note", MOST_NOTE, lines=True),
    )
    if not table.has("keys"):
        return entry
    return replace(entry, keys=read_keys(table, "keys") or roots_by_fourths(entry.quality))


def _chords(table: Table) -> tuple[Chord, ...]:
    """The chords, out of one text or a list."""
    from drills.catalogue.progression import read_progression

    if isinstance(table.values.get("chords"), list):
        text = " ".join(table.texts("chords", '["Dm9", "G7b9b13", "C6/9"]'))
    else:
        text = table.text("chords", MOST_CHORD * MOST_CHORDS)
    if not text:
        raise DrillsError("the progression has no chords", where=table.where(), mend=f"write {_EXAMPLE}")
    with table.at("chords"):
        chords = read_progression(text)
    if len(chords) < FEWEST_CHORDS:
        raise table.error("chords", "one chord is no progression", f"write two or more: {_EXAMPLE}")
    return chords


def _check_types(table: Table, chords: tuple[Chord, ...]) -> None:
    """Sees that the catalogue, which is to choose the voicings, knows every kind of chord."""
    from drills.catalogue.chord_type import read_chord_type

    for chord in chords:
        with table.at("chords"):
            read_chord_type(chord.symbol.plain)


def _voicings(table: Table, chords: tuple[Chord, ...], instrument: Instrument) -> tuple[Voicing, ...]:
    """A voicing for each chord."""
    texts = table.texts("voicings", '["b3 b7 | 9 5 1", "b7 3 | b13 b9 5", "3 6 | 9 5 1"]')
    if len(texts) != len(chords):
        what = f"{len(texts)} voicings for {len(chords)} chords"
        raise table.error("voicings", what, "write one for each chord, in the same order")
    with table.at("voicings"):
        return tuple(_voicing(text, len(instrument.open_midi)) for text in texts)


def _voicing(text: str, strings: int) -> Voicing:
    """One voicing, a bar between its layers; without one it falls into the usual two."""
    parts = text.replace("/", "|").split("|")
    count = sum(len(part.replace(",", " ").split()) for part in parts)
    if not FEWEST_NOTES <= count <= min(strings, MOST_NOTES):
        mend = f"a voicing has {FEWEST_NOTES} to {min(strings, MOST_NOTES)} notes here"
        raise DrillsError(f"{quoted(text)} is a voicing of {count} notes", mend=mend)
    if len(parts) == 1 and len(DEFAULT_SIZES[count]) > 1:
        words = text.replace(",", " ").split()
        lower = DEFAULT_SIZES[count][0]
        parts = [" ".join(words[:lower]), " ".join(words[lower:])]
    return voicing_of_layers([read_layer(part) for part in parts], " ".join(parts))


def _agreed(table: Table, chords: tuple[Chord, ...], voicings: tuple[Voicing, ...]) -> tuple[Chord, ...]:
    """The chords, each once it agrees with the notes of its voicing."""
    agreed = []
    for chord, voicing in zip(chords, voicings, strict=True):
        with table.at("chords"):
            if chord.bass is not None:
                bare = replace(chord, bass=None)
                mend = f"write {bare.plain}: the lowest note of its voicing is the bass"
                raise DrillsError(f"{chord.plain} has a bass of its own", mend=mend)
        with table.at("voicings"):
            try:
                agreed.append(replace(chord, degrees=agreed_chord(chord.degrees, voicing, is_part=False)))
            except DrillsError as fault:
                raise DrillsError(f"{chord.plain} as {voicing.text}: {fault.what}", mend=fault.mend) from None
    return tuple(agreed)


def _notes(table: Table) -> int | None:
    """How many notes the catalogue's voicings shall have."""
    if not table.has("notes"):
        return None
    if table.has("voicings"):
        raise table.error("notes", "notes stand beside voicings", "leave notes out: the voicings show them")
    return table.whole_number("notes", FEWEST_CHOSEN, MOST_CHOSEN, FEWEST_CHOSEN)


def _strings(
    table: Table, voicings: tuple[Voicing, ...] | None, notes: int | None, count: int
) -> tuple[int, ...] | None:
    """The strings to play on, one for each note of every voicing."""
    if not table.has("strings"):
        return None
    text = table.text("strings")
    if voicings is not None:
        sizes = [len(voicing.degrees) for voicing in voicings]
        if len(set(sizes)) > 1:
            what = f"one set of strings for voicings of {min(sizes)} to {max(sizes)} notes"
            raise table.error("strings", what, "leave strings out")
        notes = sizes[0]
    if notes is None:
        mend = "write notes = 5, say, as many as there are strings"
        raise table.error("strings", "the strings do not say how many notes", mend)
    with table.at("strings"):
        return read_strings(text, count, notes)
