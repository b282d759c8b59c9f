"""Swapping a layer: the other one stays, and the answer is the chord, without a repeated or clashing note."""

from __future__ import annotations

from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.catalogue.chord_type import chord_type
from drills.catalogue.filters import Query
from drills.catalogue.find import find
from drills.catalogue.rank import REPEATED_NOTE
from drills.catalogue.setup import Setup
from drills.catalogue.swap import swap, swap_both
from drills.catalogue.worth import worths
from drills.errors import DrillsError
from drills.neck.instrument import Instrument
from drills.neck.search import find_in_key, roots_by_fourths
from drills.theory.layer import name_layer
from drills.theory.layer_pattern import LayerPattern, read_layer_pattern
from drills.theory.motion.moved import Moved
from drills.theory.naming import Named, name_notes
from drills.theory.pitch import read_note_name
from drills.theory.text import read_voicing


def read(text: str, root: str = "C") -> Named:
    """A voicing in degrees or notes, over a root."""
    over = read_note_name(root)
    written = read_voicing(text, root=over)
    return name_notes(written.midi, written.sizes, root=over, degrees=written.degrees)


def texts(moved: tuple[Moved, ...]) -> set[str]:
    """Their degrees in layers."""
    return {each.named.sounding.voicing.text for each in moved}


SHELF = (
    ("b7 3 | 13 9 #11", "Eb"),
    ("7 3 | 13 9 #11", "C"),
    ("b7 b3 | 13 9 11", "D"),
    ("3 b7 | #9 b13 1", "G"),
    ("1 3 13 | 9 5 7", "C"),
    ("b3 5 1 | 11 b7 9", "Bb"),
    ("b7 9 5 | 1 11 13", "C"),
    ("b3 b7 | 9 b5 1", "D"),
    ("1 5 b3 | 11 b7 9", "Bb"),
    ("3 6 | 9 5 1", "C"),
    ("1 5 | 3 9", "C"),
    ("1 5 3", "C"),
)
"""Voicings of the evening group's term, and one that is a single layer."""

KINDS = (
    "triad",
    "open triad",
    "stack",
    "sus",
    "sus4",
    "shell",
    "cluster",
    "seventh chord",
    "interval",
    "close",
    "",
)


@given(st.sampled_from(SHELF), st.sampled_from(("lower", "upper")), st.sampled_from(KINDS))
def test_the_other_layer_stays_and_the_chord_is_made(start: tuple[str, str], role: str, kind: str) -> None:
    """Kept notes, the kind asked for, no repeat, no clash, third and seventh there, one answer once."""
    named = read(*start)
    wanted = read_layer_pattern(kind) if kind else LayerPattern()
    try:
        answers = swap(named, role, wanted)
    except DrillsError:
        return
    number = 0 if role == "lower" else 1
    kept = named.sounding.pitches[named.layers[1 - number].places]
    guides = {each.semitones for each in named.reading.degrees if each.number in (3, 4, 7)}
    assert len({each.named.sounding.midi for each in answers}) == len(answers)
    for each in answers:
        after = each.named
        new = after.layers[number]
        classes = [midi % 12 for midi in after.sounding.midi]
        own = classes[new.places]
        midi_of_kept = [pitch.midi for pitch in kept]
        assert list(after.sounding.midi[after.layers[1 - number].places]) == midi_of_kept
        assert wanted.fits(new.name)
        assert not set(own) & {midi % 12 for midi in midi_of_kept}
        assert len(set(own)) == len(own)
        assert after.reading.clashes == ()
        assert guides <= {degree.semitones for degree in after.reading.degrees}
        assert after.reading.symbol.quality == named.reading.symbol.quality
        assert after.sounding.midi != named.sounding.midi


def test_answers_agree_with_brute_force() -> None:
    """Over the seventh and third of E flat, every close triad of E♭ lydian dominant that keeps 13 and ♯11.

    Written another way: the six other notes of the scale in every order.
    """
    lydian_dominant = (0, 2, 4, 6, 7, 9, 10)
    kept, needed = {10, 4}, {9, 6}
    expected = set()
    for layer in permutations(sorted(set(lydian_dominant) - kept), 3):
        name = name_layer(((layer[1] - layer[0]) % 12, (layer[2] - layer[1]) % 12))
        if name.family == "triad" and name.spacing == "close" and needed <= set(layer):
            expected.add(layer)
    found = swap(read("b7 3 | 13 9 #11", "Eb"), "upper", read_layer_pattern("close triad"))
    layers = {tuple(each.semitones for each in answer.named.reading.degrees[2:]) for answer in found}
    assert layers == expected - {(9, 2, 6)}  # the layer that is there already


