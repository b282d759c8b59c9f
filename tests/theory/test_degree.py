"""Degrees over a root."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.errors import DrillsError
from drills.theory.degree import KNOWN, Degree, degree, is_degree, read_degree
from drills.theory.pitch import NoteName, plain_signs

SEMITONES = dict(
    zip(KNOWN, (0, 1, 2, 3, 3, 4, 5, 5, 6, 6, 7, 8, 8, 9, 9, 9, 10, 11), strict=True)
)  # definition of the degrees


@pytest.mark.parametrize("text", KNOWN)
def test_a_degree_reads_back_and_stands_where_it_must(text: str) -> None:
    """Plain and shown form are read as the same degree, so many semitones over the root."""
    found = read_degree(text)
    assert found == degree(text) == read_degree(found.shown)
    assert (found.plain, plain_signs(found.shown)) == (text, text)
    assert found.semitones == SEMITONES[text]
    assert is_degree(text)


@pytest.mark.parametrize(
    ("typed", "plain"), [("2", "9"), ("b2", "b9"), ("♯2", "#9"), ("#4", "#11"), ("b6", "b13"), ("♭♭7", "bb7")]
)
def test_a_degree_has_other_writings(typed: str, plain: str) -> None:
    """Players number tensions low, too."""
    assert read_degree(typed).plain == plain
    assert is_degree(typed)


@pytest.mark.parametrize("text", ["", "8", "10", "12", "b1", "b4", "##5", "14", "bb9"])
def test_a_degree_that_no_voicing_uses_is_refused(text: str) -> None:
    """The message lists those in use."""
    with pytest.raises(DrillsError, match=r"degrees are 1 b9 9"):
        read_degree(text)
    assert not is_degree(text)


def test_the_message_tells_a_strange_degree_from_a_strange_text() -> None:
    """A number with signs might be a degree; anything else is none."""
    with pytest.raises(DrillsError, match=r"^here: no degree 'b8' is used in voicings"):
        read_degree("b8", where="here")
    with pytest.raises(DrillsError, match=r"'x' is no degree"):
        read_degree("x")


@pytest.mark.parametrize("text", ["1'", "b13''"])
def test_apostrophes_do_not_hide_a_degree(text: str) -> None:
    """They lift it by octaves."""
    assert is_degree(text)


@given(st.sampled_from(KNOWN), st.builds(NoteName, st.integers(0, 6), st.integers(-1, 1)))
def test_a_degree_over_a_root_sounds_its_semitones(text: str, root: NoteName) -> None:
    """Whatever the spelling comes to."""
    assert degree(text).over(root).pitch_class == (root.pitch_class + degree(text).semitones) % 12


def test_equal_degrees_are_one_key() -> None:
    """Number and alteration decide; what is worked out from them does not count."""
    assert {Degree(9, -1), degree("b9")} == {Degree(9, -1)}
    assert degree("4") != degree("11")
