"""Handbook facts, one file a table, against what the program says.

Each row names its source. `from_memory` says that the wording of a published table was not looked up; the
notes, intervals and pitch classes in it were verified with what `verified_with` lists. A table without a
check fails, so no row is skipped. The checks ask the program's own naming, spelling, scales and neck; where
a fact belongs to something that is not built yet, they test what it governs today.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Iterator
from itertools import accumulate, combinations, pairwise
from pathlib import Path
from typing import Any, TypeAlias

import pytest
from music21.chord import Chord as ForteChord

from drills.neck.grip import Grip
from drills.neck.hand import USUAL_HAND, hold
from drills.neck.instrument import Instrument, fret_position_mm
from drills.neck.search import positions
from drills.neck.tuning import STANDARD
from drills.theory.chord import FOURTHS, Chord, habit_root, read_chord, read_suffix
from drills.theory.clash import Clash
from drills.theory.degree import KNOWN, Degree, read_degree
from drills.theory.layer import LayerName, name_layer
from drills.theory.naming import Named, name_notes, readings
from drills.theory.pitch import NoteName, Pitch, read_note_name, read_pitch
from drills.theory.scale import SCALES, Scale, read_scale
from drills.theory.symbol import symbol
from drills.theory.tables import FOUR_NOTE_ROWS, GAP_ROWS, STRUCTURE_ROWS
from drills.theory.text import read_voicing
from drills.theory.voicing import DEFAULT_SIZES

Row: TypeAlias = dict[str, Any]
Check: TypeAlias = Callable[[Row, Row], None]
Classes: TypeAlias = frozenset[int]

TABLES = {
    path.stem: json.loads(path.read_text(encoding="utf-8"))
    for path in sorted(Path(__file__).parent.glob("*.json"))
}
CHECKS: dict[str, Check] = {}

C = NoteName(0)

QUALITY_SEMITONES = {"m2": 1, "M2": 2, "m3": 3, "M3": 4, "P4": 5, "A4": 6, "d5": 6, "P5": 7, "A5": 8}
QUALITY_SEMITONES |= {"m6": 8, "M6": 9, "m7": 10, "M7": 11, "m9": 13, "M9": 14}

INVERSIONS = {
    "root": "root position",
    "1st": "first inversion",
    "2nd": "second inversion",
    "3rd": "third inversion",
}


def checks(table: str) -> Callable[[Check], Check]:
    """Registers the check of a table, by the name of its file."""

    def register(check: Check) -> Check:
        CHECKS[table] = check
        return check

    return register


def rows() -> Iterator[Any]:
    """Every row of every table, with an id that says what is given."""
    for stem, table in TABLES.items():
        for row in table["rows"]:
            words = (
                str(value) if not isinstance(value, list) else " ".join(value)
                for value in row["given"].values()
            )
            yield pytest.param(stem, row, id=f"{stem}: {' / '.join(words)}")


@pytest.mark.parametrize(("table", "row"), list(rows()))
def test_the_program_agrees_with_the_handbook(table: str, row: Row) -> None:
    """The program says what the handbook says."""
    CHECKS[table](row["given"], row["expect"])


def test_every_row_says_where_it_comes_from() -> None:
    """157 rows in 27 tables, each with a source, how well it is remembered, and what verified it."""
    every = [row for table in TABLES.values() for row in table["rows"]]
    assert (len(TABLES), len(every)) == (27, 157)
    for row in every:
        assert row["source"]
        assert row["verified_with"]
        assert isinstance(row["from_memory"], bool)


# --- words shared by the checks -------------------------------------------------------------------


def pitches(text: str) -> list[Pitch]:
    """Notes with octaves, low to high."""
    return [read_pitch(word) for word in text.split()]


def layer_of(notes: list[Pitch]) -> LayerName:
    """The name of neighbouring notes as one layer."""
    return name_layer(tuple(high.midi - low.midi for low, high in pairwise(notes)))


def named(notes: list[Pitch], root: NoteName | None = None) -> Named:
    """The name of notes, in the layers they fall into by themselves."""
    spelled = tuple(note.name for note in notes)
    return name_notes(
        tuple(note.midi for note in notes), DEFAULT_SIZES[len(notes)], root=root, spelled=spelled
    )


def spelled_interval(low: Pitch, high: Pitch) -> str:
    """Quality and number of the interval between two spelled notes, from letters and semitones."""
    steps = high.name.letter - low.name.letter + 7 * (high.octave - low.octave)
    semitones = high.midi - low.midi
    fitting = [
        name for name, size in QUALITY_SEMITONES.items() if (int(name[1:]) - 1, size) == (steps, semitones)
    ]
    assert len(fitting) == 1
    return fitting[0]


def spelled_intervals(notes: list[Pitch]) -> list[str]:
    """The intervals from note to note."""
    return [spelled_interval(low, high) for low, high in pairwise(notes)]


def sounding(chord: Chord) -> Classes:
    """The pitch classes of a full chord."""
    return frozenset(note.pitch_class for note in chord.notes)


def plain(degrees: tuple[Degree, ...]) -> list[str]:
    """Degrees in plain form."""
    return [degree.plain for degree in degrees]


def mode(name: str) -> Scale:
    """The scale or mode of a name."""
    return read_scale(f"C {name.removesuffix(' (ascending)')}")[1]


def family(scale: Scale) -> list[Scale]:
    """All modes of a scale's parent, the parent first."""
    return [other for other in SCALES if other.parent == scale.parent]


