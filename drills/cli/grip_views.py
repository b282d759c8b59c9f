"""How the answers of `drills grip` look to people."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from rich.console import RenderableType
from rich.table import Table
from rich.text import Text

from drills.cli import views
from drills.cli.given import Given, Search
from drills.cli.output import columns
from drills.neck.grip import Grip
from drills.neck.search import Found, on_one_string_set
from drills.theory.pitch import NoteName

_MOST_GRIPS = 8
_FEWEST_NOTES = 3
_ALL = 12
_NUMBERS = ("stretch", "grips")
_ROOM_FOR_ALL = 66
"""Columns that a line for a key takes with its fingers."""

_LEFT_OUT = (
    "lowest note",
    "two lowest notes",
    "three lowest notes",
    "four lowest notes",
    "five lowest notes",
)


def one_key(given: Given, search: Search, *, is_left_handed: bool) -> Iterator[RenderableType | None]:
    """The voicing, its best grip on the neck, and the other grips; or what of it lies under the hand."""
    found = given.find(search)
    shown = given.shown(found)
    yield views.headline(given.named)
    yield views.layers(given.named)
    yield views.neck_of(shown, given.instrument, is_left_handed=is_left_handed)
    grips = [place.grip for place in found.places[:_MOST_GRIPS]]
    if grips:
        yield _grips(grips)
        yield _rest(len(found.places) - len(grips))
    else:
        yield views.held_line(shown, given.named)
        yield _smaller_in_one_key(given, search)
    yield views.caution(grips)


def all_keys(given: Given, search: Search) -> Iterator[RenderableType | None]:
    """A line for each key, on the string set that serves most of them; then what would serve more."""
    found = given.find_in_all_keys(search)
    chosen = {root: place.grip for root, place in on_one_string_set(found).items()}
    yield Text.assemble((given.named.reading.symbol.shown or "major", "bold"), ("  in all keys", "dim"))
    yield views.layers_in_brief(given.named, in_any_key=True)
    yield _held_keys(found, chosen)
    yield _missed_keys(found)
    yield _reach(given, search, len(chosen))
    yield views.caution(chosen.values())


def _grips(grips: list[Grip]) -> Table:
    """Grips one below the other, best first."""
    return _table(("frets", "fingers", "stretch", ""), map(_columns, grips))


def _table(heads: tuple[str, ...], rows: Iterable[tuple[Text, ...]]) -> Table:
    """Rows below their heads; a narrow terminal has no room for the fingers."""
    table = Table.grid(padding=(0, 3, 0, 0))
    shown = [place for place, head in enumerate(heads) if head != "fingers" or columns() >= _ROOM_FOR_ALL]
    for head in (heads[place] for place in shown):
        table.add_column(justify="right" if head in _NUMBERS else "left", no_wrap=bool(head))
    for row in (tuple(Text(head, style="dim") for head in heads), *rows):
        table.add_row(*(row[place] for place in shown))
    return table


def _columns(grip: Grip) -> tuple[Text, ...]:
    """Frets, fingers, stretch, and what else is to be said of a grip."""
    remarks = ("long reach" if grip.is_long_reach else "", "barre" if grip.barres else "")
    return (
        Text(grip.text, style="bold"),
        Text(views.fingers_text(grip)),
        Text(f"{grip.stretch_mm:.0f} mm"),
        Text(", ".join(filter(None, remarks)), style="dim"),
    )


def _rest(count: int) -> Text | None:
    return Text(f"and {count} more; --json lists them all", style="dim") if count else None


def _held_keys(found: Mapping[NoteName, Found], chosen: Mapping[NoteName, Grip]) -> Table | None:
    """The keys with a grip: the one on the common string set, and how many there are in all."""
    if not chosen:
        return None
    rows = []
    for root, grip in chosen.items():
        *cells, remark = _columns(grip)
        count = Text(str(len(found[root].places)))
        rows.append((Text(root.shown, style="bold"), *cells, count, remark))
    return _table(("key", "frets", "fingers", "stretch", "grips", ""), rows)


def _missed_keys(found: Mapping[NoteName, Found]) -> Table | None:
    """The keys without a grip, and why."""
    by_reason: dict[str, list[str]] = {}
    for root, each in found.items():
        if each.refusal is not None:
            by_reason.setdefault(each.refusal.why, []).append(root.shown)
    if not by_reason:
        return None
    table = Table.grid(padding=(0, 3, 0, 0))
    table.add_row(Text("cannot be held in", style="dim"))
    for why, roots in by_reason.items():
        keys = "all keys" if len(roots) == _ALL else " ".join(roots)
        table.add_row(Text(keys), Text(why, style="dim"))
    return table


def _smaller(given: Given) -> Iterator[tuple[str, Given]]:
    """The voicing with fewer and fewer of its low notes, and how to say so."""
    for words in _LEFT_OUT:
        if len(given.written.midi) <= _FEWEST_NOTES:
            return
        given = given.without_lowest()
        yield f"without its {words}", given


def _smaller_in_one_key(given: Given, search: Search) -> Table | None:
    """What can be played where the whole cannot be held: an arpeggio, and the upper notes."""
    table = Table.grid(padding=(0, 3, 0, 0))
    if not search.arpeggio:
        in_turn = given.find(replace(search, arpeggio=True)).places
        if in_turn:
            table.add_row(Text("as an arpeggio", style="dim"), views.grip_line(in_turn[0].grip))
    for words, smaller in _smaller(given):
        places = smaller.find(search).places
        if places:
            table.add_row(Text(words, style="dim"), views.grip_line(places[0].grip))
            break
    return table if table.rows else None


def _reach(given: Given, search: Search, complete: int) -> Table:
    """In how many keys it can be held, and where that is not all, in how many less of it can."""
    table = Table.grid(padding=(0, 3, 0, 0))

    def tell(words: str, keys: int) -> None:
        table.add_row(Text(words, style="dim"), Text(f"{keys:2} of 12 keys"))

    def count(each: Given, how: Search) -> int:
        return sum(bool(found.places) for found in each.find_in_all_keys(how).values())

    tell("complete", complete)
    if complete < _ALL and not search.arpeggio:
        tell("as an arpeggio", count(given, replace(search, arpeggio=True)))
    keys = complete
    for words, smaller in _smaller(given):
        if keys == _ALL:
            break
        keys = count(smaller, search)
        tell(words, keys)
    return table
