"""Spelled notes, with and without an octave."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.catalogue.chord_type import CHORD_TYPES
from drills.errors import DrillsError
from drills.theory.degree import KNOWN, degree
from drills.theory.pitch import (
    LETTERS,
    NATURAL_SEMITONES,
    NoteName,
    Pitch,
    checked_range,
    plain_sign,
    plain_signs,
    read_note,
    read_note_name,
    read_pitch,
    shown_signs,
    with_signs,
)
from drills.theory.symbol import symbol

names = st.builds(NoteName, st.integers(0, 6), st.integers(-2, 2))


@given(names, st.none() | st.integers(-9, 99))
def test_a_note_reads_back_from_its_plain_and_its_shown_name(name: NoteName, octave: int | None) -> None:
    """What we write, we read."""
    tail = "" if octave is None else str(octave)
    assert read_note(name.plain + tail) == read_note(name.shown + tail) == (name, octave)


@given(names, st.integers(0, 127))
def test_a_name_fits_just_the_midi_notes_of_its_pitch_class(name: NoteName, midi: int) -> None:
    """A name takes the octave that its letter has, and refuses a note that it does not name."""
    if midi % 12 == name.pitch_class:
        assert name.at_midi(midi).midi == midi
        assert name.at_midi(midi).name == name
    else:
        with pytest.raises(ValueError, match="cannot name"):
            name.at_midi(midi)


@given(names, st.integers(0, 6), st.integers(0, 11))
def test_a_note_above_sounds_right_and_needs_no_triple_sign(
    name: NoteName, steps: int, semitones: int
) -> None:
    """The letter asked for, unless it would need more than a double sign."""
    above = name.above(steps, semitones)
    assert above.pitch_class == (name.pitch_class + semitones) % 12
    assert abs(above.alter_semitones) <= 2
    letter = (name.letter + steps) % 7
    asked = [NoteName(letter, alter) for alter in range(-2, 3)]
    if any(each.pitch_class == above.pitch_class for each in asked):
        assert above.letter == letter


@pytest.mark.parametrize(
    ("typed", "plain"),
    [("B♭", "Bb"), ("F♯", "F#"), ("E𝄫", "Ebb"), ("F𝄪", "F##"), ("Fx", "F##"), ("C♮", "C"), ("Cb", "Cb")],
)
def test_a_sign_has_several_writings(typed: str, plain: str) -> None:
    """Flats and sharps may be typed or printed, a double sharp also as x."""
    assert read_note_name(typed).plain == plain


@pytest.mark.parametrize("text", ["", "h", "H2", "c", "Bbbb", "C#b", "C4 ", "C444", "4", "C٣"])
def test_a_text_that_is_no_note_is_refused(text: str) -> None:
    """The message says how notes are written."""
    with pytest.raises(DrillsError, match=r"no note named .* write A to G"):
        read_note(text)


def test_a_name_and_a_pitch_are_told_apart() -> None:
    """A root has no octave, a sounding note has one."""
    with pytest.raises(DrillsError, match="'Bb3' has an octave; write Bb"):
        read_note_name("Bb3")
    with pytest.raises(DrillsError, match="'Bb' has no octave; write Bb3"):
        read_pitch("Bb")


@pytest.mark.parametrize(("text", "midi"), [("C-1", 0), ("G9", 127), ("Cb4", 59), ("B#3", 60), ("C4", 60)])
def test_a_pitch_within_range_is_read(text: str, midi: int) -> None:
    """The ends of the MIDI range count, and the letter decides the octave."""
    assert read_pitch(text).midi == midi
    assert read_pitch(text).plain == text


@pytest.mark.parametrize("text", ["Cb-1", "G#9", "C-2", "C10"])
def test_a_pitch_out_of_range_is_refused(text: str) -> None:
    """MIDI has no number for it."""
    with pytest.raises(DrillsError, match="out of range; use octaves from C-1 to G9"):
        read_pitch(text)


def test_an_error_names_the_place_it_was_told_of() -> None:
    """The caller's words come first."""
    with pytest.raises(DrillsError, match=r"^--root: no note named 'x'"):
        read_note("x", where="--root")
    with pytest.raises(DrillsError, match=r"^here: C99 is out of range"):
        checked_range(Pitch(NoteName(0), 99), where="here")