def prime_form(classes: Classes) -> tuple[int, ...]:
    """The most compact form of a pitch-class set under transposition and inversion, from 0 (Forte's)."""
    inverted = {-each % 12 for each in classes}
    forms = [
        tuple(sorted((each - low) % 12 for each in some)) for some in (classes, inverted) for low in some
    ]
    return min(forms, key=lambda form: (form[-1], form))


def moved(degrees: list[Degree], pitch_class: int) -> Classes:
    """Degrees over one of the twelve roots."""
    root = habit_root(pitch_class, "major")
    return frozenset(degree.over(root).pitch_class for degree in degrees)


def over_every_root(degrees: list[Degree]) -> set[Classes]:
    """The pitch-class sets that degrees make over the twelve roots."""
    return {moved(degrees, pitch_class) for pitch_class in FOURTHS}


# --- notes, degrees, keys -------------------------------------------------------------------------


@checks("midi_note_number")
def midi_note_number(given: Row, expect: Row) -> None:
    """A note has its MIDI number, and the number gives the note back."""
    pitch = read_pitch(given["note"])
    assert pitch.midi == expect["midi"]
    assert pitch.name.at_midi(expect["midi"]) == pitch


@checks("tuning_standard")
def tuning_standard(given: Row, expect: Row) -> None:
    """The reference note has its number; an octave of frequency is twelve of our half steps."""
    reference = read_pitch(given["note"])
    assert reference.midi == expect["midi"]
    a_string_hz = next(
        row["expect"]["hz"] for row in TABLES["standard_tuning"]["rows"] if row["given"]["string"] == 5
    )
    assert 12 * math.log2(expect["hz"] / a_string_hz) == reference.midi - read_pitch("A2").midi


@checks("degree_true_spelling")
def degree_true_spelling(given: Row, expect: Row) -> None:
    """A degree over a root keeps the letter that the degree asks for."""
    assert read_degree(given["degree"]).over(read_note_name(given["root"])).plain == expect["note"]


@checks("key_signature")
def key_signature(given: Row, expect: Row) -> None:
    """The signs of a major scale are those of its key signature."""
    notes = read_scale(f"{given['key']} major")[1].notes(read_note_name(given["key"]))
    assert sum(note.alter_semitones for note in notes) == expect["sharps"]
    assert len({note.letter for note in notes}) == 7


# --- chord symbols --------------------------------------------------------------------------------


@checks("chord_symbol_to_degrees")
def chord_symbol_to_degrees(given: Row, expect: Row) -> None:
    """A symbol stands for these degrees, and these degrees are written with a symbol that reads the same."""
    degrees = read_chord(given["symbol"]).degrees
    assert sorted(plain(degrees)) == sorted(expect["degrees"])
    assert read_suffix(symbol(degrees).plain) == degrees


