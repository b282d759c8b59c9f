"""Notes, intervals, degrees, scales and structures against music21, a reference library for musicology.

Source: music21 (Cuthbert and Ariza, 2010), the version installed. It spells a flat as `-`. It is no judge of
jazz chord symbols (it misreads several; see tests/oracles), so none are asked here.
"""

from __future__ import annotations

from functools import cache
from itertools import accumulate, combinations, permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from music21.chord import Chord as TheirChord
from music21.interval import Interval
from music21.pitch import Pitch as TheirPitch
from music21.scale import (
    ConcreteScale,
    Direction,
    HarmonicMinorScale,
    MajorScale,
    MelodicMinorScale,
    OctatonicScale,
    WholeToneScale,
)

from drills.theory.chord import FOURTHS, habit_root
from drills.theory.degree import KNOWN, read_degree
from drills.theory.interval import interval_name
from drills.theory.layer import name_layer
from drills.theory.pitch import NoteName, Pitch
from drills.theory.scale import SCALES, Scale
from drills.theory.tables import FOUR_NOTE_ROWS, GAP_ROWS, STRUCTURE_ROWS, StructureRow

ROOTS = [NoteName(letter, alter) for letter in range(7) for alter in (-1, 0, 1)]

THEIR_INTERVALS = {
    "1": "P1",
    "b9": "m9",
    "9": "M9",
    "#9": "A9",
    "b3": "m3",
    "3": "M3",
    "4": "P4",
    "11": "P11",
    "#11": "A11",
    "b5": "d5",
    "5": "P5",
    "#5": "A5",
    "b13": "m13",
    "13": "M13",
    "6": "M6",
    "bb7": "d7",
    "b7": "m7",
    "7": "M7",
}

THEIR_PARENTS: dict[str, type[ConcreteScale]] = {
    # the first mode of each family that music21 knows; it has no harmonic major
    "ionian": MajorScale,
    "melodic minor": MelodicMinorScale,
    "harmonic minor": HarmonicMinorScale,
    "whole-half": OctatonicScale,
    "whole-tone": WholeToneScale,
}


def theirs(plain: str) -> TheirPitch:
    """Their pitch for our plain name."""
    return TheirPitch(plain[0] + plain[1:].replace("b", "-"))


def plain_name(pitch: TheirPitch) -> str:
    """Our plain name, without octave, for their pitch."""
    return str(pitch.name).replace("-", "b")


@cache
def ascending(first_mode: str, tonic: NoteName) -> list[TheirPitch]:
    """Their scale from a tonic upwards, without the octave; melodic minor in its rising form."""
    parent = THEIR_PARENTS[first_mode](theirs(tonic.plain).name)
    low = theirs(f"{tonic.plain}3")
    rising = Direction.ASCENDING if first_mode == "melodic minor" else None
    return list(parent.getPitches(low, low.transpose("P8"), direction=rising))[:-1]


@given(st.integers(0, 6), st.integers(-2, 2), st.integers(0, 8))
def test_a_spelled_pitch_has_their_number(letter: int, alter: int, octave: int) -> None:
    """Our MIDI numbers are theirs at every spelling, C flat and B sharp among them."""
    pitch = Pitch(NoteName(letter, alter), octave)
    assert pitch.midi == theirs(pitch.plain).ps
    assert NoteName(letter, alter).at_midi(pitch.midi) == pitch


def test_every_degree_has_an_interval_of_theirs() -> None:
    """No degree goes unchecked."""
    assert set(THEIR_INTERVALS) == set(KNOWN)


@pytest.mark.parametrize("text", KNOWN)
def test_a_degree_lies_where_they_transpose_to(text: str) -> None:
    """Over every root a degree is their interval above it; spelled the same unless it needs a triple sign."""
    degree, interval = read_degree(text), Interval(THEIR_INTERVALS[text])
    for root in ROOTS:
        note, their_note = degree.over(root), theirs(root.plain).transpose(interval)
        assert note.pitch_class == their_note.pitchClass
        if abs(their_note.alter) <= 2:
            assert note.plain == plain_name(their_note)


@pytest.mark.parametrize("semitones", [n for n in range(25) if n % 12 not in (0, 6)])
def test_an_interval_has_their_name(semitones: int) -> None:
    """Up to two octaves we call an interval what they call it; octaves and tritones have plain names."""
    assert interval_name(semitones) == Interval(semitones).niceName.lower()


def first_mode(scale: Scale) -> Scale:
    """The first mode of a scale's family that their table can make."""
    return next(other for other in SCALES if other.parent == scale.parent and other.name in THEIR_PARENTS)


CHECKABLE = [s for s in SCALES if any(o.parent == s.parent and o.name in THEIR_PARENTS for o in SCALES)]


