"""Sheets to write: the voicings of the shelf."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import TypeAlias

import pytest

from drills.pack.score import Sheet
from drills.plan import plan
from drills.recipe.read import read_recipe

SheetOf: TypeAlias = Callable[[str], Sheet]


@pytest.fixture(scope="session")
def sheet_of() -> SheetOf:
    """The voicings of a recipe on the shelf, as a score takes them."""

    @cache
    def sheet(name: str) -> Sheet:
        recipe = read_recipe(name)
        return Sheet(recipe.title, plan(recipe).subjects, recipe.instrument)

    return sheet