@pytest.mark.parametrize(
    ("text", "root", "role", "kind", "expected"),
    [
        pytest.param(
            "b7 3 | 13 9 #11",
            "Eb",
            "upper",
            "close sus4",
            {"b7 3 | 5 1 9", "b7 3 | 9 5 13"},
            id="tensions go",
        ),
        pytest.param(
            "b7 3 | 6 9 #11",
            "Eb",
            "upper",
            "close sus4",
            {"b7 3 | 5 1 9", "b7 3 | 9 5 13"},
            id="a thirteenth typed as a sixth goes too",
        ),
        pytest.param(
            "1 5 | 3 6 9",
            "C",
            "upper",
            "perfect fourth",
            {"1 5 | 3 6"},
            id="without a seventh the sixth stays",
        ),
        pytest.param("1 5 3 | 7 9", "C", "upper", "close triad", {"1 5 3 | 7 9 #11"}, id="a colour comes"),
        pytest.param(
            "7 3 | 13 9 #11", "C", "lower", "perfect fifth", {"3 7 | 13 9 #11"}, id="the lower, two notes"
        ),
        pytest.param(
            "1 | 3 b7 9", "C", "lower", "single note", {"5 | 3 b7 9", "13 | 3 b7 9"}, id="another bass"
        ),
    ],
)
def test_what_players_would_answer(text: str, root: str, role: str, kind: str, expected: set[str]) -> None:
    """A few swaps worked out by hand (common practice, no source)."""
    found = texts(swap(read(text, root), role, read_layer_pattern(kind)))
    assert {each.replace("'", "") for each in found} >= expected


def test_what_changed_is_told() -> None:
    """Only the notes that went and came, in pairs, and the new layer in words."""
    (first, *_) = swap(read("Db3 G3 | C4 F4 A4", "Eb"), "upper", read_layer_pattern("close sus4"))
    assert [(old and old.plain, new and new.plain) for old, new in first.changed] == [
        ("C4", "Bb4"),
        ("A4", "C5"),
    ]
    assert first.move == "upper layer to F sus4"
    assert first.words == "F major triad, close, second inversion → F sus4, close: E♭13♯11 becomes E♭13"


@pytest.mark.parametrize(
    ("text", "root", "kind", "first"),
    [
        ("b7 3 | 13 9 #11", "Eb", "triad", "b7 3 | #11 13 9"),  # not 13 1 ♯11, A diminished
        ("b7 b3 | 13 9 11", "C", "triad", "b7 b3 | 11 13 9"),  # not 13 1 11, F major
        ("b7 3 | 13 9 #11", "Eb", "close sus4", "b7 3 | 9 5 13"),  # not 5 1 9, B♭ sus4
    ],
)
def test_a_root_that_was_left_to_the_bass_does_not_come_back_first(
    text: str, root: str, kind: str, first: str
) -> None:
    """The bass player has it already: a layer of colour tones goes first (common practice, no source)."""
    answers = swap(read(text, root), "upper", read_layer_pattern(kind))
    assert answers[0].named.sounding.voicing.text == first
    assert any(not each.named.reading.is_rootless for each in answers)


def test_a_root_in_the_bass_repeats_nothing() -> None:
    """Only above the lowest note does the bass player's root cost what a repeated note costs."""
    rootless, bass, above = read("b7 3 | 13 9 #11"), read("1 b7 | 3 13 9"), read("3 b7 | 9 5 1")
    voicings, setup = [rootless, bass, above], Setup()
    alone, with_bass = worths(voicings, setup), worths(voicings, setup, root_is_bass_players=True)
    assert [own - less for own, less in zip(alone, with_bass, strict=True)] == [0, 0, -REPEATED_NOTE]


def test_a_layer_goes_where_its_neighbours_leave_room() -> None:
    """The middle of three layers stays between the others, and no note falls below the floor."""
    for each in swap(read("1 | 3 b7 | 9' 13"), "middle", read_layer_pattern("interval")):
        below, *_, above = each.named.sounding.midi[:-1]
        assert below < each.named.sounding.midi[1] < each.named.sounding.midi[2] < above
    low = read("E2 B2 | G#3 D4 F#4", "E")
    free = swap(low, "lower", read_layer_pattern("interval"))
    floored = swap(low, "lower", read_layer_pattern("interval"), floor_midi=40)
    assert any(each.named.sounding.midi[0] < 40 for each in free)
    assert all(each.named.sounding.midi[0] >= 40 for each in floored)


