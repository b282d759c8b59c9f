"""What `drills` alone says: what it is for, one voicing to look at, and what to type first."""

from __future__ import annotations

from rich.table import Table
from rich.text import Text

from drills.cli import views
from drills.cli.given import Search, read_given
from drills.cli.output import show
from drills.neck.search import STANDARD_INSTRUMENT
from drills.theory.pitch import read_note_name

_VOICING, _ROOT = "x 4 5 5 6 5", "Eb"
_FIRST_COMMANDS = (
    (f"drills name --root {_ROOT} {_VOICING}", "what this is called"),
    ("drills grip --all-keys '1 5 b3 | 11 b7 9'", "where a voicing can be held"),
    ("drills shelf", "decks ready to build"),
)


def welcome() -> None:
    """Prints it."""
    given = read_given([_VOICING], read_note_name(_ROOT), STANDARD_INSTRUMENT)
    on_neck = given.on_neck(Search())
    first = Table.grid(padding=(0, 3, 0, 0))
    first.add_row(Text("to begin", style="dim"))
    for line, words in _FIRST_COMMANDS:
        first.add_row(Text(line, style="bold"), Text(words, style="dim"))
    show(
        Text("Layered voicings, named, found on the neck, and drilled until they stay."),
        views.headline(given.named),
        views.layers_in_brief(given.named),
        views.neck_of(on_neck, given.instrument),
        first,
        Text("drills --help lists every command; each has examples on its own help page.", style="dim"),
    )
