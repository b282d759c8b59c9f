"""Moves on the neck: the same notes on other strings, and the nearest place over another root."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.neck.crossing import cross, nearest_over
from drills.neck.instrument import Instrument
from drills.neck.search import find_at
from drills.neck.tuning import TUNINGS
from drills.theory.naming import name_notes
from drills.theory.pitch import NoteName, read_note_name
from drills.theory.text import read_voicing
from drills.theory.voicing import DEFAULT_SIZES, PitchedVoicing


def sounding(text: str, root: str = "") -> PitchedVoicing:
    """A voicing written as notes, over a root where one is given."""
    written = read_voicing(text)
    return name_notes(written.midi, written.sizes, root=read_note_name(root) if root else None).sounding


@given(st.sets(st.integers(45, 76), min_size=2, max_size=4), st.sampled_from(["standard", "all fourths"]))
def test_every_crossing_sounds_the_same_notes(midi: set[int], tuning: str) -> None:
    """Other strings, each set once, the same pitches, nearest set first."""
    instrument = Instrument(TUNINGS[tuning])
    notes = name_notes(tuple(sorted(midi)), DEFAULT_SIZES[len(midi)]).sounding
    for here in find_at(notes, instrument).places[:2]:
        strings = here.grip.strings
        there = cross(notes, strings, instrument)
        sets = [place.grip.strings for place in there]
        assert len(set(sets)) == len(sets)
        assert strings not in sets
        far = [sum(abs(new - old) for new, old in zip(each, strings, strict=True)) for each in sets]
        assert far == sorted(far)
        for place in there:
            frets = [fret for fret in place.grip.frets if fret is not None]
            heard = [
                instrument.open_midi[string] + fret
                for string, fret in zip(place.grip.strings, frets, strict=True)
            ]
            assert heard == sorted(midi)


def test_unison_frets_of_a_standard_guitar() -> None:
    """A triad on strings 4 to 2 lies five frets up the next lower set, four up over the B string.

    Common practice, no source; tests/handbook/unison_frets.json has the single notes.
    """
    crossed = cross(sounding("C4 E4 G4"), (2, 3, 4))
    assert [place.grip.text for place in crossed] == ["x x x 5 5 3", "x 15 14 12 x x", "20 19 17 x x x"]


@pytest.mark.parametrize(
    ("text", "start", "root", "lowest"),
    [
        pytest.param("Db3 G3 | C4 F4 A4", "Eb", "D", "C3", id="a half step down"),
        pytest.param("C4 E4 G4", "C", "F#", "F#3", id="the lower on a tie"),
        pytest.param("C3 E3 G3 B3", "C", "Bb", "Bb3", id="where it can be held"),
        pytest.param("Bb2 F3 Db4 | Eb4 Ab4 C5", "Bb", "Eb", "Eb3", id="held nowhere, but on the neck"),
        pytest.param("E2 G#2 B2 D3 | E3 G#3 B3 D#4", "E", "Eb", "Eb2", id="not even on the neck"),
    ],
)
def test_a_written_octave_goes_to_the_nearest_playable_place(
    text: str, start: str, root: str, lowest: str
) -> None:
    """Playable means held; where no hand holds it, on the neck; else simply near."""
    found = nearest_over(sounding(text, start), read_note_name(root))
    assert found.pitches[0].plain == lowest
    assert found.root == read_note_name(root)


def test_below_the_lowest_string_nothing_is_playable() -> None:
    """From E2 a half step down leads an octave up."""
    assert nearest_over(sounding("E2 B2 E3"), NoteName(2, -1)).pitches[0].plain == "Eb3"
