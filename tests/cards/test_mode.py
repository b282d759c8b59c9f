"""Modes are told with the scale they belong to."""

from __future__ import annotations

import pytest

from drills.cards.mode import is_one_colour, mode_above, mode_words
from drills.theory.scale import SCALES, read_scale


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("C ionian", "C major"),
        ("D dorian", "D dorian, that is C major"),
        ("Eb lydian dominant", "E♭ lydian dominant, that is B♭ melodic minor"),
        ("G altered", "G altered, that is A♭ melodic minor"),
        ("Bb altered", "B♭ altered, that is B melodic minor"),
        ("D locrian #2", "D locrian ♯2, that is F melodic minor"),
        ("Ab mixolydian b2", "A♭ mixolydian ♭2, that is D♭ harmonic major"),
        ("A# lydian", "A♯ lydian, that is F major"),
        ("C melodic minor", "C melodic minor"),
        ("C half-whole", "C half-whole"),
        ("C whole-tone", "C whole-tone"),
    ],
)
def test_a_mode_is_told_with_its_parent(text: str, words: str) -> None:
    """Degree-true, but for tonics that no chart writes (common practice, no source)."""
    assert mode_words(*read_scale(text)) == words


def test_modes_follow_one_another_round_their_parent() -> None:
    """Seven steps lead back; symmetrical scales have no modes."""
    for scale in SCALES:
        above = scale
        for _ in range(7):
            found = mode_above(above)
            if found is None:
                assert len(scale.steps) != 7
                break
            assert found.parent == scale.parent
            above = found
        assert above == scale


@pytest.mark.parametrize(
    ("text", "is_one"),
    [("C altered", True), ("C half-whole", True), ("C whole-tone", True), ("C dorian", False)],
)
def test_melodic_minor_and_symmetrical_scales_are_one_colour(text: str, is_one: bool) -> None:
    """Players avoid no note of them (common practice, no source)."""
    _, scale = read_scale(text)
    assert is_one_colour(scale) == is_one
