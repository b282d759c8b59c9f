"""Scales, which chords they serve, avoid notes."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.errors import DrillsError
from drills.theory.chord import read_chord
from drills.theory.scale import SCALES, Scale, guide_tones, read_scale, scales_for

MODES_PER_PARENT = [7, 7, 7, 7, 2, 1]


@pytest.mark.parametrize("scale", SCALES, ids=lambda scale: scale.name)
def test_a_scale_rises_from_its_tonic(scale: Scale) -> None:
    """Within an octave, no note twice."""
    assert scale.semitones[0] == 0
    assert list(scale.semitones) == sorted(set(scale.semitones))


def test_scales_have_one_name_and_one_form_each() -> None:
    """Six parents with their modes."""
    assert len({scale.name for scale in SCALES}) == len(SCALES)
    assert len({scale.semitones for scale in SCALES}) == len(SCALES)
    counts = [sum(scale.parent == parent for scale in SCALES) for parent in range(6)]
    assert counts == MODES_PER_PARENT


@pytest.mark.parametrize("scale", SCALES, ids=lambda scale: scale.name)
def test_modes_of_one_parent_are_turns_of_each_other(scale: Scale) -> None:
    """Each is its parent begun on another step."""
    family = [other for other in SCALES if other.parent == scale.parent]
    first = family[0].semitones
    shift = first[family.index(scale)]
    assert sorted((step - shift) % 12 for step in first) == list(scale.semitones)


@pytest.mark.parametrize(
    ("text", "notes"),
    [
        ("F major", "F G A Bb C D E"),
        ("C melodic minor", "C D Eb F G A B"),
        ("C harmonic minor", "C D Eb F G Ab B"),
        ("C harmonic major", "C D E F G Ab B"),
        ("D dorian", "D E F G A B C"),
        ("B♭  Lydian Dominant", "Bb C D E F G Ab"),
        ("G altered", "G Ab Bb Cb Db Eb F"),
        ("C half-whole", "C Db Eb E F# G A Bb"),
        ("C whole half", "C D Eb F Gb Ab A B"),
        ("C whole-tone", "C D E F# G# Bb"),
        ("Gb jazz minor", "Gb Ab Bbb Cb Db Eb F"),
        ("A minor", "A B C D E F G"),
        ("E mixolydian ♭9 ♭13", "E F G# A B C D"),
        ("B aeolian b5", "B C# D E F G A"),
        ("C lydian #5", "C D E F# G# A B"),
        ("G half-whole diminished", "G Ab Bb B C# D E F"),
        ("B diminished", "B C# D E F G G# A#"),
        ("G diminished whole-tone", "G Ab Bb Cb Db Eb F"),
        ("D dorian b9", "D Eb F G A B C"),
    ],
)
def test_a_scale_is_read_with_its_tonic(text: str, notes: str) -> None:
    """By its trade name, in any case, and spelled one letter a step."""
    tonic, scale = read_scale(text)
    assert " ".join(note.plain for note in scale.notes(tonic)) == notes


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("C dorain", "no scale named 'C dorain'; write a tonic and a scale, such as C dorian"),
        ("C", "no scale named 'C'; write a tonic and a scale, such as C major"),
        ("", "no scale named ''"),
        ("H major", "no note named 'H'"),
        ("C4 major", "'C4' has an octave; write C"),
    ],
)
def test_a_scale_that_is_none_is_refused(text: str, message: str) -> None:
    """With the nearest right name."""
    with pytest.raises(DrillsError) as caught:
        read_scale(text, where="--scale")
    assert str(caught.value).startswith(f"--scale: {message}")


@given(st.text(max_size=20) | st.sampled_from(SCALES).map(lambda scale: f"Fb {scale.name}"))
def test_no_text_is_too_odd_for_the_reader(text: str) -> None:
    """A scale or an error of ours."""
    try:
        tonic, scale = read_scale(text)
    except DrillsError:
        return
    semitones = tuple((note.pitch_class - tonic.pitch_class) % 12 for note in scale.notes(tonic))
    assert semitones == scale.semitones


# chord: the scales players reach for first (common practice, no source); avoid notes by the bare rule of
# Nettles and Graf, The Chord Scale Theory and Jazz Harmony (1997), from memory
FIRST_SCALES = """
Cmaj7      | ionian (11), lydian ()
Cmaj7#11   | lydian ()
Cmaj7#5    | lydian augmented (13)
Cmaj7#9    | lydian #2 ()
C6/9       | ionian (11), lydian ()
C7         | mixolydian (11), lydian dominant ()
C13#11     | lydian dominant ()
C9#5       | mixolydian b6 (11), whole-tone ()
C7b9       | half-whole (b9), phrygian dominant (b9 11 b13)
C7#9       | half-whole (b9), altered (b9)
C7alt      | altered (b9)
C7#9b13    | altered (b9)
C7b9b13    | phrygian dominant (b9 11 b13), altered (b9)
C13b9      | half-whole (b9)
C9sus4     | mixolydian ()
C7sus4b9   | dorian b2 (b9), phrygian (b9 b13)
Cm7        | dorian (), aeolian (b13), phrygian (b9 b13)
Cm6        | dorian (), melodic minor ()
Cm(maj7)   | melodic minor (), harmonic minor (b13)
Cm7b5      | locrian (b9), locrian #2 ()
Cm9b5      | locrian #2 ()
Cdim7      | whole-half (), altered bb7 (b9 3)
Caug       | whole-tone ()
C5         | ionian (), lydian ()
"""
SCALE_ROWS = [[word.strip() for word in line.split("|")] for line in FIRST_SCALES.strip().splitlines()]


@pytest.mark.parametrize(("chord", "expected"), SCALE_ROWS, ids=[row[0] for row in SCALE_ROWS])
def test_a_chord_has_its_usual_scales(chord: str, expected: str) -> None:
    """The first ones, with their avoid notes."""
    read = read_chord(chord)
    found = [f"{scale.name} ({' '.join(scale.avoid(guide_tones(read)))})" for scale in scales_for(read)]
    assert ", ".join(found[: expected.count("(")]) == expected


@pytest.mark.parametrize("chord", ["C13", "Cm11", "Cmaj9#11", "C7b9b13", "Cm7b9", "Cdim(maj7)"])
def test_a_scale_for_a_chord_holds_all_of_it(chord: str) -> None:
    """An altered dominant may do without its fifth."""
    read = read_chord(chord)
    needed = {each.semitones for each in read.degrees}
    scales = scales_for(read)
    assert scales
    for scale in scales:
        missing = needed - set(scale.semitones)
        assert missing <= ({7} if "7b9" in chord else set())


def test_notes_that_fit_no_usual_scale_have_any_that_holds_them() -> None:
    """A bare half step has no quality to go by, and a set beyond all scales has none."""
    assert scales_for(read_chord("C(1,b9)"))[0].name == "phrygian"
    assert scales_for(read_chord("C(1,b9,9,#11)")) == ()


def test_the_fourth_of_a_sus_chord_takes_the_place_of_the_third() -> None:
    """So it is asked what lies a half step above it, and tensions and sixths are not."""
    assert [each.plain for each in guide_tones(read_chord("C13sus4"))] == ["1", "4", "5", "b7"]
    assert [each.plain for each in guide_tones(read_chord("C6/9"))] == ["1", "3", "5"]
