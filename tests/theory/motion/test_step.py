"""Stepping through a parent scale: handbook tables, music21, and the law that there and back is nowhere."""

from __future__ import annotations

import json
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from typing import Any, TypeAlias

import pytest
from hypothesis import given
from hypothesis import strategies as st
from music21.pitch import Pitch as ReferencePitch
from music21.scale import ConcreteScale, Direction, HarmonicMinorScale, MajorScale, MinorScale

from drills.errors import DrillsError
from drills.theory.chord import read_chord
from drills.theory.motion.step import rooted_in, step, through
from drills.theory.naming import Named, name_notes
from drills.theory.pitch import NoteName, read_note_name
from drills.theory.scale import SCALES, Scale, read_scale
from drills.theory.voicing import DEFAULT_SIZES

Read: TypeAlias = Callable[..., Named]

HANDBOOK = Path(__file__).parents[2] / "handbook"


def rows(table: str) -> list[dict[str, Any]]:
    """The rows of a handbook table."""
    found = json.loads((HANDBOOK / f"{table}.json").read_text(encoding="utf-8"))["rows"]
    assert isinstance(found, list)
    return found


def notes(named: Named) -> list[str]:
    """Its notes with octaves, plain form."""
    return [pitch.plain for pitch in named.sounding.pitches]


@pytest.mark.parametrize("row", rows("diatonic_motion"), ids=lambda row: f"{row['given']['steps']} steps")
def test_each_note_moves_through_the_scale_by_itself(read: Read, row: dict[str, Any]) -> None:
    """The handbook's six notes in C major land where the table says (source in the row)."""
    start = read(row["given"]["voicing"])
    moved = step(start, *read_scale("C major"), row["given"]["steps"])
    assert notes(moved.named) == row["expect"]["voicing"].split()
    assert [clash.mend for clash in start.reading.clashes] == ["#11"]
    pairs = zip(notes(start), row["expect"]["voicing"].split(), strict=True)
    assert [(old and old.plain, new and new.plain) for old, new in moved.changed] == list(pairs)


@pytest.mark.parametrize(
    "row",
    rows("diatonic_seventh_chords"),
    ids=lambda row: f"{row['given']['scale']} {row['given']['degree']}",
)
def test_a_seventh_chord_steps_through_the_diatonic_ones(row: dict[str, Any]) -> None:
    """From the tonic seventh chord, so many steps up stands the table's chord (source in the row)."""
    tonic, scale = read_scale(row["given"]["scale"].removesuffix(" (ascending)"))
    heights = [scale.semitones[place] for place in (0, 2, 4, 6)]
    start = name_notes(tuple(48 + tonic.pitch_class + height for height in heights), (4,), root=tonic)
    moved = step(start, tonic, scale, row["given"]["degree"] - 1)
    assert [name.plain for name in moved.named.sounding.names] == row["expect"]["notes"]
    chord = read_chord(row["expect"]["chord"])
    assert {note.pitch_class for note in moved.named.sounding.names} == {n.pitch_class for n in chord.notes}
    assert moved.named.root.pitch_class == chord.root.pitch_class


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        pytest.param("E- major", MajorScale, id="E flat major"),
        pytest.param("F# aeolian", MinorScale, id="F sharp minor"),
        pytest.param("G harmonic minor", HarmonicMinorScale, id="G harmonic minor"),
    ],
)
@pytest.mark.parametrize("steps", [-3, -1, 1, 2, 5, 7])
def test_steps_agree_with_music21(text: str, kind: Callable[[str], ConcreteScale], steps: int) -> None:
    """Every note lands on the pitch, and the letter, that music21's scale gives."""
    reference = kind(text.partition(" ")[0])
    tonic, scale = read_scale(text.replace("-", "b"))
    names = scale.notes(tonic)
    start = name_notes(tuple(_rising(names, (0, 4, 2, 6, 1))), (2, 3), root=tonic)
    moved = step(start, tonic, scale, steps)
    way = Direction.ASCENDING if steps > 0 else Direction.DESCENDING
    for old, new in zip(start.sounding.pitches, moved.named.sounding.pitches, strict=True):
        there = ReferencePitch(old.plain.replace("b", "-"))
        for _ in range(abs(steps)):
            there = reference.nextPitch(there, way)
        assert new.midi == there.midi
        assert new.name.plain == there.name.replace("-", "b")


