"""What an answer is put together from is whole and fixed, and everything on it can be read."""

from __future__ import annotations

from itertools import combinations

from music21.pitch import Pitch as TheirPitch

from drills.cards import pads
from drills.theory.degree import KNOWN
from drills.theory.layer import name_layer


def test_the_notes_are_three_rows_of_seven_that_music21_reads_alike() -> None:
    """Sharps, naturals, flats from C to B. Source: music21, pitch classes."""
    assert [[name.plain for name in row] for row in pads.NOTES] == [
        ["C#", "D#", "E#", "F#", "G#", "A#", "B#"],
        ["C", "D", "E", "F", "G", "A", "B"],
        ["Cb", "Db", "Eb", "Fb", "Gb", "Ab", "Bb"],
    ]
    for row in pads.NOTES:
        for name in row:
            assert TheirPitch(name.plain.replace("b", "-")).pitchClass == name.pitch_class


def test_the_degrees_hold_every_degree_that_voicings_are_written_in() -> None:
    """Twelve places, and each known word at its own."""
    assert [[each.shown for each in row] for row in pads.DEGREES] == [
        *(["1"], ["♭9"], ["9"], ["♭3", "♯9"], ["3"], ["4", "11"], ["♭5", "♯11"]),
        *(["5"], ["♯5", "♭13"], ["6", "𝄫7", "13"], ["♭7"], ["7"]),
    ]
    assert {each.plain for row in pads.DEGREES for each in row} == set(KNOWN)


def test_names_by_pitch_class_lie_at_their_place() -> None:
    """Twelve keys and twelve plain notes, C first; a plain note needs no double sign, E♯ or C♭."""
    for names in (pads.KEY_NAMES, pads.PLAIN_NAMES):
        assert [name.pitch_class for name in names] == list(range(12))
    assert [name.shown for name in pads.PLAIN_NAMES] == "C D♭ D E♭ E F F♯ G A♭ A B♭ B".split()


def test_every_text_of_a_pad_is_there_once() -> None:
    """No two keys of one pad read alike, so no answer has two places."""
    for texts in (pads.QUALITY_TEXTS, pads.TENSION_TEXTS, pads.STRUCTURES):
        assert len(set(texts)) == len(texts)


def test_the_families_hold_every_structure_once() -> None:
    """Nothing is missing from the groups."""
    places = [place for _, of_family in pads.STRUCTURE_FAMILIES for place in of_family]
    assert sorted(places) == list(range(len(pads.STRUCTURES)))


def test_every_layer_of_three_or_four_different_notes_is_on_the_pad() -> None:
    """All gaps up to an octave, close and open: three thousand layers and more."""
    found = 0
    for count in (2, 3):
        for heights in combinations(range(1, 25), count):
            if len({0, *(height % 12 for height in heights)}) == count + 1:
                gaps = tuple(high - low for low, high in zip((0, *heights), heights, strict=False))
                assert pads.structure_place(name_layer(gaps)) is not None, gaps
                found += 1
    assert found > 1000


def test_a_doubled_note_leaves_the_structure_and_one_note_has_none() -> None:
    """C E G C is a major triad; C in octaves and C E C are no structure."""
    assert pads.structure_place(name_layer((4, 3, 5))) == pads.STRUCTURES.index("major triad")
    assert pads.structure_place(name_layer((12, 12))) is None
    assert pads.structure_place(name_layer((4, 8))) is None


def test_what_can_be_turned_and_what_divides_the_octave_evenly() -> None:
    """Triads have inversions, stacks stand; the augmented triad and the diminished seventh are even."""
    at = pads.STRUCTURES.index
    assert pads.is_turned(at("minor triad"))
    assert not pads.is_turned(at("quartal stack"))
    assert not pads.is_turned(at("four mixed notes"))
    even = [name for place, name in enumerate(pads.STRUCTURES) if pads.is_even(place)]
    assert even == ["augmented triad", "diminished seventh chord"]
