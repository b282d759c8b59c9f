"""What an answer sounds, and what to call the twelve notes beside it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from music21.interval import Interval
from music21.pitch import Pitch as TheirPitch

from drills.cards.deal import voicing_words
from drills.cards.dealt import Dealt
from drills.cards.kinds import drill

from .conftest import MakeSubject


def dealt(name: str, subject: MakeSubject, degrees: str, suffix: str | None, key: str) -> Dealt:
    """What a drill makes of a voicing."""
    made = drill(name)(subject(degrees, suffix, key))
    assert made is not None
    return made


def test_the_notes_of_the_answer_are_called_as_its_face_calls_them(subject: MakeSubject) -> None:
    """♭9 over E♭ is F♭ and stays F♭; what does not sound goes by the rules for what would."""
    names = dealt("spell", subject, "b7 3 | b9 5 1", "7b9", "Eb").names
    assert names.notes == ("C", "D♭", "D", "E♭", "F♭", "F", "F♯", "G", "A♭", "A", "B♭", "C♭")
    assert names.degrees == ("13", "♭7", "7", "1", "♭9", "9", "♯9", "3", "11", "♯11", "5", "♭13")


@pytest.mark.parametrize(
    ("degrees", "suffix", "semitones", "expected"),
    [
        ("1 5 b3 | 11 b7 9", "m11", 4, "3"),
        ("1 5 | 3 7", "maj7", 3, "♯9"),
        ("1 5 | b3 b7", "m7", 3, "♭3"),
        ("1 5 | 4 b7", "7sus4", 5, "4"),
        ("1 5 | 3 b7", "7", 5, "11"),
        ("1 b5 | b7 b3", "m7b5", 6, "♭5"),
        ("1 5 | b3 b7", "m7", 6, "♯11"),
        ("1 5 | 3 b7", "7", 8, "♭13"),
        ("3 b7 | 9 13", "13", 8, "♯5"),
        ("1 5 | 3 6", "6", 9, "6"),
        ("1 5 | 3 b7", "7", 9, "13"),
    ],
)
def test_each_semitone_is_what_it_would_be_in_this_voicing(
    subject: MakeSubject, degrees: str, suffix: str, semitones: int, expected: str
) -> None:
    """The rules for chord tones from pitches (common practice, no source)."""
    made = dealt("spell", subject, degrees, suffix, "E")
    assert made.names.degrees[(4 + semitones) % 12] == expected


def test_a_layer_is_called_from_its_own_root(subject: MakeSubject) -> None:
    """F A C over E♭13♯11 are 1 3 5 of F, and sound alone."""
    made = dealt("layer", subject, "b7 3 | 13 9 #11", "13#11", "Eb")
    assert [made.names.degrees[place] for place in (5, 9, 0)] == ["1", "3", "5"]
    assert made.sound.midi == (60, 65, 69)
    assert made.sound.root_midi is None


def test_a_layer_keeps_the_spelling_of_its_chord(subject: MakeSubject) -> None:
    """Over C7 the triad ♯9 ♯11 ♭7 is called E♭ minor, though the chord spells it D♯ F♯ B♭."""
    names = dealt("layer", subject, "3 b7 | #9 #11 b7", "7#9#11", "C").names
    assert [names.notes[place] for place in (3, 6, 10)] == ["D♯", "F♯", "B♭"]
    assert [names.degrees[place] for place in (3, 6, 10)] == ["1", "♭3", "5"]


@pytest.mark.parametrize(
    ("degrees", "suffix", "key", "root_midi"),
    [
        ("1 5 | 3 b7", "7", "A", 45),  # the lowest note is the root
        ("b7 3 | 13 9 #11", "13#11", "Eb", 39),  # a tritone and a fourth below the lowest note
        ("3 b7 | 9 5", "9", "Db", 49),  # a major third below
    ],
)
def test_name_sounds_the_root_at_the_lowest_note_or_below(
    subject: MakeSubject, degrees: str, suffix: str, key: str, root_midi: int
) -> None:
    """The question says the root, and plays it first."""
    assert dealt("name", subject, degrees, suffix, key).sound.root_midi == root_midi


def test_a_root_too_low_for_a_phone_sounds_an_octave_higher(subject: MakeSubject) -> None:
    """Under the low E stands no G♭ that is heard, so the one above it sounds."""
    made = drill("name")(subject("b7 3 | 13 9 #11", "13#11", "Gb", "0 1 1 1 1 x"))
    assert made is not None
    assert made.sound.midi[0] == 40
    assert made.sound.root_midi == 42
    low_c = dealt("name", subject, "1 3 5", None, "C")
    at_36 = replace(low_c, answer=low_c.answer.voicing.over(low_c.answer.root, 36))
    assert at_36.sound.root_midi == 36  # C2 is heard as it is


@pytest.mark.parametrize(
    ("degrees", "suffix", "nickname", "title", "detail"),
    [
        ("b7 3 | 13 9 #11", "13#11", "", "13♯11", "13♯11 · ♭7 3 | 13 9 ♯11"),
        ("b7 3 | 13 9 #11", "13#11", "Two up", "Two up", "13♯11 · ♭7 3 | 13 9 ♯11"),
        ("1 5 | 3", "", "", "major", "major · 1 5 | 3"),
        ("5 1 3", None, "", "major triad", "major triad · 5 1 3"),
    ],
)
def test_progress_calls_a_voicing_free_of_key(
    subject: MakeSubject, degrees: str, suffix: str | None, nickname: str, title: str, detail: str
) -> None:
    """By its nickname, or its kind of chord or layer; a bare major chord has no symbol, so it is said."""
    found = voicing_words(subject(degrees, suffix, "Eb", nickname=nickname))
    assert (found.title, found.detail) == (title, detail)


def test_every_name_sounds_its_place_by_music21(subject: MakeSubject) -> None:
    """Twelve names over every root that charts use: pitch classes, and letters a degree above the root.

    Source: music21, its pitches and intervals.
    """
    for key in "C Db D Eb E F F# Gb G Ab A Bb B C# G#".split():
        made = dealt("spell", subject, "b3 b7 | 9 5", "m9", key)
        root = TheirPitch(made.answer.root.plain.replace("b", "-"))
        for pitch_class, (note, degree) in enumerate(zip(made.names.notes, made.names.degrees, strict=True)):
            plain = note.translate({ord("♭"): "-", ord("♯"): "#", ord("𝄫"): "--", ord("𝄪"): "##"})
            assert TheirPitch(plain).pitchClass == pitch_class
            number = int(degree.lstrip("♭♯𝄫"))
            generic = Interval(root, TheirPitch(plain)).generic.mod7
            assert generic == (number - 1) % 7 + 1, (key, note, degree)