@pytest.mark.parametrize(
    ("scale", "degrees", "chord"),
    [
        ("Eb altered", "3 b7 #9 b13", "Em13(maj7)"),
        ("Bb altered", "3 b7 #9 b13", "Bm13(maj7)"),
        ("Eb phrygian", "1 b3 5 b7", "Fbmaj7"),
        ("Gb major", "1 3 5 7", "Abm7"),
    ],
)
def test_no_minor_chord_stands_on_c_flat_or_f_flat(read: Read, scale: str, degrees: str, chord: str) -> None:
    """Charts write Em for the F♭m of E♭ altered; a major chord keeps the scale's letter (common practice)."""
    tonic, kind = read_scale(scale)
    assert step(read(degrees, tonic.plain), tonic, kind, 1).named.chord_plain == chord


def test_a_note_keeps_its_letter_where_its_pitch_could_be_another_degree(read: Read) -> None:
    """F lydian ♯2 has G♯, not A♭: a ♯9 even where no third sounds beside it."""
    moved = step(read("1 5 b7 b9", "E"), *read_scale("A harmonic minor"), 1).named
    assert [name.plain for name in moved.sounding.names] == ["F", "C", "E", "G#"]
    assert [each.plain for each in moved.reading.degrees] == ["1", "5", "7", "#9"]


def _rising(names: tuple[NoteName, ...], places: tuple[int, ...]) -> list[int]:
    midi = [48 + names[places[0]].pitch_class]
    for place in places[1:]:
        midi.append(midi[-1] + 1 + (names[place].pitch_class - midi[-1] - 1) % 12)
    return midi


@st.composite
def stepped(draw: st.DrawFn) -> tuple[Named, NoteName, Scale]:
    """A voicing that lies in a scale, and the scale."""
    scale = draw(st.sampled_from(SCALES))
    tonic = read_note_name(draw(st.sampled_from("C Db D Eb E F F# G Ab A Bb B".split())))
    inside = [midi for midi in range(40, 77) if (midi - tonic.pitch_class) % 12 in scale.semitones]
    midi = tuple(sorted(draw(st.sets(st.sampled_from(inside), min_size=1, max_size=7))))
    root = draw(st.sampled_from(scale.notes(tonic)))
    return name_notes(midi, DEFAULT_SIZES[len(midi)], root=root), tonic, scale


@given(stepped(), st.integers(-9, 9))
def test_up_and_down_again_returns(start: tuple[Named, NoteName, Scale], steps: int) -> None:
    """There and back sounds the same notes over the same root, in the same layers."""
    named, tonic, scale = start
    there = step(named, tonic, scale, steps)
    back = step(there.named, tonic, scale, -steps)
    assert back.named.sounding.midi == named.sounding.midi
    assert back.named.root.pitch_class == named.root.pitch_class
    assert back.named.sounding.voicing.sizes == named.sounding.voicing.sizes


@given(stepped())
def test_through_ends_on_the_octave(start: tuple[Named, NoteName, Scale]) -> None:
    """Seven steps, eight or six by the scale; each rises, and the last is the octave."""
    named, tonic, scale = start
    every = [moved.named.sounding.midi for moved in through(named, tonic, scale)]
    assert len(every) == len(scale.steps)
    assert every[-1] == tuple(midi + 12 for midi in named.sounding.midi)
    assert all(low < high for low, high in pairwise([named.sounding.midi, *every]))


@pytest.mark.parametrize(
    ("text", "root", "scale", "steps", "chord", "degrees"),
    [
        pytest.param("1 3 5 b7", "C", "F major", 1, "Dm7", "1 b3 5 b7", id="mixolydian to aeolian"),
        pytest.param("1 3 5 b7", "C", "F major", -1, "Bbmaj7", "1 3 5 7", id="a step down"),
        pytest.param("1 3 7 9", "C", "C major", 3, "Fmaj9", "1 3 7 9", id="to the fourth"),
        pytest.param("1 3 13 7", "C", "C major", 2, "Em7b13", "1 b3 b13 b7", id="flat 13 keeps its letter"),
        pytest.param(
            "1 b3 11 7", "A", "A harmonic minor", 3, "Dm7#11", "1 b3 #11 b7", id="sharp 11 over minor"
        ),
        pytest.param("1 b3 5 7", "A", "A harmonic minor", 6, "G#dim7", "1 b3 b5 bb7", id="diminished"),
        pytest.param("1 3 6", "C", "C major", 1, "Dm6", "1 b3 6", id="sixth without a seventh"),
        pytest.param("1 4 b7", "D", "C major", -1, "Cmaj7sus4", "1 4 7", id="fourth without a third"),
        pytest.param("1 11 7", "C", "C melodic minor", 6, "B7", "1 3 b7", id="flat fourth is a third"),
        pytest.param("1 3 5 b7", "C", "C half-whole", 2, "Eb7", "1 3 5 b7", id="octatonic"),
        pytest.param("1 3 #5 b7", "Db", "Db whole-tone", 1, "Eb7#5", "1 3 #5 b7", id="whole-tone"),
    ],
)
def test_chords_are_renamed_by_the_scale(
    read: Read, text: str, root: str, scale: str, steps: int, chord: str, degrees: str
) -> None:
    """What a note is over the stepped root comes from its place in the scale."""
    moved = step(read(text, root), *read_scale(scale), steps)
    assert " ".join(each.plain for each in moved.named.reading.degrees) == degrees
    assert moved.named.chord_plain == chord


