"""A picture says where each note lies, which layer wears it, and how much neck is shown."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.cards.picture import picture_of, picture_of_layer, window
from drills.neck.instrument import Instrument

from .conftest import MakeSubject


@pytest.mark.parametrize(
    ("frets", "highest", "expected"),
    [
        ((4, 5, 5, 6, 5), 20, (3, 7)),
        ((0, 2, 5, 2, 3, 2), 20, (1, 5)),
        ((0, 0), 20, (1, 5)),
        ((5, 7, 10, 7, 8, 7), 20, (5, 10)),
        ((22, 24, 24), 24, (20, 24)),
        ((22, 22, 23, 24, 24), 20, (20, 24)),
        ((3, 3, 6), 20, (3, 7)),
    ],
    ids=["middle", "nut", "open", "wide", "end of the neck", "past the neck", "just past the nut"],
)
def test_the_window_holds_the_grip(frets: tuple[int, ...], highest: int, expected: tuple[int, int]) -> None:
    """At least five frets, the nut where it is near, past the neck only for notes that lie there."""
    assert window(frets, highest) == expected


@given(st.lists(st.integers(0, 24), min_size=1, max_size=8), st.integers(12, 24))
def test_no_note_falls_outside_the_window(frets: list[int], highest: int) -> None:
    """Whatever the grip, each fretted note is shown, and the window ends with the neck or the last note."""
    first, last = window(tuple(frets), highest)
    assert 1 <= first <= last <= max(highest, *frets)
    assert last - first >= 4
    assert all(first <= fret <= last for fret in frets if fret)


def test_root_mutes_and_doubles_are_marked(subject: MakeSubject) -> None:
    """The root is ringed, unplayed strings are muted, a note heard twice is doubled."""
    sounding = subject("1 5 1 | 3", "", "C", "x 3 5 5 5 x")
    picture = picture_of(sounding.sounding, sounding.grip.frets, sounding.instrument)
    assert picture.muted == (0, 5)
    assert [marker.is_root for marker in picture.markers] == [True, False, True, False]
    assert [marker.is_doubled for marker in picture.markers] == [True, False, True, False]


def test_a_layer_alone_keeps_its_open_strings_and_shows_no_mutes(subject: MakeSubject) -> None:
    """G and E of an open C major triad stand at fret 0; what the rest of the hand does is not shown."""
    whole = subject("1 3 | 5 1 3", "", "C", "x 3 2 0 1 0")
    upper = whole.layers[-1]
    picture = picture_of_layer(whole.sounding, upper, whole.grip.frets, whole.instrument)
    assert [(marker.string, marker.fret, marker.text) for marker in picture.markers] == [
        (3, 0, "5"),
        (4, 1, "1"),
        (5, 0, "3"),
    ]
    assert picture.muted == ()


def test_an_asked_root_is_not_given_away_by_its_ring(subject: MakeSubject) -> None:
    """The marker in question has neither text nor ring."""
    sounding = subject("1 5 1 | 3", "", "C")
    picture = picture_of(sounding.sounding, sounding.grip.frets, sounding.instrument, asked=0)
    assert (picture.markers[0].text, picture.markers[0].is_root) == ("", False)
    assert picture.markers[0].is_asked


def test_frets_that_sound_something_else_are_refused(subject: MakeSubject) -> None:
    """A picture never shows a grip that does not sound its voicing."""
    sounding = subject("3 5 1", None, "A")
    with pytest.raises(ValueError, match="do not sound"):
        picture_of(sounding.sounding, (0, 2, 2, 1, 0, 0), Instrument())
