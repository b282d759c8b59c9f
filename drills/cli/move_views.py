"""How the answers of `drills move` look to people: one voicing in full, several as a list."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import takewhile

from rich.console import Group, RenderableType
from rich.padding import Padding
from rich.text import Text

from drills.cli import views
from drills.cli.given import OnNeck
from drills.cli.move_chain import Bench, Item, Outcome
from drills.neck.grip import Grip, Refusal
from drills.neck.search import find_in_key, roots_by_fourths
from drills.theory.naming import Named
from drills.theory.voicing import Layer

_MOST_ITEMS = 12
_GAP = "   "
_SEEN_BY_THEMSELVES = ("--steps", "--through", "--to", "--swap", "--cross")
"""Moves that need no words in a list: chords, layers and frets say what happened."""


def outcome(
    start: Item, reached: Outcome, bench: Bench, limit: int | None, *, is_left_handed: bool
) -> Iterator[RenderableType | None]:
    """The answers, best first, and what could not make a move."""
    items = reached.items[: limit or _MOST_ITEMS]
    if len(reached.items) == 1:
        yield from _in_full(items[0], bench, is_left_handed=is_left_handed)
    else:
        yield from _listed(start, items, bench)
        rest = len(reached.items) - len(items)
        yield (
            Text(f"and {rest} more; --limit {len(reached.items)} shows them all", style="dim")
            if rest
            else None
        )
    yield _left_out(reached)


def _in_full(item: Item, bench: Bench, *, is_left_handed: bool) -> Iterator[RenderableType | None]:
    """One voicing as `name` shows it, and what was done to it."""
    on_neck = _on_neck(item, bench)
    yield views.headline(item.named)
    yield Text("\n".join(views.shown(words) for words in item.words))
    yield views.layers(item.named)
    yield views.warnings(item.named)
    yield views.neck_of(on_neck, bench.instrument, is_left_handed=is_left_handed)
    yield views.held_line(on_neck, item.named)
    yield views.look_further(on_neck)
    yield views.caution([on_neck.held])


def _on_neck(item: Item, bench: Bench) -> OnNeck:
    """An item on its grip, or the narrowest miss."""
    if item.place is not None:
        return OnNeck(item.place.sounding, item.place.grip.frets, item.place.grip)
    found = item.found(bench)
    if found.places:
        best = found.places[0]
        return OnNeck(best.sounding, best.grip.frets, best.grip)
    return OnNeck(item.named.sounding, (), found.refusal or Refusal("", 0.0))


def _listed(start: Item, items: Sequence[Item], bench: Bench) -> Iterator[RenderableType | None]:
    """A few lines for each voicing: chord, degrees, notes and frets; its layers; what else is to be told."""
    grips = [_on_neck(item, bench).held for item in items]
    rows = [_cells(each.named) for each in (start, *items)]
    widths = [max(len(row[column]) for row in rows) for column in range(3)]
    told = [_told(item) for item in items]
    common = [words[0] for words in takewhile(_are_equal, zip(*told, strict=False))]
    yield Group(_row(rows[0], widths, "", style="dim"), _layers_line(start.named), *map(_remark, common))
    for item, row, grip, words in zip(items, rows[1:], grips, told, strict=True):
        frets = grip.text if isinstance(grip, Grip) else "cannot be held"
        lines = [_row(row, widths, frets, style="bold"), _layers_line(item.named)]
        remarks = [*words[len(common) :], *_keys_line(item, bench)]
        warnings = views.warnings(item.named)
        remarks += warnings.plain.splitlines() if warnings else []
        yield Group(*lines, *map(_remark, remarks))
    yield views.caution(grips)


def _are_equal(words: tuple[str, ...]) -> bool:
    return len(set(words)) == 1


def _told(item: Item) -> list[str]:
    """What was done to an item, as far as a list does not show it."""
    done = zip(item.options, item.words, strict=True)
    return [views.shown(words) for option, words in done if option not in _SEEN_BY_THEMSELVES]


def _remark(words: str) -> RenderableType:
    return Padding(Text(words), (0, 0, 0, len(_GAP)))


def _keys_line(item: Item, bench: Bench) -> Iterator[str]:
    """In how many keys a reduced voicing can be held."""
    if item.options[-1] == "--reduce":
        voicing = item.named.sounding.voicing
        roots = roots_by_fourths(item.named.reading.symbol.quality)
        found = (find_in_key(voicing, root, bench.instrument, bench.hand) for root in roots)
        yield f"can be held in {sum(bool(each.places) for each in found)} of 12 keys"


def _cells(named: Named) -> tuple[str, str, str]:
    """Chord, degrees and note names, layers apart."""
    names = named.sounding.names
    notes = " | ".join(" ".join(name.shown for name in names[layer.places]) for layer in named.layers)
    degrees = " | ".join(
        " ".join(each.shown for each in named.reading.degrees[layer.places]) for layer in named.layers
    )
    return views.shown(named.chord_shown), views.shown(degrees), views.shown(notes)


def _row(cells: tuple[str, str, str], widths: Sequence[int], frets: str, *, style: str) -> Text:
    chord, degrees, notes = (cell.ljust(width) for cell, width in zip(cells, widths, strict=True))
    return Text.assemble((chord, style), _GAP, degrees, _GAP, notes, _GAP, frets)


def _layers_line(named: Named) -> Text:
    """The layers in brief, lower first: "open B♭ minor triad | close A♭ major triad"."""
    words = " | ".join(_layer_brief(named, layer) for layer in named.layers)
    return Text(f"{_GAP}{views.shown(words)}", style="dim")


def _layer_brief(named: Named, layer: Layer) -> str:
    words = named.sounding.layer_words(layer)
    return words if layer.name.inversion is None else f"{layer.name.spacing} {words}"


def _left_out(reached: Outcome) -> Text | None:
    """The items that could not make a move, and why."""
    lines = [
        f"left out: {views.shown(item.named.chord_shown)}: {fault.what}" for item, fault in reached.left_out
    ]
    return Text("\n".join(lines), style="dim") if lines else None
