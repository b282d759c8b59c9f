"""The nearest right word."""

from __future__ import annotations

import pytest

from drills.theory.words import nearest


@pytest.mark.parametrize(
    ("wrong", "right"),
    [("DORAIN", "dorian"), ("lydain", "Lydian"), ("zzz", "")],
    ids=["letters-swapped", "keeps-capitals", "nothing-close"],
)
def test_the_nearest_word_is_found_whatever_its_case(wrong: str, right: str) -> None:
    """The known word comes back as it is written, or nothing does."""
    assert nearest(wrong, ["ionian", "dorian", "Lydian"]) == right
