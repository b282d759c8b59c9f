"""Names of layers of one to four notes."""

from __future__ import annotations

from itertools import accumulate, combinations, pairwise, permutations, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.theory.layer import LayerName, name_layer
from drills.theory.tables import FOUR_NOTE_ROWS, GAP_ROWS, INVERSIONS, STRUCTURE_ROWS, StructureRow

THREE_NOTE_NAMES = {row.name for row in STRUCTURE_ROWS} | {
    row.name for row in GAP_ROWS if len(row.gaps_semitones) == 2
}

# Structure -> its notes over its root, written down apart from the tables (common practice, no source).
OVER_ROOT = {
    "major triad": "0 4 7",
    "minor triad": "0 3 7",
    "diminished triad": "0 3 6",
    "augmented triad": "0 4 8",
    "sus4 flat five": "0 5 6",
    "sus sharp four": "0 6 7",
    "major seventh shell": "0 4 11",
    "dominant seventh shell": "0 4 10",
    "minor seventh shell": "0 3 10",
    "minor-major seventh shell": "0 3 11",
    "major seventh without third": "0 7 11",
    "seventh without third": "0 7 10",
    "seventh flat five without third": "0 6 10",
    "split third": "0 3 4",
    "semitone cluster": "0 1 2",
    "semitone-tone cluster": "0 1 3",
    "tone-semitone cluster": "0 2 3",
    "whole-tone cluster": "0 2 4",
}
STANDS_ON_ITS_LOWEST = {
    # gaps, each within an octave: structure
    (5, 5): "quartal stack",
    (10, 7): "quartal stack",
    (7, 7): "quintal stack",
    (2, 5): "sus2",
    (5, 2): "sus4",
    (7, 10): "sus4",
    (5, 6): "mixed quartal stack",
    (6, 5): "mixed quartal stack",
    (7, 6): "mixed quintal stack",
    (6, 7): "mixed quintal stack",
}


def heights_of(gaps: tuple[int, ...]) -> tuple[int, ...]:
    """The notes over the lowest one."""
    return tuple(accumulate(gaps, initial=0))


THREE_NOTES = [
    gaps for gaps in product(range(1, 18), repeat=2) if len({h % 12 for h in heights_of(gaps)}) == 3
]


def test_all_nineteen_classes_of_three_notes_have_one_name_or_two() -> None:
    """Every class under transposition, in every order of its notes, has a name that the contract lists."""
    classes = {
        min(tuple(sorted((note - low) % 12 for note in notes)) for low in notes)
        for notes in combinations(range(12), 3)
    }
    assert len(classes) == 19
    for notes in classes:
        for low, middle, top in permutations(notes):
            assert name_layer(((middle - low) % 12, (top - middle) % 12)).structure in THREE_NOTE_NAMES


@pytest.mark.parametrize("first_gap", range(1, 18))
def test_three_notes_are_what_they_are_called(first_gap: int) -> None:
    """With gaps of 1 to 17 the root is where its structure puts it, and the inversion says what is lowest."""
    for gaps in (each for each in THREE_NOTES if each[0] == first_gap):
        heights, name = heights_of(gaps), name_layer(gaps)
        assert name.structure in THREE_NOTE_NAMES
        assert name.root_place is not None
        within = (gaps[0] % 12, gaps[1] % 12)
        if within in STANDS_ON_ITS_LOWEST:
            assert (name.structure, name.root_place) == (STANDS_ON_ITS_LOWEST[within], 0)
            assert name.inversion == "root position"
            continue
        root = heights[name.root_place]
        over_root = sorted((height - root) % 12 for height in heights)
        assert over_root == [int(word) for word in OVER_ROOT[name.structure].split()]
        member = over_root.index(-root % 12)
        if "shell" in name.structure:
            member = (0, 1, 3)[member]
        if "without third" in name.structure:
            member = (0, 2, 3)[member]
        assert name.inversion == INVERSIONS[member]


def test_spacing_of_three_notes_is_close_open_or_wide() -> None:
    """Close within an octave; open with the middle note of a close layer an octave up; wide otherwise."""
    close = {gaps for gaps in THREE_NOTES if sum(gaps) < 12}
    opened = {(first + second, 12 - second) for first, second in close}
    stacks = {(7, 7), (6, 7), (7, 6)}
    for gaps in THREE_NOTES:
        expected = "close" if gaps in close | stacks else "open" if gaps in opened else "wide"
        assert name_layer(gaps).spacing == expected, gaps


@pytest.mark.parametrize(
    ("gaps", "name"),
    [
        ((7, 8), LayerName("minor triad", "triad", 0, "root position", "open")),
        ((5, 4), LayerName("major triad", "triad", 1, "second inversion", "close")),
        ((4, 4), LayerName("augmented triad", "triad", 0, "root position", "close")),
        ((7, 7), LayerName("quintal stack", "stack", 0, "root position", "close")),
        ((10, 7), LayerName("quartal stack", "stack", 0, "root position", "open")),
        ((17, 5), LayerName("quartal stack", "stack", 0, "root position", "wide")),
        ((7, 10), LayerName("sus4", "sus", 0, "root position", "open")),
        ((1, 4), LayerName("major seventh shell", "shell", 1, "third inversion", "close")),
        ((3, 1), LayerName("split third", "cluster", 0, "root position", "close")),
    ],
    ids=lambda value: "+".join(map(str, value)) if isinstance(value, tuple) else value.structure,
)
def test_layers_that_players_meet_daily(gaps: tuple[int, ...], name: LayerName) -> None:
    """Common practice, no source."""
    assert name_layer(gaps) == name


