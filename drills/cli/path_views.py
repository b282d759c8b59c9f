"""How the answer of `drills path` looks to people: a line for each chord, the voicing beside its grip."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rich.console import RenderableType
from rich.table import Table
from rich.text import Text

from drills.catalogue.path import Way
from drills.cli import views
from drills.cli.answers import named_at
from drills.neck.search import Place
from drills.theory.chord import Chord


def ways(chords: Sequence[Chord], found: Sequence[Way]) -> Iterator[RenderableType | None]:
    """The chords, then each way with its cost."""
    line = "  ".join(views.shown(chord.shown) for chord in chords)
    yield Text(line, style="bold")
    for number, way in enumerate(found, 1):
        yield Text(f"way {number}, cost {way.cost:g}", style="dim")
        yield _steps(chords, way)
    yield views.caution([place.grip for way in found for place in way.places])


def _steps(chords: Sequence[Chord], way: Way) -> Table:
    table = Table.grid(padding=(0, 3, 0, 0))
    for chord, place in zip(chords, way.places, strict=True):
        grip = place.grip
        table.add_row(
            Text(views.shown(chord.shown), style="bold"),
            Text(views.shown(place.sounding.voicing.shown)),
            Text(grip.text, style="bold"),
            Text(views.fingers_text(grip)),
            _called(chord, place),
        )
    return table


def _called(chord: Chord, place: Place) -> Text:
    """What the voicing is, where the symbol says less."""
    named = named_at(place)
    exact = named.root.shown + named.reading.symbol.shown
    plain = chord.root.shown + chord.symbol.shown
    return Text("" if exact == plain else views.shown(exact), style="dim")
