"""How recipes and decks look to people: what would be built, what was, what is on the shelf.

Titles, nicknames and file names are other people's words: they go through `visible`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import zip_longest
from math import ceil
from pathlib import Path

from rich.columns import Columns
from rich.console import RenderableType
from rich.table import Table
from rich.text import Text

from drills.cli.output import visible
from drills.cli.views import shown
from drills.plan import Plan, Unreached
from drills.recipe.shelf import ShelfRecipe
from drills.theory.pitch import read_note_name

_DAYS_A_WEEK = 7


def plan(planned: Plan) -> Iterator[RenderableType | None]:
    """A deck's title, its cards, its pace, and what could not be reached."""
    deck = planned.deck
    yield Text(visible(deck.title), style="bold")
    by_drill = Counter(card.drill for card in deck.cards)
    keys = {read_note_name(card.key).pitch_class for card in deck.cards}
    weeks = ceil(len(deck.cards) / deck.fresh_per_day / _DAYS_A_WEEK)
    table = Table.grid(padding=(0, 3, 0, 0))
    drills = Columns([f"{drill} {count}" for drill, count in by_drill.items()], padding=(0, 2))
    table.add_row(_quiet("cards"), _number(len(deck.cards)), drills)
    table.add_row(_quiet("voicings"), _number(planned.voicings))
    table.add_row(_quiet("keys"), _number(len(keys)))
    pace = f"new a day: all seen after {weeks} {'week' if weeks == 1 else 'weeks'}"
    table.add_row(_quiet("pace"), _number(deck.fresh_per_day), Text(pace))
    yield table
    if planned.unreached:
        yield _unreached(planned.unreached)


def _quiet(words: str) -> Text:
    return Text(words, style="dim")


def _number(number: int) -> Text:
    return Text(f"{number:,}", style="bold", justify="right")


def _unreached(missed: Sequence[Unreached]) -> Text:
    """What could not be reached: each voicing, and under it its keys by reason."""
    reasons: dict[str, dict[str, list[str]]] = {}
    for each in missed:
        why = f"{each.why}; the deck holds it {each.instead}" if each.instead else each.why
        key = shown(read_note_name(each.key).shown)
        reasons.setdefault(each.voicing, {}).setdefault(why, []).append(key)
    words = Text("cannot be held", style="dim")
    for voicing, keys in reasons.items():
        words.append(f"\n{shown(visible(voicing))}", style="not dim")
        for why, roots in keys.items():
            words.append(f"\n  {' '.join(roots)}: {why}")
    return words


def files(paths: Sequence[Path]) -> Text:
    """What was written; a folder ends in a slash."""
    shown_paths = [visible(f"{path}/" if path.is_dir() else str(path)) for path in paths]
    return Text.assemble(("wrote   ", "dim"), "\n        ".join(shown_paths))


def to_edit(recipe: Path) -> str:
    """What to do with a recipe that was written."""
    return f"{visible(str(recipe))} is yours to edit; `drills check` it, then `drills build` it"


def served(address: str, code: Text | None, *, taken: int | None) -> Iterator[Text]:
    """Where a served page is found, by whom, and how serving ends.

    Args:
        address: of the page.
        code: the same for cameras, where phones may open it.
        taken: the usual port, if another had to do.
    """
    yield Text.assemble(("open    ", "dim"), (address, "bold"))
    if taken is not None:
        yield Text(
            f"Port {taken} is taken, so this is another address than usual, and a browser keeps progress by "
            "address: what was played at the usual one is not seen here."
        )
    if code is not None:
        yield code
        yield Text(
            "Everyone on this network can open it. Phones install a page to the home screen only over https: "
            "for that, put the folder that drills build writes on a host."
        )
    yield _quiet("Ctrl-C ends it.")


def square_code(rows: Iterable[Sequence[int]]) -> Text:
    """A code for cameras, two rows of its squares a line: black on white, whatever the terminal's ground."""
    signs = {(0, 0): " ", (1, 0): "▀", (0, 1): "▄", (1, 1): "█"}
    squares = list(rows)
    pairs = zip_longest(squares[::2], squares[1::2], fillvalue=[0] * len(squares[0]))
    lines = ("".join(signs[above, below] for above, below in zip(*pair, strict=True)) for pair in pairs)
    return Text("\n".join(lines), style="#000000 on #FFFFFF")


def shelf(recipes: Sequence[ShelfRecipe]) -> Iterator[Text]:
    """The recipes on the shelf by name, and what to do with them."""
    for recipe in recipes:
        about = visible(recipe.about, keep="\n")
        yield Text.assemble((recipe.name, "bold"), f"\n{visible(recipe.title)}\n", (about, "dim"))
    yield _quiet("drills build NAME builds one; drills shelf NAME copies it here, to be edited.")