@checks("harte_label")
def harte_label(given: Row, expect: Row) -> None:
    """A label of Harte's, written the way charts write it, has the same pitch classes."""
    root, _, quality = given["label"].partition(":")
    on_a_chart = quality.replace("hdim", "ø").replace("(b3", "(1,b3")  # he takes the root as read
    assert sorted(sounding(read_chord(root + on_a_chart))) == [
        int(word) for word in expect["pitch_classes"].split()
    ]


@checks("tritone_substitution")
def tritone_substitution(given: Row, expect: Row) -> None:
    """Two dominants a tritone apart share third and seventh, and we offer one for the other."""
    chord, substitute = read_chord(given["chord"]), read_chord(expect["substitute"])
    for each in (chord, substitute):
        guides = (degree for degree in each.degrees if degree.plain in ("3", "b7"))
        assert (
            sorted(degree.over(each.root).pitch_class for degree in guides) == expect["shared_pitch_classes"]
        )
    low, high = (60 + pitch_class for pitch_class in expect["shared_pitch_classes"])
    dominants = {
        (low - reading.lowest_over_root_semitones) % 12
        for reading in readings((0, high - low))
        if reading.symbol.quality == "dominant" and reading.is_rootless
    }
    assert dominants == {chord.root.pitch_class, substitute.root.pitch_class}


# --- scales ---------------------------------------------------------------------------------------


@checks("avoid_notes_per_mode")
def avoid_notes_per_mode(given: Row, expect: Row) -> None:
    """A mode has these steps and, by the bare rule, these avoid notes over its own seventh chord."""
    scale = mode(given["mode"])
    assert list(scale.steps) == given["degrees"]
    chord_tones = tuple(read_degree(text) for text in scale.steps[::2])
    as_steps = [
        text.replace("9", "2").replace("11", "4").replace("13", "6") for text in scale.avoid(chord_tones)
    ]
    assert as_steps == expect["avoid"]


@checks("avoid_note_repair")
def avoid_note_repair(given: Row, expect: Row) -> None:
    """A natural 11 a minor ninth above the third is a clash; raised by a half step it is none."""
    degree, against = given["clash"].split(" over ")
    for seventh in given["chord"].split(" or "):
        root = read_note_name(seventh[0])
        low = [note.at_midi(48 + (note.pitch_class - 48) % 12) for note in read_chord(seventh).notes]
        third = next(note for note in low if note.midi == 52)
        for tone, interval, clashes in (
            (degree, expect["interval_before"], (Clash(degree, against, expect["repair"]),)),
            (expect["repair"], expect["interval_after"], ()),
        ):
            name = read_degree(tone).over(root)
            top = name.at_midi(third.midi + QUALITY_SEMITONES[interval])
            assert spelled_interval(third, top) == interval
            assert named([*low, top], root).reading.clashes == clashes


@checks("diatonic_seventh_chords")
def diatonic_seventh_chords(given: Row, expect: Row) -> None:
    """Thirds stacked on a scale step make this chord; what is no avoid note is a tension."""
    tonic, parent = read_scale(given["scale"].removesuffix(" (ascending)"))
    place = given["degree"] - 1
    notes = [parent.notes(tonic)[(place + third) % 7] for third in (0, 2, 4, 6)]
    assert [note.plain for note in notes] == expect["notes"]
    chord = read_chord(expect["chord"])
    stacked = [notes[0].at_midi(48 + notes[0].pitch_class)]
    for note in notes[1:]:
        stacked.append(note.at_midi(stacked[-1].midi + (note.pitch_class - stacked[-1].midi) % 12))
    assert named(stacked).chord_plain == chord.plain
    if "tensions" in expect:
        turned = family(parent)[place]
        tensions = {str(int(step.strip("b#")) + 7) for step in turned.steps[1::2] if step in ("2", "4", "6")}
        assert sorted(tensions - set(turned.avoid(chord.degrees)), key=int) == expect["tensions"]


@checks("diatonic_motion")
def diatonic_motion(given: Row, expect: Row) -> None:
    """Each note of a voicing moved along our scale lands where it must, and a clash goes with it."""
    tonic, scale = read_scale("C major")
    names = scale.notes(tonic)
    landed = []
    for note in pitches(given["voicing"]):
        octaves, place = divmod(names.index(note.name) + given["steps"], 7)
        semitones = 12 * octaves + scale.semitones[place] - scale.semitones[names.index(note.name)]
        landed.append(names[place].at_midi(note.midi + semitones))
    assert landed == pitches(expect["voicing"])
    start, end = named(pitches(given["voicing"]), tonic), named(landed, names[given["steps"]])
    assert Clash("11", "3", "#11") in start.reading.clashes
    assert Clash("11", "3", "#11") not in end.reading.clashes


