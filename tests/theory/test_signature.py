"""Key signatures fit the notes they stand before."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.theory.pitch import NoteName, read_note_name
from drills.theory.signature import fitting_signature, signed


def names(text: str) -> list[NoteName]:
    """Note names, apart by blanks."""
    return [read_note_name(each) for each in text.split()]


@pytest.mark.parametrize("fifths", range(-6, 7))
def test_a_major_scale_has_its_own_signature(fifths: int) -> None:
    """Outside check: music21's key signatures."""
    from music21 import key

    scale = key.KeySignature(fifths).asKey("major").pitches
    assert fitting_signature(names(" ".join(each.name.replace("-", "b") for each in scale))) == fifths


@pytest.mark.parametrize("fifths", range(-6, 7))
def test_a_signature_alters_the_letters_it_should(fifths: int) -> None:
    """Outside check: music21's key signatures."""
    from music21 import key

    theirs = {each.step: round(each.accidental.alter) for each in key.KeySignature(fifths).alteredPitches}
    assert [signed(letter, fifths) for letter in range(7)] == [theirs.get(each, 0) for each in "CDEFGAB"]


def test_of_equally_good_signatures_the_plainest_is_taken() -> None:
    """Notes without signs have none; one black note does not bring five flats."""
    assert fitting_signature(names("C E G")) == 0
    assert fitting_signature(names("F A C Eb")) == -2
    assert fitting_signature([]) == 0


@given(st.lists(st.builds(NoteName, st.integers(0, 6), st.integers(-1, 1)), max_size=7))
def test_no_other_signature_needs_fewer_signs(notes: list[NoteName]) -> None:
    """The choice is the best of thirteen."""

    def signs(fifths: int) -> int:
        return sum(signed(note.letter, fifths) != note.alter_semitones for note in set(notes))

    assert signs(fitting_signature(notes)) == min(map(signs, range(-6, 7)))
