"""How the chords of a file look to people: a line for each, and what was done with them."""

from __future__ import annotations

from pathlib import Path

from rich.table import Table
from rich.text import Text

from drills.cli.deck_views import to_edit
from drills.cli.read_in import ReadIn
from drills.cli.views import shown
from drills.theory.naming import Named
from drills.theory.voicing import MOST_NOTES


def chords(found: ReadIn) -> Table:
    """Where each chord stands, its name, its notes, and its layers, the upper one last."""
    table = Table.grid(padding=(0, 3, 0, 0))
    table.add_row(*(Text(word, style="dim") for word in ("where", "chord", "notes", "layers")))
    for where, named in found.named:
        notes = " | ".join(
            " ".join(pitch.name.shown for pitch in named.sounding.pitches[layer.places])
            for layer in named.layers
        )
        table.add_row(
            Text(where), Text(shown(named.chord_shown), style="bold"), Text(shown(notes)), _layers(named)
        )
    return table


def _layers(named: Named) -> Text:
    return Text(shown(", ".join(named.sounding.layer_words(layer) for layer in named.layers)))


def skipped(found: ReadIn) -> Text | None:
    """What was left out, if anything."""
    if not found.skipped:
        return None
    where, count = found.skipped[0]
    others = f", and {len(found.skipped) - 1} more" if len(found.skipped) > 1 else ""
    return Text(f"left out: {where} has {count} notes, more than {MOST_NOTES}{others}")


def written(recipe: Path | None) -> Text | None:
    """Where the recipe lies, and what to do with it."""
    if recipe is None:
        return None
    return Text(to_edit(recipe))
