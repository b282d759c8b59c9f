"""`drills path`: the smoothest way through a progression."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from drills.cli.help import ExampledCommand
from drills.cli.number import Number
from drills.cli.options import hand_options, instrument_options, json_option

if TYPE_CHECKING:
    from drills.neck.hand import Hand
    from drills.neck.instrument import Instrument


@click.command(
    "path",
    cls=ExampledCommand,
    examples=[
        "drills path 'Dm7 G7alt Cmaj7'",
        "drills path 'Abm7 Db7 Gbmaj7' --notes 5 --limit 1",
        "drills path 'Bm7b5 | E7alt | Am6/9' --tuning 'all fourths' --json",
    ],
)
@click.argument("chords", nargs=-1, metavar="CHORDS")
@click.option(
    "--notes",
    type=Number(int, 4, 7),
    metavar="N",
    help="Notes in every voicing, 4 to 7; any unless given.",
)
@click.option(
    "--limit",
    type=Number(int, 1, 50),
    default=3,
    metavar="N",
    help="How many ways to show; 3 unless given.",
)
@instrument_options
@hand_options
@json_option
def command(
    chords: tuple[str, ...],
    notes: int | None,
    limit: int,
    instrument: Instrument,
    hand: Hand,
    as_json: bool,
) -> None:
    """Find the smoothest way through a progression.

    CHORDS are symbols in a row, such as 'Dm7 G7alt Cmaj7'. For each the catalogue's voicings are gone
    through at every place of the neck; least movement wins. The cost is told in frets.
    """
    from drills.catalogue.progression import read_progression, ways
    from drills.catalogue.setup import Setup

    read = read_progression(" ".join(chords))
    found = ways(read, notes=notes, limit=limit, setup=Setup(instrument, hand))
    if as_json:
        from drills.cli.answers import ways_answer
        from drills.cli.output import print_json

        print_json(ways_answer(read, found))
        return
    from drills.cli import path_views
    from drills.cli.output import show

    show(*path_views.ways(read, found))
