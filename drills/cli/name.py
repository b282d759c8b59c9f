"""`drills name`: what a voicing is called."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from drills.cli.help import ExampledCommand
from drills.cli.options import json_option, left_handed_option, root_option, tuning_option, voicing_argument

if TYPE_CHECKING:
    from drills.cli.given import Given
    from drills.neck.instrument import Instrument
    from drills.theory.pitch import NoteName


@click.command(
    "name",
    cls=ExampledCommand,
    examples=[
        "drills name --root Bb '1 5 b3 | 11 b7 9'",
        "drills name Bb2 F3 Db4 Eb4 Ab4 C5",
        "drills name --root Eb x 4 5 5 6 5",
        "drills name --tuning 'drop D' 0 0 0 2 3 2",
    ],
)
@voicing_argument
@root_option
@tuning_option
@left_handed_option
@json_option
def command(
    voicing: tuple[str, ...], root: NoteName | None, instrument: Instrument, left_handed: bool, as_json: bool
) -> None:
    """Name a voicing and its layers.

    VOICING is written as notes (Bb2 F3 Db4), as degrees over --root (1 5 b3), or as frets, low string
    first (x 4 5 5 6 5 or x32010). A bar, | or /, separates the layers; the shell wants | in quotes.
    """
    from drills.cli.answers import named_answer
    from drills.cli.given import read_given
    from drills.cli.output import print_json

    given = read_given(voicing, root, instrument)
    if as_json:
        print_json(named_answer(given.named))
    else:
        _show(given, is_left_handed=left_handed)


def _show(given: Given, *, is_left_handed: bool) -> None:
    from drills.cli import views
    from drills.cli.given import Search
    from drills.cli.output import show

    on_neck = given.on_neck(Search())
    show(
        views.headline(given.named),
        views.layers(given.named),
        views.other_readings(given.named),
        views.warnings(given.named),
        views.neck_of(on_neck, given.instrument, is_left_handed=is_left_handed),
        views.held_line(on_neck, given.named),
        views.look_further(on_neck),
    )