# --- layers ---------------------------------------------------------------------------------------


@checks("spread_triad")
def spread_triad(given: Row, expect: Row) -> None:
    """A close triad with its middle note an octave up is the same triad, open."""
    notes = pitches(given["notes"])
    assert spelled_intervals(notes) == expect["intervals"]
    layer = named(notes).layers[0]
    assert (layer.name.structure, layer.name.spacing) == (f"{given['quality']} triad", "open")
    root = named(notes).sounding.layer_root(layer)
    assert root is not None
    assert root.plain == "C"
    if not layer.name.is_symmetrical:
        assert layer.name.inversion == INVERSIONS[given["position"]]


@checks("drop_voicing")
def drop_voicing(given: Row, expect: Row) -> None:
    """A close seventh chord with notes dropped an octave is the same chord, and its spacing says which."""
    close, dropped = pitches(given["close"]), pitches(expect["voicing"])
    before, after = layer_of(close), layer_of(dropped)
    assert (before.spacing, before.inversion) == ("close", INVERSIONS[given["inversion"].split()[0]])
    assert after.spacing == given["drop"].replace("&", " and ")
    fallen = {len(close) - int(digit) for digit in given["drop"] if digit.isdigit()}
    assert [note.midi for note in dropped] == sorted(
        note.midi - (12 if place in fallen else 0) for place, note in enumerate(close)
    )
    assert after.structure == before.structure
    for notes, layer in ((close, before), (dropped, after)):
        assert layer.root_place is not None
        assert notes[layer.root_place].name.plain == "C"


@checks("named_voicing")
def named_voicing(given: Row, expect: Row) -> None:
    """A voicing with a name has these intervals, this chord, and the layers that its name speaks of."""
    notes = pitches(given["notes"])
    assert spelled_intervals(notes) == expect["intervals"]
    chord = read_chord(given["chord"].split()[0])
    name = named(notes, chord.root)
    assert name.reading.symbol == chord.symbol
    if "rootless" in given["name"]:
        assert name.reading.is_rootless
    structures = [layer.name.structure for layer in name.layers]
    if "two quintal layers" in given["name"]:
        assert structures == ["quintal stack", "quintal stack"]
    elif "quintal stack" in given["name"]:
        assert structures == ["quintal stack"]
    elif "shell" in given["name"]:
        assert structures == ["major seventh shell"]
    elif "three fourths and a third" in given["name"]:
        assert layer_of(notes[:4]).structure == "quartal stack"


@checks("low_interval_limit")
def low_interval_limit(given: Row, expect: Row) -> None:
    """We warn a half step below the limit and not at it."""
    low, high = read_pitch(expect["lowest_lower_note"]), read_pitch(expect["upper_note"])
    assert low.midi == expect["midi"]
    assert spelled_interval(low, high) == given["interval"]
    assert named([low, high]).low_intervals == ()
    assert name_notes((low.midi - 1, high.midi - 1), (2,)).low_intervals == ((0, 1),)


def upper_structure(given: Row, expect: Row) -> None:
    """A triad over a seventh chord makes these tensions, this chord, and stays a triad to us."""
    base, triad = read_chord(given["base"]), given["triad"].split()
    quality = {"major": "", "minor": "m", "diminished": "dim"}[triad[1]]
    lower = [48 + degree.semitones for degree in base.degrees]
    upper = [72 + read_note_name(triad[0]).pitch_class + degree.semitones for degree in read_suffix(quality)]
    name = name_notes((*lower, *upper), (4, 3), root=base.root)
    in_sus = {"11": "4"} if base.symbol.quality == "sus" else {}
    assert plain(name.reading.degrees[4:]) == [in_sus.get(text, text) for text in expect["degrees"]]
    assert name.chord_plain == read_chord(expect["chord"]).plain
    assert name.layers[1].name.structure == f"{triad[1]} triad"
    root = name.sounding.layer_root(name.layers[1])
    assert root is not None
    assert root.pitch_class == read_note_name(triad[0]).pitch_class


