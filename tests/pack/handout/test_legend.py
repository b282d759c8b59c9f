"""The legend explains the signs that a handout uses, and no others."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drills.pack.handout.legend import legend
from drills.pack.handout.paper import Paper
from drills.plan import plan
from drills.recipe.read import parse_recipe

from .conftest import HandoutOf, Opened

THREE_LAYERS = """
title = "three layers"
keys = ["F#"]
[instrument]
tuning = "eight strings"
left_handed = true
capo = 2
[drills]
ask = ["place"]
[[voicing]]
chord = "m11"
lower = "5"
middle = "b3 b7"
upper = "9 11 5"
"""


def told(paper: Paper, opened: Opened) -> str:
    """What the page says."""
    return " ".join(opened(paper.finish())[0].get_textpage().get_text_range().split())


def test_signs_that_are_not_used_are_not_explained(
    paper: Paper, opened: Opened, handout_of: HandoutOf
) -> None:
    """Two layers with a root: no middle layer, no doubled note, nothing mirrored, no capo."""
    legend(paper, handout_of("weeks-03-05-third-and-seventh-below").subjects)
    page = told(paper, opened)
    assert all(words in page for words in ("upper layer", "lower layer", "root", "highest string is on top"))
    assert not any(words in page for words in ("middle layer", "comes twice", "mirrored", "capo"))


def test_three_layers_a_doubled_note_left_hands_and_a_capo_are_explained(
    paper: Paper, opened: Opened
) -> None:
    """Each with its sign."""
    legend(paper, plan(parse_recipe(THREE_LAYERS, source="three", default_id="three")).subjects)
    page = told(paper, opened)
    assert all(words in page for words in ("middle layer", "comes twice", "mirrored for left-handed players"))
    assert "; frets are counted from the capo, at fret 2." in page


@pytest.mark.parametrize("is_left_handed", [False, True])
def test_a_layer_by_itself_is_the_layer(
    paper: Paper, opened: Opened, handout_of: HandoutOf, is_left_handed: bool
) -> None:
    """It is neither upper nor lower."""
    subjects = handout_of("weeks-01-02-one-layer").subjects
    legend(paper, [replace(each, is_left_handed=is_left_handed) for each in subjects])
    page = told(paper, opened)
    assert "the layer" in page
    assert "lower layer" not in page
    assert ("mirrored" in page) == is_left_handed
