"""Chord types: what may sound in each, and what has to."""

from __future__ import annotations

import pytest

from drills.catalogue.chord_type import CHORD_TYPES, chord_type, read_chord_type
from drills.errors import DrillsError
from drills.theory.degree import degree


@pytest.mark.parametrize(
    ("name", "tones", "makers"),
    [
        # common practice, no source
        ("m7", "1 9 b3 11 5 13 b7", "b3 b7"),
        ("13#11", "1 9 3 #11 5 13 b7", "13 3 #11 b7"),
        ("7b5", "1 9 3 b5 13 b7", "3 b5 b7"),
        ("7sus4b9", "1 b9 4 5 13 b7", "4 b7 b9"),
        ("6", "1 9 3 11 5 6", "3 6"),
        ("maj", "1 9 3 11 5", "1 3 5"),
        ("dim", "1 9 b3 11 b5 b13", "1 b3 b5"),
        ("aug", "1 9 3 #11 #5", "1 3 #5"),
        ("m9(maj7)", "1 9 b3 11 5 13 7", "b3 7 9"),
    ],
)
def test_a_type_knows_its_tones(name: str, tones: str, makers: str) -> None:
    """What may sound comes from the usual scale, and what has to is what the symbol says."""
    kind = chord_type(name)
    assert " ".join(each.plain for each in kind.tones) == tones
    assert {each for maker in kind.makers for each in maker} == set(makers.split())


def test_an_altered_dominant_wants_one_tone_of_each_kind() -> None:
    """Third, seventh, an altered ninth, and a ♯11 or ♭13."""
    altered = chord_type("7alt")
    assert altered.is_made_by(tuple(map(degree, "3 b7 #9 b13".split())))
    assert not altered.is_made_by(tuple(map(degree, "3 b7 b9 #9".split())))


def test_no_usual_type_stands_twice() -> None:
    """Each name means another chord."""
    names = [chord_type(name).name for name in CHORD_TYPES]
    assert len(set(names)) == len(names)


@pytest.mark.parametrize(
    ("text", "name", "root"),
    [
        ("m11", "m11", None),
        ("Cm11", "m11", "C"),
        ("B♭-7", "m7", "Bb"),
        ("", "", None),
        ("Maj9", "maj9", None),
        ("alt", "7alt", None),
        ("7(b9,b13)", "7b9b13", None),
        ("A", "", "A"),
    ],
)
def test_types_are_read_generously(text: str, name: str, root: str | None) -> None:
    """With a root or without, in any usual writing."""
    kind, found = read_chord_type(text)
    assert (kind.name, found.plain if found else None) == (name, root)


@pytest.mark.parametrize(
    ("text", "match"),
    [
        ("maj77", "no chord type 'maj77'; write 'maj7'"),
        ("Cm7/Eb", "'Cm7/Eb' names a bass"),
        ("xyz", "no chord type 'xyz'; write"),
        ("maj7b9", "no scale we know holds all of 'maj7b9'"),
    ],
)
def test_what_is_no_type_is_told_with_its_mend(text: str, match: str) -> None:
    """The nearest right word stands in the error."""
    with pytest.raises(DrillsError, match=match.replace("(", r"\(")):
        read_chord_type(text, where="")
