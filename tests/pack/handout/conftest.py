"""Handouts of the shelf, written once and read by a library that is not ours."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from typing import Any, TypeAlias

import pytest

from drills.pack.handout import SHEETS, Handout, handout_pdf
from drills.pack.handout.paper import Paper, Setting
from drills.plan import CAUTION, plan
from drills.recipe.read import read_recipe

HandoutOf: TypeAlias = Callable[..., Handout]
Opened: TypeAlias = Callable[[bytes], Any]


@pytest.fixture(scope="session")
def handout_of() -> HandoutOf:
    """The handout of a recipe on the shelf, with every kind of page."""

    @cache
    def handout(name: str, paper: Any = "A4", date: str = "8 December") -> Handout:
        made = plan(read_recipe(name))
        deck = made.deck
        return Handout(
            Setting(deck.title, paper, date, CAUTION),
            deck.about[0],
            made.subjects,
            deck.cards,
            deck.neck.string_names,
            sheets=SHEETS,
            versions=2,
        )

    return handout


@pytest.fixture(scope="session")
def opened() -> Opened:
    """A PDF as pypdfium2 opens it (the PDF engine of a browser)."""
    import pypdfium2

    open_pdf: Opened = pypdfium2.PdfDocument
    return open_pdf


@pytest.fixture
def paper() -> Iterator[Paper]:
    """A page to draw on."""
    made = Paper(Setting("a title", "A4", "8 December", "a caution"))
    made.begin_page("a page")
    yield made
    for font in made._pdf.fonts.values():
        font.close()  # type: ignore[union-attr] # of a page that no test has finished


@pytest.fixture(scope="session")
def week(handout_of: HandoutOf) -> bytes:
    """One handout with all of its pages."""
    return handout_pdf(handout_of("weeks-03-05-third-and-seventh-below"))