def test_no_answer_says_why_and_what_would_do() -> None:
    """Each reason has its words, and the nearest kind that fits is named."""
    cases = [
        ("1 5 b3 | 11 b7 9", "lower", "quintal stack", "each repeats a note of the layer that stays"),
        ("1 3 5 | 7 9", "upper", "semitone cluster", "its usual scales hold none"),
        ("1 5 3 | 7 9", "upper", "major triad", "none brings the tones that make the chord"),
        ("1 5 3 | 7 9 11", "upper", "triad", "each clashes with the layer that stays, or crosses it"),
    ]
    for text, role, kind, why in cases:
        with pytest.raises(
            DrillsError, match=f"no {kind} fits as the {role} layer of .*: {why}; nearest that fits"
        ):
            swap(read(text), role, read_layer_pattern(kind))


def test_a_chord_that_no_scale_holds_cannot_be_swapped_in() -> None:
    """The reason is the chord, not the kind of layer."""
    with pytest.raises(DrillsError, match="no scale we know holds the whole chord; swap the other layer"):
        swap(read("C3 Db3 D3 | E3 Eb4 F4"), "upper", read_layer_pattern("triad"))


def test_a_single_layer_has_nothing_to_keep() -> None:
    """The error shows how to write two."""
    with pytest.raises(DrillsError, match="a voicing of one layer has no other to keep; write a bar"):
        swap(read("1 3 5"), "upper", read_layer_pattern("triad"))


def test_both_layers_are_swapped_at_once() -> None:
    """Two stacked fifths below, then an upper layer that brings what they leave out."""
    start = read("1 5 3 | 7 9 #11")
    answers = swap_both(start, read_layer_pattern("quintal stack"), read_layer_pattern("sus"))
    assert answers[0].named.sounding.voicing.text == "1 5 9 | 7 3 #11"
    assert answers[0].words == "C quintal stack, close below, B sus4, close on top"
    for each in answers:
        lower, upper = each.named.layers
        assert (lower.name.structure, upper.name.family) == ("quintal stack", "sus")
        assert len({midi % 12 for midi in each.named.sounding.midi}) == 6
        assert {4, 11, 6} <= {degree.semitones for degree in each.named.reading.degrees}
        assert ("becomes" in each.words) == (each.named.chord_plain != "Cmaj9#11")


def test_both_layers_need_an_answer_and_two_layers() -> None:
    """No answer, no room, one layer: each is said."""
    stack, cluster = read_layer_pattern("stack"), read_layer_pattern("semitone cluster")
    with pytest.raises(
        DrillsError,
        match="no stack below with a semitone cluster on top makes Cmaj9; nearest that fits on top: upper=",
    ):
        swap_both(read("1 5 3 | 7 9"), stack, cluster)
    with pytest.raises(DrillsError, match="makes Cmaj9; ask for another lower layer"):
        swap_both(read("1 5 3 | 7 9"), stack, stack, floor_midi=127)
    with pytest.raises(DrillsError, match="1 layers are not two"):
        swap_both(read("1 5 3"), stack, stack)


@pytest.mark.parametrize("chord", ["m11", "13#11", "6/9", "9#5", "m7b5"])
@pytest.mark.parametrize("repeats", [False, True], ids=["each note once", "notes repeated"])
def test_points_are_those_that_the_catalogue_gives(chord: str, repeats: bool) -> None:
    """The same voicing has the same points, whether it was found or swapped in."""
    setup = Setup()
    found = find(Query(chords=(chord_type(chord),), notes=(5,), repeats=repeats), setup, limit=5000).entries
    in_c = [each for each in found if each.stretch_mm is not None and each.root.pitch_class == 0]
    some = in_c[:: 1 + len(in_c) // 80]
    named = []
    for each in some:
        midi = tuple(each.lowest_midi + height for height in each.voicing.heights_semitones)
        named.append(name_notes(midi, each.voicing.sizes, root=each.root, degrees=each.voicing.degrees))
    assert len({each.score for each in some}) > 5
    assert worths(named, setup) == [each.score for each in some]


def test_points_are_those_of_the_catalogue() -> None:
    """More keys, less stretch, a colour on top and an upper layer from 3 or 7 count for a voicing."""
    easy, hard = read("b7 3 | 13 9 #11", "Eb"), read("1 5 3 | 7 9", "C")
    points = worths([easy, hard], Setup())
    keys = [
        sum(bool(find_in_key(v.sounding.voicing, r).places) for r in roots_by_fourths("major"))
        for v in (easy, hard)
    ]
    assert keys[0] > keys[1]
    assert points[0] > points[1]
    assert worths([], Setup()) == []
    unreachable = read("C2 D2 | E2 F#2 G2", "C")
    assert worths([unreachable], Setup(Instrument()))[0] < -40
