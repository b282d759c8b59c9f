"""Ranking: each reason is a figure, and the figures make the order."""

from __future__ import annotations

import pytest

from drills.catalogue.entry import Entry
from drills.catalogue.find import catalogue
from drills.catalogue.rank import OUT_OF_REACH, REASONS
from drills.catalogue.setup import Setup


def entry(chord: str, text: str) -> Entry:
    """One voicing of the catalogue."""
    return next(each for each in catalogue([chord]) if each.voicing.text == text)


@pytest.mark.parametrize(
    ("chord", "text", "points"),
    [
        # worked out by hand from the weights: 3 a key, -8 a low interval (B♭2 E3), 6 for a colour on top and
        # for an upper layer from the third or seventh, and so many for each layer's family
        ("13#11", "b7 3 | 13 9 #11", (36, 0, -8, 0, 6, 0, 5 + 6)),
        ("m11", "b3 5 1 | 11 b7 9", (36, 0, 0, 0, 6, 0, 6 + 6)),
        ("m9", "b3 b7 | 9 5 1", (36, 0, 0, 0, 0, 0, 5 + 4)),
        ("m7", "1 5 | b7 b3", (36, 0, 0, 0, 0, 6, 5 + 5)),
    ],
)
def test_the_figures_are_those_of_the_weights(chord: str, text: str, points: tuple[int, ...]) -> None:
    """Each for its reason; the stretch costs a point for 4 mm."""
    found = entry(chord, text)
    assert found.stretch_mm is not None
    expected = dict(zip(REASONS, points, strict=True)) | {"stretch": -int(found.stretch_mm // 4)}
    figures = dict(found.why)
    assert figures == expected
    assert found.score == sum(figures.values())


def test_what_cannot_be_held_comes_last() -> None:
    """No other virtue makes up for that."""
    found = catalogue(["m11"])
    last_held = max(place for place, each in enumerate(found) if each.keys)
    assert all(each.keys for each in found[: last_held + 1])
    assert {dict(each.why)["keys"] for each in found if not each.keys} == {OUT_OF_REACH}


def test_a_muddy_low_end_counts_against_a_voicing() -> None:
    """A third in the lowest octave is one low interval."""
    muddy = [each for each in catalogue(["m7"]) if dict(each.why)["low intervals"]]
    assert muddy
    assert all(each.place and each.place.sounding.lowest_midi < 52 for each in muddy)


def test_a_setup_lists_its_string_sets_low_strings_first() -> None:
    """All of them, or the one that is asked for."""
    assert len(list(Setup().string_sets(5))) == 6
    assert list(Setup(strings=(0, 1, 2)).string_sets(4)) == []