def test_the_root_can_stay(read: Read) -> None:
    """Over a pedal the degrees are read over the root that stays."""
    moved = step(read("1 3 5", "C"), *read_scale("C major"), 1, root_stays=True)
    assert moved.named.root.plain == "C"
    assert [each.plain for each in moved.named.reading.degrees] == ["9", "4", "6"]
    assert moved.move == "a step up in C major, root staying"


def test_layers_keep_their_notes_and_are_named_anew(read: Read) -> None:
    """An open C minor-eleven in B flat major becomes two triads a step higher."""
    moved = step(read("1 5 b3 | 11 b7 9", "C"), *read_scale("Bb major"), 1)
    words = [moved.named.sounding.layer_words(layer) for layer in moved.named.layers]
    assert words == ["D minor triad", "C minor triad"]


def test_a_root_with_a_double_sign_is_written_plainly(read: Read) -> None:
    """The second step of D flat altered is D, as charts write it."""
    moved = step(read("1 b7", "Db"), *read_scale("Db altered"), 1)
    assert moved.named.root.plain == "D"


def test_notes_outside_the_scale_are_named(read: Read) -> None:
    """The error says which notes, and which scale would hold the voicing."""
    with pytest.raises(DrillsError, match="B♭ is not in G major; C mixolydian holds C7"):
        step(read("1 3 5 b7", "C"), *read_scale("G major"), 1)
    with pytest.raises(DrillsError, match="D♭ D♯ are not in G major; none of our scales holds"):
        step(read("C3 C#3 D3 Eb3 E3"), *read_scale("G major"), 1)
    with pytest.raises(DrillsError, match="A major holds A"):
        step(read("1 3 5", "A"), *read_scale("C major"), 1)


def test_a_scale_without_the_fifth_is_not_offered(read: Read) -> None:
    """The altered scale serves this dominant, but does not hold its 5: it is no scale to step through."""
    with pytest.raises(DrillsError, match="none of our scales holds"):
        step(read("1 3 5 b7 b9 #9 b13", "C"), *read_scale("C major"), 1)


def test_a_silent_root_must_lie_in_the_scale(read: Read) -> None:
    """A rootless voicing whose root lies outside is refused when the root was asked for."""
    with pytest.raises(DrillsError, match="the root B♭ is not in C major; give a root from the scale"):
        step(read("D3 A3 C4", "Bb"), *read_scale("C major"), 1)


@pytest.mark.parametrize(
    ("midi", "root", "scale", "expected"),
    [
        pytest.param((49, 55, 60, 65), "Eb", "Bb major", "Eb", id="inside already"),
        pytest.param((53, 59, 64, 69), "Db", "C major", "F", id="the best of all"),
        pytest.param((60, 64, 67, 69), "Bb", "E major", "A", id="the second best"),
        pytest.param((50, 57, 60), "Bb", "A minor", "D", id="a sounding root"),
        pytest.param((61,), "Db", "C major", "Db", id="nothing inside"),
    ],
)
def test_a_reading_inside_the_scale_is_found(
    midi: tuple[int, ...], root: str, scale: str, expected: str
) -> None:
    """Notes that are named from a root outside are read over the best root inside; else they stay."""
    start = name_notes(midi, DEFAULT_SIZES[len(midi)], root=read_note_name(root))
    found = rooted_in(start, *read_scale(scale))
    assert found.root.plain == expected
    assert found.sounding.midi == midi
    assert (found is start) == (root == expected)


def test_a_step_beyond_hearing_is_refused(read: Read) -> None:
    """MIDI ends at G9."""
    with pytest.raises(DrillsError, match="the move leads out of range"):
        step(read("C9 E9 G9"), *read_scale("C major"), 3)