@pytest.mark.parametrize(
    ("gaps", "structure", "spacing"),
    [
        ((), "single note", "close"),
        ((7,), "perfect fifth", "close"),
        ((12,), "octave", "close"),
        ((16,), "major tenth", "open"),
        ((24,), "two octaves", "wide"),
        ((31,), "perfect fifth and two octaves", "wide"),
    ],
)
def test_one_and_two_notes_have_no_root(gaps: tuple[int, ...], structure: str, spacing: str) -> None:
    """An interval is called by its size."""
    name = name_layer(gaps)
    assert (name.structure, name.spacing, name.root_place, name.inversion) == (structure, spacing, None, None)


@pytest.mark.parametrize(
    ("gaps", "structure", "root_place"),
    [
        ((12, 12), "one note in octaves", 0),
        ((7, 5), "perfect fifth, one note doubled", 0),
        ((7, 5, 7), "perfect fifth, notes doubled", 0),
        ((4, 3, 5), "major triad, one note doubled", 0),
        ((3, 5, 4), "major triad, one note doubled", 2),
        ((0, 7), "perfect fifth, one note doubled", 0),
    ],
)
def test_a_repeated_pitch_class_is_said(gaps: tuple[int, ...], structure: str, root_place: int) -> None:
    """The layer is called by what is left, with its doubling."""
    assert (name_layer(gaps).structure, name_layer(gaps).root_place) == (structure, root_place)


def dropped(close: tuple[int, ...], voices: tuple[int, ...]) -> tuple[int, ...]:
    """The gaps of a close chord after voices, counted from the top, went down an octave."""
    heights = heights_of(close)
    notes = sorted(h - 12 if len(heights) - place in voices else h for place, h in enumerate(heights))
    return tuple(high - low for low, high in pairwise(notes))


@pytest.mark.parametrize("bass", range(4), ids=["root", "first", "second", "third"])
@pytest.mark.parametrize("row", FOUR_NOTE_ROWS, ids=lambda row: row.name)
def test_four_notes_are_named_in_close_position_and_in_drops(row: StructureRow, bass: int) -> None:
    """Structure, root and spacing survive every inversion of close, drop 2, drop 3, drop 2 and 4.

    Some of these shapes are stacks of fourths or fifths as well, and are called so.
    """
    turned = sorted((note - row.semitones[bass]) % 12 for note in row.semitones)
    close = tuple(high - low for low, high in pairwise(turned))
    named = name_layer(close)
    for spacing, voices in (("close", ()), ("drop 2", (2,)), ("drop 3", (3,)), ("drop 2 and 4", (2, 4))):
        gaps = dropped(close, voices)
        name = name_layer(gaps)
        if set(gaps) <= {5, 6} or set(gaps) <= {6, 7}:
            assert name.family == "stack"
            continue
        assert (name.structure, name.spacing) == (named.structure, spacing)
        assert name.root_place is not None
        root = heights_of(gaps)[name.root_place]
        over_root = {(height - root) % 12 for height in heights_of(gaps)}
        assert over_root in [set(each.semitones) for each in FOUR_NOTE_ROWS if each.name == name.structure]


@pytest.mark.parametrize(
    ("gaps", "structure", "spacing"),
    [
        ((5, 5, 5), "quartal stack", "close"),
        ((5, 5, 6), "mixed quartal stack", "close"),
        ((5, 6, 5), "mixed quartal stack", "close"),
        ((7, 7, 7), "quintal stack", "close"),
        ((1, 1, 1), "four-note cluster", "close"),
        ((1, 2, 6), "four mixed notes", "close"),
        ((1, 1, 11), "semitone cluster, one note doubled", "open"),
        ((11, 14, 13), "four mixed notes", "wide"),
        ((16, 3, 4), "major seventh chord", "open"),
    ],
)
def test_other_layers_of_four(gaps: tuple[int, ...], structure: str, spacing: str) -> None:
    """Stacks, clusters and what has no better name."""
    name = name_layer(gaps)
    assert (name.structure, name.spacing) == (structure, spacing)


@given(st.lists(st.integers(0, 40), max_size=3).map(tuple))
def test_no_layer_goes_unnamed(gaps: tuple[int, ...]) -> None:
    """Any gaps make a name, and a root that is one of the notes."""
    name = name_layer(gaps)
    assert name.structure
    assert name.root_place is None or 0 <= name.root_place <= len(gaps)
    assert (name.root_place is None) == (name.inversion is None)


def test_symmetrical_layers_know_that_they_are() -> None:
    """Spelling or the bass decides over their root."""
    symmetrical = {"augmented triad": (4, 4), "diminished seventh chord": (3, 3, 3)}
    for structure, gaps in symmetrical.items():
        assert name_layer(gaps).structure == structure
        assert name_layer(gaps).is_symmetrical
    assert not name_layer((4, 3)).is_symmetrical
