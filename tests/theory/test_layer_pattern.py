"""Kinds of layers in words: structures, families, spacings."""

from __future__ import annotations

import pytest

from drills.errors import DrillsError
from drills.theory.layer import name_layer
from drills.theory.layer_pattern import LayerPattern, read_layer_pattern
from drills.theory.tables import FOUR_NOTE_ROWS, GAP_ROWS, STRUCTURE_ROWS


@pytest.mark.parametrize(
    ("text", "gaps", "fits"),
    [
        ("triad", (4, 3), True),
        ("triads", (7, 8), True),
        ("Open  Triad", (7, 8), True),
        ("open triad", (4, 3), False),
        ("quintal stack", (7, 7), True),
        ("stack", (5, 5), True),
        ("stack", (5, 2), False),
        ("sus", (5, 2), True),
        ("sus4", (5, 2), True),
        ("sus4", (2, 5), False),
        ("close", (4, 3), True),
        ("drop 2", (5, 4, 7), True),
        ("drop 2 and 4 major seventh chord", (7, 9, 7), True),
        ("tritone", (6,), True),
        ("interval", (7,), True),
        ("single note", (), True),
    ],
)
def test_words_mean_layers(text: str, gaps: tuple[int, ...], fits: bool) -> None:
    """A spacing, a structure, a family, or two of them, in one number or many."""
    assert read_layer_pattern(text).fits(name_layer(gaps)) is fits


@pytest.mark.parametrize("name", sorted({row.name for row in (*GAP_ROWS, *STRUCTURE_ROWS, *FOUR_NOTE_ROWS)}))
def test_every_structure_of_the_tables_can_be_asked_for(name: str) -> None:
    """Its words are read back as they are."""
    assert read_layer_pattern(name) == LayerPattern("", name)
    assert set(read_layer_pattern(name).sizes) <= {3, 4}


def test_words_can_be_said_again() -> None:
    """A pattern tells its own words."""
    assert read_layer_pattern("OPEN triad").text == "open triad"
    assert LayerPattern().sizes == (1, 2, 3, 4)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "no layer is called ''; write 'major triad'"),
        ("quintl stack", "no layer is called 'quintl stack'; write 'quintal stack'"),
        ("open trid", "no layer is called 'open trid'; write 'open triad'"),
        ("opne triad", "no layer is called 'opne triad'; write 'open triad'"),
        ("triadd", "no layer is called 'triadd'; write 'triad'"),
        ("wide cluster", "no cluster is wide; a cluster is close or open"),
    ],
)
def test_unknown_words_get_the_nearest_right_one(text: str, words: str) -> None:
    """The error also lists the families."""
    with pytest.raises(DrillsError, match=words):
        read_layer_pattern(text)