@given(st.integers(-6, 6))
def test_signs_are_as_many_as_the_alteration(alter: int) -> None:
    """Printed signs turn into typed ones, two half steps to a double sign."""
    assert plain_signs(shown_signs(alter)) == plain_sign(alter)
    assert len(plain_sign(alter)) == abs(alter)


def test_shown_pitches_carry_printed_signs() -> None:
    """B flat 2, F sharp and E double flat as print shows them."""
    assert read_pitch("Bb2").shown == "B♭2"
    assert [NoteName(3, 1).shown, NoteName(2, -2).shown] == ["F♯", "E𝄫"]


ROOTS = [
    name for letter in range(7) for name in (NoteName(letter, -1), NoteName(letter), NoteName(letter, 1))
]


def _printed(plain: str) -> str:
    """With the signs of print; chord symbols have no word that holds a b."""
    return plain.replace("b", "♭").replace("#", "♯")


@pytest.mark.parametrize("name", CHORD_TYPES)
def test_every_chord_type_is_shown_with_its_signs(name: str) -> None:
    """Over every root, alone, over a bass and with its degrees."""
    for root in ROOTS:
        for text in (name, f"{root.plain}{name}/{root.plain}", f"{name} b7 3 | 13 9 #11 in {root.plain}"):
            assert with_signs(text) == _printed(text)


def test_every_symbol_that_we_write_is_shown_with_its_signs() -> None:
    """All sets of four degrees, those of added tensions and of no chord among them."""
    plain = {symbol(map(degree, four)).plain for four in combinations(KNOWN, 4)}
    assert {"m(addb13)", "7b9#11(no3)"} < plain
    for text in plain:
        assert with_signs(f"Ab{text}") == f"A♭{_printed(text)}"


@pytest.mark.parametrize(
    "words",
    [
        "club7",
        "club 7",
        "Abbey 7",
        "Ebb tide",
        "Grab5",
        "tab2b",
        "Abba",
        "b52 b",
        "#",
        "no.#1",
        "Ebony",
        "Dub#",
        "submarine b-side",
        "room 3b",
        "Cab13",
        "hub11",
        "#100",
        "b1",
        "x_b7",
    ],
)
def test_a_name_that_spells_no_note_keeps_its_letters(words: str) -> None:
    """A nickname is its author's."""
    assert with_signs(words) == words
    assert with_signs(f"7b9 b7 3 ({words})") == f"7♭9 ♭7 3 ({words})"


@pytest.mark.parametrize(
    ("words", "shown"),
    [
        ("Bb C# Ebb3 (Gb) Ab-7", "B♭ C♯ E♭♭3 (G♭) A♭-7"),
        (
            "Abm7 Bbdim Ebsus4 Dbmaj9 F#m Gbadd9 Bbalt Cbno3",
            "A♭m7 B♭dim E♭sus4 D♭maj9 F♯m G♭add9 B♭alt C♭no3",
        ),
        ("b3 (b5) 9|b7 3'b9 ##5 bb7", "♭3 (♭5) 9|♭7 3'♭9 ♯♯5 ♭♭7"),
    ],
)
def test_notes_and_degrees_in_words_are_shown_with_their_signs(words: str, shown: str) -> None:
    """Wherever they begin."""
    assert with_signs(words) == shown


@given(st.text(alphabet="ABGb#79 1m|(/"))
def test_signs_change_nothing_else(words: str) -> None:
    """Typed again, the words are what they were."""
    assert plain_signs(with_signs(words)) == words


def test_letters_and_natural_notes_go_together() -> None:
    """Seven letters, rising."""
    assert len(LETTERS) == len(NATURAL_SEMITONES) == 7
    assert list(NATURAL_SEMITONES) == sorted(NATURAL_SEMITONES)