for _base in ("dominant", "half_diminished", "major", "minor", "suspended"):
    checks(f"upper_structure_{_base}")(upper_structure)


# --- the neck ------------------------------------------------------------------------------------


def string_place(number: int) -> int:
    """Where a string stands among ours, by the number that guitarists give it."""
    places = range(len(STANDARD.open_midi))
    return next(place for place in places if STANDARD.string_number(place) == number)


def sounded_at(string: int, fret: int) -> int:
    """What one fretted string sounds, read as a grip."""
    grip = ["x"] * len(STANDARD.open_midi)
    grip[string_place(string)] = str(fret)
    (midi,) = read_voicing(grip).midi
    return midi


@checks("standard_tuning")
def standard_tuning(given: Row, expect: Row) -> None:
    """An open string sounds this note, at this frequency when A4 is 440 Hz."""
    pitch = STANDARD.open_pitches[string_place(given["string"])]
    assert pitch.plain == expect["note"]
    assert pitch.midi == sounded_at(given["string"], 0)
    assert round(440.0 * 2 ** ((pitch.midi - 69) / 12), 2) == expect["hz"]


@checks("unison_frets")
def unison_frets(given: Row, expect: Row) -> None:
    """Two places sound the same note, and a search for that note comes upon both."""
    spots = [(spot["string"], spot["fret"]) for spot in (given, expect["same_pitch_as"])]
    assert [sounded_at(*spot) for spot in spots] == [expect["midi"]] * 2
    found = list(positions((expect["midi"],), Instrument()))
    for string, fret in spots:
        assert fret in {frets[string_place(string)] for frets in found}


@checks("open_grip")
def open_grip(given: Row, expect: Row) -> None:
    """A grip every guitarist knows sounds these notes, is called this chord, and lies under our hand."""
    written = read_voicing(given["frets"])
    assert list(written.midi) == expect["midi"]
    assert name_notes(written.midi, written.sizes).chord_plain == expect["chord"]
    frets = tuple(int(digit) for digit in given["frets"])
    assert written.frets == frets
    assert isinstance(hold(frets, Instrument(), USUAL_HAND), Grip)


@checks("fret_position")
def fret_position(given: Row, expect: Row) -> None:
    """A fret stands this far from the nut, with a capo on or off."""
    assert round(fret_position_mm(given["fret"], 648.0), 1) == expect["mm"]
    for capo in (0, 1):
        assert round(Instrument(capo=capo, frets=24).positions_mm[given["fret"] - capo], 1) == expect["mm"]


@checks("guitar_notation")
def guitar_notation(given: Row, expect: Row) -> None:
    """The third fret of the fifth string, a middle C on paper, has its sounding name here."""
    written = read_pitch(given["written"])
    (pitch,) = name_notes((sounded_at(5, 3),), (1,)).sounding.pitches
    assert pitch.plain == expect["sounds"]
    octaves_below = {"8vb": 1}[expect["treble_clef"]]
    assert written.midi - pitch.midi == 12 * octaves_below


# --- sets of pitch classes ------------------------------------------------------------------------


def structure_classes() -> dict[str, set[Classes]]:
    """The pitch classes over its root or lowest note of every three-note structure we know, by its name."""
    found: dict[str, set[Classes]] = {}
    for row in STRUCTURE_ROWS:
        found.setdefault(row.name, set()).add(frozenset(row.semitones))
    for gap_row in GAP_ROWS:
        if len(gap_row.gaps_semitones) == 2:
            heights = accumulate(gap_row.gaps_semitones, initial=0)
            found.setdefault(gap_row.name, set()).add(frozenset(height % 12 for height in heights))
    return found


def as_degrees(classes: Classes) -> list[Degree]:
    """One degree for each number of semitones."""
    by_semitones = {read_degree(text).semitones: read_degree(text) for text in KNOWN}
    return [by_semitones[each] for each in sorted(classes)]


