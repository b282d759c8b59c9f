"""One `[[voicing]]` of a recipe: its notes, its chord, and where it is to be played."""

from __future__ import annotations

from dataclasses import replace

from drills.errors import DrillsError
from drills.neck.instrument import Instrument
from drills.neck.search import roots_by_fourths
from drills.recipe.chords import read_kind
from drills.recipe.contradiction import agreed_chord, chord_of_notes
from drills.recipe.fields import Table
from drills.recipe.keys import read_key, read_keys
from drills.recipe.known import HOME, VOICING_KEYS
from drills.recipe.layers import read_layer, voicing_of_layers
from drills.recipe.model import Pinned, VoicingEntry
from drills.recipe.pin import check_grip, read_any_strings, read_frets, voicing_of_grip
from drills.theory.chord import Chord
from drills.theory.degree import Degree
from drills.theory.naming import read_over
from drills.theory.pitch import NoteName
from drills.theory.voicing import Voicing

FEWEST_NOTES = 3
LAST_WEEK = 200
MOST_NICKNAME, MOST_NOTE, MOST_CHORD = 60, 500, 60

_C = NoteName(0)
_LAYERS = ("lower", "middle", "upper", "layer")


def read_entry(table: Table, instrument: Instrument) -> VoicingEntry:
    """Reads and checks a voicing, to be played on an instrument whose strings and frets it may name."""
    nickname = table.text("nickname", MOST_NICKNAME)
    table = replace(table, label=f"{table.label} ({nickname})") if nickname else table
    table.only(VOICING_KEYS, HOME)
    written_chord = _written_chord(table)
    written_grip = _written_grip(table, instrument)
    grip, _ = written_grip or (None, ())
    if any(table.has(name) for name in _LAYERS):
        voicing = _from_layers(table)
    elif written_grip is not None:
        voicing = voicing_of_grip(*written_grip, instrument, written_chord)
    else:
        mend = 'write lower = "1 5 b3" and upper = "11 b7 9", or layer = "3 5 1", or frets with their key'
        raise DrillsError("the voicing has no notes", where=table.where(), mend=mend)
    _check_count(table, len(voicing.degrees), len(instrument.open_midi))
    if grip is not None:
        with table.at("frets"):
            check_grip(grip.frets, voicing, grip.key, instrument)
    return VoicingEntry(
        voicing,
        _chord(table, written_chord, voicing),
        table.label,
        nickname=nickname,
        id=table.word("id"),
        strings=_strings(table, grip, len(instrument.open_midi), len(voicing.degrees)),
        pinned=grip,
        keys=_keys(table, voicing),
        week=table.whole_number("week", 1, LAST_WEEK, 0) or None,
        note=table.text("note", MOST_NOTE, lines=True),
    )


def _written_chord(table: Table) -> tuple[Degree, ...] | None:
    """The degrees of the chord as written."""
    if not table.has("chord"):
        return None
    text = table.text("chord", MOST_CHORD)
    with table.at("chord"):
        return read_kind(text)


def _written_grip(table: Table, instrument: Instrument) -> tuple[Pinned, tuple[int, ...]] | None:
    """The grip that the recipe gives, and the sizes of the layers in it."""
    if not table.has("frets"):
        if table.has("key"):
            mend = 'write frets = "…" too, or keys = ["C"] for the keys to ask'
            raise table.error("key", "this key has no frets", mend)
        return None
    text = table.text("frets")
    if not table.has("key"):
        raise table.error("frets", "these frets have no key", 'write key = "C" too, the root that they sound')
    key = read_key(table, "key", table.text("key"))
    with table.at("frets"):
        frets, sizes = read_frets(text, instrument)
    return Pinned(frets, key), sizes


def _from_layers(table: Table) -> Voicing:
    """The voicing of layers written as degrees, each note the nearest above the one before."""
    names = [name for name in _LAYERS if table.has(name)]
    if "layer" in names and len(names) > 1:
        mend = "write lower and upper for a whole voicing, layer for a layer on its own"
        raise table.error("layer", f"layer stands beside {names[0]}", mend)
    missing = next((name for name in ("lower", "upper") if name not in names), None)
    if missing and names != ["layer"]:
        mend = f"write {missing} too, or layer for a layer on its own"
        raise table.error(names[0], f"{names[0]} stands without {missing}", mend)
    layers = []
    for name in names:
        text = table.text(name)
        with table.at(name):
            layers.append(read_layer(text))
    written = " ".join(table.text(name) for name in names)
    with table.at(names[-1]):
        return voicing_of_layers(layers, written)


def _check_count(table: Table, notes: int, strings: int) -> None:
    what, mend = "", ""
    if notes < FEWEST_NOTES and not table.has("layer"):
        what = f"a voicing of {notes} notes"
        mend = f"write at least {FEWEST_NOTES}, or layer for a layer on its own"
    elif notes > strings:
        what, mend = (
            f"{notes} notes on {strings} strings",
            "leave notes out, or name a tuning with more strings",
        )
    if what:
        raise DrillsError(what, where=table.where(), mend=mend)


def _chord(table: Table, written: tuple[Degree, ...] | None, voicing: Voicing) -> Chord | None:
    """The chord, once it agrees with the notes; a layer on its own may have none."""
    is_part = table.has("layer")
    if written is not None:
        with table.at("chord"):
            return Chord(_C, agreed_chord(written, voicing, is_part=is_part))
    if is_part:
        return None
    with table.at("upper" if table.has("upper") else "frets"):
        return Chord(_C, chord_of_notes(voicing))


def _strings(table: Table, grip: Pinned | None, count: int, notes: int) -> tuple[int, ...] | None:
    """The strings to play on: those of the grip, or those named, be they as many as the notes or not."""
    if grip is not None and table.has("strings"):
        raise table.error("strings", "strings stand beside frets", "leave strings out: the frets show them")
    if grip is not None:
        return tuple(place for place, fret in enumerate(grip.frets) if fret is not None)
    text = table.text("strings")
    with table.at("strings"):
        return read_any_strings(text, count, notes) if table.has("strings") else None


def _keys(table: Table, voicing: Voicing) -> tuple[NoteName, ...] | None:
    """The keys of this voicing alone; "all" are the twelve as charts spell them for its kind of chord."""
    if not table.has("keys"):
        return None
    quality = read_over(voicing.heights_semitones, voicing.lowest_over_root_semitones).symbol.quality
    return read_keys(table, "keys") or roots_by_fourths(quality)
