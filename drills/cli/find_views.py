"""How the answers of `drills find` look to people: a small neck beside each voicing."""

from __future__ import annotations

from collections.abc import Iterator

from rich.console import RenderableType
from rich.table import Table
from rich.text import Text

from drills.cards.picture import picture_of
from drills.cards.words import layer_form
from drills.catalogue.entry import Entry
from drills.catalogue.find import Result
from drills.cli import views
from drills.cli.find_answer import named_entry, shown_place
from drills.cli.output import INDENT, columns
from drills.cli.terminal_neck import neck, shape
from drills.neck.search import Place
from drills.theory.pitch import NoteName

_NECK_COLUMNS = 43
_BESIDE = _NECK_COLUMNS + 36
"""Narrower terminals get the neck below the words."""

_ALL = 12


def found(
    result: Result, root: NoteName | None, *, with_points: bool, is_left_handed: bool
) -> Iterator[RenderableType | None]:
    """How many there are, then the best of them; or what emptied the answer."""
    yield _headline(result)
    if not result.total:
        yield _emptied(result)
        return
    places = []
    for number, entry in enumerate(result.entries, start=1):
        place = shown_place(entry, root)
        places.append(place)
        words = _words(number, entry, place, with_points=with_points)
        yield (
            words
            if place is None
            else _beside(words, _small_neck(entry, place, is_left_handed=is_left_handed))
        )
    yield _rest(result)
    yield views.caution(place.grip for place in places if place is not None)


def _headline(result: Result) -> Text:
    asked = ", ".join(step.words for step in result.steps)
    count = "1 voicing" if result.total == 1 else f"{result.total:,} voicings"
    return Text.assemble((count, "bold"), f"  {views.shown(asked)}")


def _words(number: int, entry: Entry, place: Place | None, *, with_points: bool) -> Table:
    """What a voicing is, and how it is held."""
    named = named_entry(entry, place)
    block = Table.grid()
    headline = Text.assemble((f"{number}  ", "dim"), views.headline(named))
    block.add_row(headline)
    for layer in reversed(named.layers):
        degrees = " ".join(views.shown(each.shown) for each in named.reading.degrees[layer.places])
        mark, style = shape(layer.role)
        block.add_row(Text.assemble((f" {mark} ", style), " ", (degrees, "bold")))
        form = layer_form(layer)
        structure = views.shown(layer.name.structure)
        block.add_row(Text(f"    {structure}{f', {form}' if form else ''}", style="dim"))
    block.add_row(_held(entry, place))
    if with_points:
        block.add_row(_points(entry))
    return block


def _held(entry: Entry, place: Place | None) -> Text:
    if place is None:
        return Text("cannot be held in any key", style="dim")
    keys = "all twelve keys" if entry.keys == _ALL else "1 key" if entry.keys == 1 else f"{entry.keys} keys"
    return Text(f"{place.grip.text}\n{place.grip.stretch_mm:.0f} mm here, {keys}")


def _points(entry: Entry) -> Text:
    """The points that make the order, those that are none left out."""
    lines = [f"{points:+4} {reason}" for reason, points in entry.why if points]
    return Text("\n".join([f"{entry.score:4} points", *lines]), style="dim")


def _small_neck(entry: Entry, place: Place, *, is_left_handed: bool) -> Text:
    instrument = entry.setup.instrument
    spec = picture_of(place.sounding, place.grip.frets, instrument, is_left_handed=is_left_handed)
    return neck(spec, width=min(_NECK_COLUMNS, columns() - INDENT))


def _beside(words: Table, picture: Text) -> Table:
    if columns() - INDENT < _BESIDE - 2:
        below = Table.grid()
        below.add_row(words)
        below.add_row(picture)
        return below
    row = Table.grid(padding=(0, 2, 0, 0))
    row.add_column(width=columns() - INDENT - _NECK_COLUMNS - 2)
    row.add_column(no_wrap=True)
    row.add_row(words, picture)
    return row


def _rest(result: Result) -> Text | None:
    more = result.total - len(result.entries)
    return Text(f"and {more:,} more; --limit lists more of them", style="dim") if more else None


def _emptied(result: Result) -> Table:
    """What each filter left, up to the one that left nothing, and what would be left without it."""
    table = Table.grid(padding=(0, 3, 0, 0))
    for step in result.steps:
        is_last = step == result.emptied_by
        table.add_row(
            Text(f"{step.left:,}", justify="right"),
            Text(views.shown(step.words), style="bold" if is_last else ""),
        )
        if is_last:
            break
    if result.emptied_by is not None and result.left_without_it:
        table.add_row(
            Text(f"{result.left_without_it:,}", justify="right"), Text("without this last one", style="dim")
        )
    return table