@checks("forte_number")
def forte_number(given: Row, expect: Row) -> None:
    """The name we give to pitch classes belongs to their set class."""
    heights = tuple(int(word) for word in given["pitch_classes"].split())
    forte_form = tuple(int(word) for word in expect["prime_form"].split())
    layer = name_layer(tuple(high - low for low, high in pairwise(heights))) if len(heights) <= 4 else None
    if layer is None:
        degrees = name_notes(
            tuple(48 + each for each in heights), (3, len(heights) - 3), root=C
        ).reading.degrees
        assert symbol(degrees).plain in given["what"].replace("(", " ").replace(")", " ").split()
        found = frozenset(degree.semitones for degree in degrees)
    elif len(heights) == 4:
        found = next(frozenset(row.semitones) for row in FOUR_NOTE_ROWS if row.name == layer.structure)
    else:
        (found,) = structure_classes()[layer.structure]
    assert prime_form(found) == forte_form
    assert ForteChord(sorted(found)).forteClass.rstrip("AB") == expect["forte"]


FORTE_THREES = {"3-1": (0, 1, 2), "3-5": (0, 1, 6), "3-6": (0, 2, 4), "3-7": (0, 2, 5), "3-10": (0, 3, 6)}
"""Prime forms of some classes of three (Forte 1973, appendix 1, from memory; verified with music21 10.5)."""


@checks("count")
def count(given: Row, expect: Row) -> None:
    """Counting with our own structures, scales and roots gives the numbers of set theory."""
    match given:
        case {"cardinality": size}:
            count_classes(size, expect)
        case {"set_class": forte}:
            structures = set().union(*structure_classes().values())
            rows = [each for each in structures if prime_form(each) == FORTE_THREES[forte]]
            assert len(set().union(*(over_every_root(as_degrees(row)) for row in rows))) == expect["members"]
        case {"set": "diminished seventh"}:
            assert len(over_every_root(list(read_suffix("dim7")))) == expect["distinct_transpositions"]
        case {"set": "octatonic"}:
            for scale in family(mode("half-whole")):
                keys = over_every_root(as_degrees(frozenset(scale.semitones)))
                assert len(keys) == expect["distinct_transpositions"]
        case {"scale": name, "what": "distinct transpositions / modes"}:
            scale = mode(name)
            assert len(over_every_root(as_degrees(frozenset(scale.semitones)))) == expect["transpositions"]
            assert len(family(scale)) == expect["modes"]
        case {"scale": name, "what": what}:
            count_stacks(mode(name), "quartal" if "quartal" in what else "quintal", expect)
        case _:
            pytest.fail(f"nothing counts {given}")


def count_classes(size: int, expect: Row) -> None:
    """Sets of a size over our twelve roots fall into so many classes; those of three notes are ours."""
    every = {frozenset(notes) for notes in combinations(range(12), size)}
    assert len(every) == expect["pitch_class_sets"]
    orbits = {frozenset(over_every_root(as_degrees(notes))) for notes in every}
    assert set().union(*orbits) == every
    assert len(orbits) == expect["classes_Tn"]
    assert len({prime_form(next(iter(orbit))) for orbit in orbits}) == expect["classes_TnI"]
    if size == 3:
        ours = {
            frozenset(over_every_root(as_degrees(row))) for row in set().union(*structure_classes().values())
        }
        assert ours == orbits
    for notes in every:
        reading = name_notes(tuple(60 + note for note in sorted(notes)), (size,), root=C).reading
        assert {degree.semitones for degree in reading.degrees} == notes


def count_stacks(scale: Scale, kind: str, expect: Row) -> None:
    """Fourths or fifths stacked within a scale are stacks to us, plain or mixed."""
    leap = 3 if kind == "quartal" else 4
    found: dict[str, int] = {}
    for place in range(7):
        heights = [
            12 * ((place + step) // 7) + scale.semitones[(place + step) % 7] for step in (0, leap, 2 * leap)
        ]
        gaps = (heights[1] - heights[0], heights[2] - heights[1])
        is_mixed = 6 in gaps
        assert name_layer(gaps).structure == f"{'mixed ' if is_mixed else ''}{kind} stack"
        sizes = {5: "P4", 6: "A4", 7: "P5"} if kind == "quartal" else {6: "d5", 7: "P5"}
        label = "+".join(sizes[gap] for gap in gaps)
        found[label] = found.get(label, 0) + 1
    assert {"total": sum(found.values()), **found} == expect