@pytest.mark.parametrize("scale", CHECKABLE, ids=lambda scale: scale.name)
def test_a_scale_has_their_steps(scale: Scale) -> None:
    """Each mode is their parent scale begun on another step, in every key."""
    family = [other for other in SCALES if other.parent == scale.parent]
    turn = family.index(scale) - family.index(first_mode(scale))
    for key in FOURTHS:
        parent = ascending(first_mode(scale).name, habit_root(key, "major"))
        turned = parent[turn:] + parent[:turn]
        ours = scale.notes(habit_root(turned[0].pitchClass, "major"))
        assert [note.pitch_class for note in ours] == [pitch.pitchClass for pitch in turned]


@pytest.mark.parametrize("scale", [s for s in CHECKABLE if len(s.steps) == 7], ids=lambda scale: scale.name)
def test_a_seven_note_scale_has_their_spelling(scale: Scale) -> None:
    """From a plain C, each mode is spelled as they spell it: one letter a step."""
    family = [other for other in SCALES if other.parent == scale.parent]
    turn = family.index(scale)
    above_c = (-scale.semitones[0] - family[0].semitones[turn]) % 12
    parents = [root for root in ROOTS if root.pitch_class == above_c]
    spelled = [[plain_name(p) for p in ascending(family[0].name, root)] for root in parents]
    turned = [names[turn:] + names[:turn] for names in spelled]
    assert [note.plain for note in scale.notes(NoteName(0))] in turned


TRIADS = [row for row in STRUCTURE_ROWS if row.family == "triad"]


@pytest.mark.parametrize("spread", [(0, 0, 0), (0, 12, 0)], ids=["close", "open"])
@pytest.mark.parametrize("bass", [0, 1, 2], ids=["root-position", "first", "second"])
@pytest.mark.parametrize("row", TRIADS, ids=lambda row: row.name)
def test_a_triad_has_their_name_root_and_inversion(
    row: StructureRow, bass: int, spread: tuple[int, int, int]
) -> None:
    """A triad, turned and opened, is what they say; an augmented one is left to its spelling."""
    turned = row.semitones[bass:] + tuple(note + 12 for note in row.semitones[:bass])
    heights = sorted(note + lift for note, lift in zip(turned, spread, strict=True))
    ours = name_layer((heights[1] - heights[0], heights[2] - heights[1]))
    assert ours.spacing == ("open" if any(spread) else "close")
    assert ours.root_place is not None
    letters = dict(zip(row.semitones, (0, 2, 4), strict=True))
    notes = [NoteName(0).above(letters[height % 12], height % 12).at_midi(60 + height) for height in heights]
    their_chord = TheirChord([theirs(note.plain) for note in notes])
    assert their_chord.commonName == ours.structure
    if not ours.is_symmetrical:
        assert plain_name(their_chord.root()) == notes[ours.root_place].name.plain
        assert ["root position", "first inversion", "second inversion"].index(
            str(ours.inversion)
        ) == their_chord.inversion()


@cache
def three_note_classes() -> dict[str, set[str]]:
    """Their class, under transposition alone, of every way to stack a row of ours, by its name."""
    found: dict[str, set[str]] = {}
    for row in STRUCTURE_ROWS:
        found.setdefault(row.name, set()).add(TheirChord(list(row.semitones)).forteClassTn)
    for gap_row in GAP_ROWS:
        if len(gap_row.gaps_semitones) == 2:
            stacked = list(accumulate(gap_row.gaps_semitones, initial=0))
            found.setdefault(gap_row.name, set()).add(TheirChord(stacked).forteClassTn)
    return found


def test_our_structures_cover_every_class_of_three_notes() -> None:
    """All 19 classes of theirs have a name here, and they fall into Forte's 12."""
    classes = set().union(*three_note_classes().values())
    every = {TheirChord(list(notes)).forteClassTn for notes in combinations(range(12), 3)}
    assert classes == every
    assert len(every) == 19
    assert len({name.rstrip("AB") for name in every}) == 12


@pytest.mark.parametrize(
    "notes", list(combinations(range(12), 3)), ids=lambda notes: "-".join(map(str, notes))
)
def test_a_name_stands_for_one_class(notes: tuple[int, int, int]) -> None:
    """However three notes are stacked, the name we give belongs to their class of those notes."""
    forte = TheirChord(list(notes)).forteClassTn
    classes = three_note_classes()
    for low, middle, high in permutations(notes):
        name = name_layer(((middle - low) % 12, (high - middle) % 12))
        assert forte in classes[name.structure]


def test_no_four_note_row_repeats_another() -> None:
    """Each row of four notes is a class of its own to them."""
    classes = [TheirChord(list(row.semitones)).forteClassTn for row in FOUR_NOTE_ROWS]
    assert len(set(classes)) == len(classes)
