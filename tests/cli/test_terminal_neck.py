"""The neck in text, compared with how it should look."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.cards.card import Marker, PictureSpec
from drills.cards.picture import picture_of
from drills.cli.given import read_given
from drills.cli.terminal_neck import SHAPES, STYLES, neck
from drills.neck.instrument import Instrument
from drills.neck.tuning import read_tuning

LOOKS = [
    pytest.param(
        "x 4 5 5 6 5",
        "standard",
        False,
        """
  E      ┬───────┬───────┬──■♯5──┬───────┬───────┬─
  B      ┼───────┼───────┼───────┼──■ 3──┼───────┼─
  G      ┼───────┼───────┼──■ 7──┼───────┼───────┼─
  D      ┼───────┼───────┼─●♯11──┼───────┼───────┼─
  A      ┼───────┼──● 1──┼───────┼───────┼───────┼─
  E  ×   ┴───────┴───────┴───────┴───────┴───────┴─
             3       4       5       6       7""",
        id="up the neck, a string not played",
    ),
    pytest.param(
        "0 2 5 2 3 2",
        "standard",
        False,
        """
  E      ╓───────┬──■ 9──┬───────┬───────┬───────┬─
  B      ╟───────┼───────┼──■♭7──┼───────┼───────┼─
  G      ╟───────┼──■11──┼───────┼───────┼───────┼─
  D      ╟───────┼───────┼───────┼───────┼──●♭3──┼─
  A      ╟───────┼──● 5──┼───────┼───────┼───────┼─
  E ● 1  ╙───────┴───────┴───────┴───────┴───────┴─
             1       2       3       4       5""",
        id="at the nut, a string open",
    ),
    pytest.param(
        "0 2 5 2 3 2",
        "standard",
        True,
        """
─┬───────┬───────┬───────┬──■ 9──┬───────╖      E
─┼───────┼───────┼──■♭7──┼───────┼───────╢      B
─┼───────┼───────┼───────┼──■11──┼───────╢      G
─┼──●♭3──┼───────┼───────┼───────┼───────╢      D
─┼───────┼───────┼───────┼──● 5──┼───────╢      A
─┴───────┴───────┴───────┴───────┴───────╜  ● 1 E
     5       4       3       2       1""",
        id="left-handed",
    ),
    pytest.param(
        "1 1 | 1 2 | 2 2 x",
        "seven strings",
        False,
        """
  E  ×   ╓───────┬───────┬───────┬───────┬───────┬─
  B      ╟───────┼──■♭3──┼───────┼───────┼───────┼─
  G      ╟───────┼──■ 7──┼───────┼───────┼───────┼─
  D      ╟───────┼─◆♯11──┼───────┼───────┼───────┼─
  A      ╟──◆ 1──┼───────┼───────┼───────┼───────┼─
  E      ╟──● 5──┼───────┼───────┼───────┼───────┼─
  B      ╙──● 9──┴───────┴───────┴───────┴───────┴─
             1       2       3       4       5""",
        id="three layers on seven strings",
    ),
    pytest.param(
        "x 3 x x 12 20",
        "standard",
        False,
        """
  E      ┬───────┬╌┬───────┬╌┬──● 1──┬─
  B      ┼───────┼╌┼──● 7──┼╌┼───────┼─
  G  ×   ┼───────┼╌┼───────┼╌┼───────┼─
  D  ×   ┼───────┼╌┼───────┼╌┼───────┼─
  A      ┼──● 1──┼╌┼───────┼╌┼───────┼─
  E  ×   ┴───────┴╌┴───────┴╌┴───────┴─
             3        12        20""",
        id="frets far apart",
    ),
]


@pytest.mark.parametrize(("frets", "tuning", "is_left_handed", "look"), LOOKS)
def test_a_neck_looks_as_it_should(frets: str, tuning: str, is_left_handed: bool, look: str) -> None:
    """Strings, nut, notes, open strings, mutes and fret numbers have their places."""
    instrument = Instrument(read_tuning(tuning))
    typed = read_given([frets], None, instrument)
    assert typed.written.frets is not None
    spec = picture_of(typed.named.sounding, typed.written.frets, instrument, is_left_handed=is_left_handed)
    assert f"\n{neck(spec, width=76).plain}" == look


@st.composite
def pictures(draw: st.DrawFn) -> PictureSpec:
    """Any picture: six to eight strings, a window of up to 24 frets, one note a string at most."""
    strings = draw(st.integers(6, 8))
    first = draw(st.integers(1, 20))
    last = draw(st.integers(first + 4, 24))
    degrees = st.sampled_from(("1", "♭3", "♯11", "𝄫7", ""))
    frets = st.one_of(st.none(), st.just(0), st.integers(first, last))
    markers = [
        Marker(string, fret, draw(st.integers(0, 2)), draw(degrees))
        for string in range(strings)
        if (fret := draw(frets)) is not None
    ]
    mutes = tuple(sorted(set(range(strings)) - {marker.string for marker in markers}))
    return PictureSpec(("E",) * strings, tuple(markers), first, last, mutes, draw(st.booleans()))


@given(pictures(), st.sampled_from((60, 76, 100)))
def test_any_neck_fits_its_width_and_shows_every_note(spec: PictureSpec, width: int) -> None:
    """No line is too long, every note has its shape, every string that is not played its cross."""
    picture = neck(spec, width=width)
    lines = picture.plain.split("\n")
    assert len(lines) == len(spec.string_names) + 1
    assert max(map(len, lines)) <= width
    assert picture.plain.count("×") == len(spec.muted)
    for layer, shape in enumerate(SHAPES):
        notes = [marker for marker in spec.markers if marker.layer == layer]
        assert picture.plain.count(shape) == len(notes)
        assert sum(span.style == STYLES[layer] for span in picture.spans) == len(notes)


@given(pictures())
def test_fret_numbers_stand_under_their_notes(spec: PictureSpec) -> None:
    """A number's place lies inside the note above it, right- and left-handed."""
    *rows, numbers = neck(spec, width=100).plain.split("\n")
    for marker in spec.markers:
        if marker.fret:
            row = rows[len(rows) - 1 - marker.string]
            place = row.index(SHAPES[marker.layer])
            under = numbers[place : place + 4].split()
            assert str(marker.fret) in under
