"""Voicings free of key, and over a root."""

from __future__ import annotations

from itertools import permutations, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.errors import DrillsError
from drills.theory.chord import FOURTHS, habit_root
from drills.theory.degree import KNOWN, read_degree
from drills.theory.naming import name_notes
from drills.theory.pitch import NoteName, read_note_name
from drills.theory.text import read_voicing
from drills.theory.voicing import DEFAULT_SIZES, MOST_NOTES, PitchedVoicing, Voicing, checked_sizes


def voicing_of(text: str) -> Voicing:
    """A voicing from its degrees."""
    written = read_voicing(text, root=NoteName(0))
    return name_notes(written.midi, written.sizes, root=NoteName(0), degrees=written.degrees).sounding.voicing


M11 = voicing_of("1 5 b3 | 11 b7 9")


def test_a_voicing_knows_its_measures() -> None:
    """Heights, gaps, span, and where its lowest note stands."""
    assert M11.heights_semitones == (0, 7, 15, 17, 22, 26)
    assert M11.gaps_semitones == (7, 8, 2, 5, 4)
    assert M11.span_semitones == 26
    assert M11.lowest_over_root_semitones == 0
    assert voicing_of("b7 3 | 13 9 #11").lowest_over_root_semitones == 10


@pytest.mark.parametrize(
    "text",
    [
        "1 5 b3 | 11 b7 9",
        "b7 3 | 13 9 #11",
        "1",
        "1 5",
        "1 3 | 5 b7",
        "1 5' b3''",
        "1 | 5 b3 | b7 9",
        "1 | 3 5",
    ],
)
def test_a_voicing_is_written_as_it_is_read(text: str) -> None:
    """Degrees with bars, an apostrophe for each octave more."""
    assert voicing_of(text).text == text
    assert voicing_of(text).shown == text.replace("b", "♭").replace("#", "♯")


@pytest.mark.parametrize(
    ("text", "roles"),
    [("1 3 5", ["single"]), ("1 3 | 5 b7", ["lower", "upper"]), ("1 | 3 | 5", ["lower", "middle", "upper"])],
)
def test_layers_have_roles(text: str, roles: list[str]) -> None:
    """From the lowest up; together they hold every note once."""
    voicing = voicing_of(text)
    assert [layer.role for layer in voicing.layers] == roles
    held = [degree for layer in voicing.layers for degree in voicing.degrees[layer.places]]
    assert tuple(held) == voicing.degrees


def test_default_layers_hold_all_notes() -> None:
    """Up to eight of them, no layer with more than four."""
    assert list(DEFAULT_SIZES) == list(range(1, MOST_NOTES + 1))
    for count, sizes in DEFAULT_SIZES.items():
        assert sum(sizes) == count
        assert checked_sizes(sizes) == sizes


@pytest.mark.parametrize(
    ("sizes", "fault"),
    [((1, 1, 1, 1), "4 layers are too many"), ((2, 0), "a layer is empty"), ((5,), "a layer of 5 notes")],
    ids=str,
)
def test_layers_that_have_no_name_are_refused(sizes: tuple[int, ...], fault: str) -> None:
    """With the place of the fault."""
    with pytest.raises(DrillsError, match=f"^lower: {fault}"):
        checked_sizes(sizes, where="lower")


def test_a_voicing_sounds_over_a_root() -> None:
    """The project's own example, B♭m11 in two layers."""
    sounding = M11.over(read_note_name("Bb"), 46)
    assert sounding.midi == (46, 53, 61, 63, 68, 72)
    assert [pitch.plain for pitch in sounding.pitches] == ["Bb2", "F3", "Db4", "Eb4", "Ab4", "C5"]
    assert [name.shown for name in sounding.names] == ["B♭", "F", "D♭", "E♭", "A♭", "C"]
    lower, upper = M11.layers
    assert sounding.layer_words(lower) == "B♭ minor triad"
    assert sounding.layer_words(upper) == "A♭ major triad"
    assert (lower.name.spacing, upper.name.inversion) == ("open", "second inversion")


@given(st.sampled_from(FOURTHS), st.integers(0, 60))
def test_the_lowest_place_is_at_or_above_the_floor(pitch_class: int, floor_midi: int) -> None:
    """And less than an octave above it."""
    sounding = M11.lowest_at_or_above(habit_root(pitch_class, "minor"), floor_midi)
    assert floor_midi <= sounding.lowest_midi < floor_midi + 12
    assert sounding.lowest_midi % 12 == pitch_class


@given(st.sampled_from(FOURTHS), st.sampled_from(FOURTHS), st.integers(24, 60))
def test_transposing_there_and_back_changes_nothing(first: int, second: int, floor_midi: int) -> None:
    """A voicing is free of key: over another root only its height and its names change."""
    here = M11.lowest_at_or_above(habit_root(first, "minor"), floor_midi)
    there = here.voicing.lowest_at_or_above(habit_root(second, "minor"), floor_midi)
    back = there.voicing.lowest_at_or_above(habit_root(first, "minor"), floor_midi)
    assert back == here
    shift = there.lowest_midi - here.lowest_midi
    assert there.midi == tuple(midi + shift for midi in here.midi)


@pytest.mark.parametrize(
    ("text", "root", "words"),
    [
        ("1 5", "C", ["perfect fifth"]),
        ("1 3 #5", "C", ["C augmented triad"]),
        ("3 #5 1", "C", ["C augmented triad"]),
        ("#5 1 3", "Eb", ["E♭ augmented triad"]),
        ("b7 9 #11", "C", ["B♭ augmented triad"]),
        ("b7 3 | 13 9 #11", "F#", ["tritone", "G♯ major triad"]),
        ("3 5 b7", "B", ["D♯ diminished triad"]),
        ("#9 #11 b7", "C", ["E♭ minor triad"]),
        ("b9 3 b13", "C", ["D♭ minor triad"]),
        ("b13 1 #9", "C", ["A♭ major triad"]),
        ("#11 b7 b9", "C", ["F♯ major triad"]),
        ("b3 5 b7", "Ab", ["C♭ major triad"]),
        ("b9 11 b13", "Ab", ["A major triad"]),
        ("b9 3 b13", "Eb", ["E minor triad"]),
        ("3 #5 7", "C#", ["F major triad"]),
        ("1 4 b7", "F#", ["F♯ quartal stack"]),
        ("1 5 9", "Db", ["D♭ quintal stack"]),
        ("b9 9 #9", "C", ["D♭ semitone cluster"]),
    ],
)
def test_a_layer_has_the_root_that_its_notes_spell(text: str, root: str, words: list[str]) -> None:
    """E♯, B♯, F♭ and double signs alone give way to plainer names."""
    sounding: PitchedVoicing = voicing_of(text).lowest_at_or_above(read_note_name(root), 40)
    assert [sounding.layer_words(layer) for layer in sounding.voicing.layers] == words


@pytest.mark.parametrize("letter", range(7), ids="CDEFGAB")
def test_every_augmented_layer_spells_a_root(letter: int) -> None:
    """Whatever the degrees and the signs of the root, one note has letters a third and a fifth above it."""
    for alter, words in product(range(-2, 3), permutations(KNOWN, 3)):
        degrees = tuple(read_degree(word) for word in words)
        low, middle, top = (each.semitones for each in degrees)
        if (middle - low) % 12 == (top - middle) % 12 == 4:
            sounding = Voicing(degrees, (0, 4, 8), (3,)).lowest_at_or_above(NoteName(letter, alter), 40)
            (layer,) = sounding.voicing.layers
            assert sounding.layer_root(layer) is not None
