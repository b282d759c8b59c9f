"""The table `[handout]` of a recipe: paper, what goes on it, and how many versions of the questions."""

from __future__ import annotations

from drills.recipe.fields import Table, nearest_of, quoted
from drills.recipe.known import HANDOUT_KEYS, HOME, PAPERS, PER_PAGE, SHEETS
from drills.recipe.model import OnPaper

MOST_DATE = 40


def read_handout(table: Table) -> OnPaper:
    """Reads and checks it; what is not written is as usual."""
    table.only(HANDOUT_KEYS, HOME)
    usual = OnPaper()
    return OnPaper(
        table.flag("on", default=usual.is_on),
        "letter" if table.one_of("paper", PAPERS, usual.paper) == "letter" else "A4",
        _per_page(table, usual.per_page),
        _sheets(table) if table.has("sheets") else usual.sheets,
        table.whole_number("versions", 1, 2, usual.versions),
        table.text("date", MOST_DATE),
    )


def _per_page(table: Table, usual: int) -> int:
    count = table.whole_number("per_page", PER_PAGE[0], PER_PAGE[-1], usual)
    if count not in PER_PAGE:
        nearest = min(PER_PAGE, key=lambda each: (abs(each - count), each))
        known = ", ".join(map(str, PER_PAGE))
        raise table.error(
            "per_page", f"{count} voicings do not fill a page evenly", f"write {nearest}, or one of {known}"
        )
    return count


def _sheets(table: Table) -> tuple[str, ...]:
    chosen = table.texts("sheets", '["voicings", "questions"]')
    for each in chosen:
        if each not in SHEETS:
            raise table.error("sheets", f"no sheet is called {quoted(each)}", nearest_of(each, SHEETS))
    return tuple(each for each in SHEETS if each in chosen)
