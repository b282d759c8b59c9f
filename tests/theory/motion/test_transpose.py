"""Transposing: music21, the circle of fourths, and the nearest place."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

import pytest
from hypothesis import given
from hypothesis import strategies as st
from music21.chord import Chord as ReferenceChord

from drills.errors import DrillsError
from drills.theory.chord import FOURTHS
from drills.theory.motion.transpose import nearest_lowest_midi, transpose
from drills.theory.naming import Named, name_notes
from drills.theory.pitch import NoteName, read_note_name
from drills.theory.voicing import DEFAULT_SIZES

Read: TypeAlias = Callable[..., Named]

ROOTS = "C F Bb Eb Ab Db Gb B E A D G".split()


@pytest.mark.parametrize("root", ROOTS)
def test_transposing_agrees_with_music21(read: Read, root: str) -> None:
    """Every note sounds where music21 puts it, and has the letter that the root asks for."""
    start = read("C3 G3 E4 | B4 D5 F#5")
    moved = transpose(start, read_note_name(root)).named
    rise = moved.sounding.lowest_midi - start.sounding.lowest_midi
    before = ReferenceChord([pitch.plain for pitch in start.sounding.pitches])
    there = before.transpose(rise)  # type: ignore[no-untyped-call]
    assert list(moved.sounding.midi) == [pitch.midi for pitch in there.pitches]
    letters = [(name.letter - moved.root.letter) % 7 for name in moved.sounding.names]
    assert letters == [0, 4, 2, 6, 1, 3]


@pytest.mark.parametrize(("root", "lowest"), [("F", 53), ("F#", 42), ("G", 43), ("C", 48), ("B", 47)])
def test_the_nearest_place_is_chosen_the_lower_on_a_tie(read: Read, root: str, lowest: int) -> None:
    """Up a fourth, down a tritone, down a fourth, nowhere, down a half step from C3."""
    assert nearest_lowest_midi(read("C3 E3 G3"), read_note_name(root)) == lowest


@given(st.sets(st.integers(36, 60), min_size=1, max_size=7))
def test_twelve_fourths_return(midi: set[int]) -> None:
    """Twelve times by fourths sounds the same pitch classes, named the same but for spelling."""
    start = name_notes(tuple(sorted(midi)), DEFAULT_SIZES[len(midi)])
    named = start
    for _ in FOURTHS:
        named = transpose(named, named.root.above(3, 5)).named
    classes = [note % 12 for note in named.sounding.midi]
    assert classes == [note % 12 for note in start.sounding.midi]
    assert named.root.pitch_class == start.root.pitch_class
    assert named.reading.degrees == start.reading.degrees


def test_staying_changes_nothing(read: Read) -> None:
    """To its own root the voicing is where it was."""
    moved = transpose(read("C3 E3 G3"), NoteName(0))
    assert (moved.changed, moved.words) == ((), "where it was")


@pytest.mark.parametrize(
    ("lowest", "words"),
    [
        (60, "C → C: every note up an octave"),
        (84, "C → C: every note up three octaves"),
        (36, "C → C: every note down an octave"),
    ],
)
def test_octaves_are_told(read: Read, lowest: int, words: str) -> None:
    """A place in another octave is said so."""
    assert transpose(read("C3 E3 G3"), NoteName(0), lowest).words == words


def test_a_place_out_of_range_is_refused(read: Read) -> None:
    """MIDI ends at 127."""
    with pytest.raises(DrillsError, match="out of range"):
        transpose(read("C3 G3"), read_note_name("E"), 124)
