"""`drills name`: what a voicing is called."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from drills.cli.help import ExampledCommand
from drills.cli.options import (
    PATH,
    json_option,
    left_handed_option,
    root_option,
    tuning_option,
    voicing_argument,
)
from drills.errors import DrillsError

if TYPE_CHECKING:
    from drills.cli.given import Given
    from drills.cli.read_in import ReadIn
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
        "drills name --from chords.musicxml",
        "drills name --from chords.musicxml --recipe chords.toml",
    ],
)
@voicing_argument
@root_option
@tuning_option
@left_handed_option
@click.option(
    "--from",
    "file",
    metavar="FILE",
    type=PATH,
    help="Name every chord of a MusicXML or MIDI file instead.",
)
@click.option(
    "--recipe",
    metavar="OUT.toml",
    type=PATH,
    help="With --from, write a recipe that drills what was read.",
)
@json_option
def command(
    voicing: tuple[str, ...],
    root: NoteName | None,
    instrument: Instrument,
    left_handed: bool,
    file: Path | None,
    recipe: Path | None,
    as_json: bool,
) -> None:
    """Name a voicing and its layers.

    VOICING is written as notes (Bb2 F3 Db4), as degrees over --root (1 5 b3), or as frets, low string
    first (x 4 5 5 6 5 or x32010). A bar, | or /, separates the layers; the shell wants | in quotes.
    """
    if file is not None:
        if voicing:
            what = f"--from names the chords of a file, and {' '.join(voicing)!r} was typed as well"
            raise DrillsError(what, mend="leave one of them out")
        _name_file(file, root, recipe, as_json=as_json)
        return
    if recipe is not None:
        raise DrillsError("--recipe writes down what --from reads", mend="name a file with --from")
    from drills.cli.answers import named_answer
    from drills.cli.given import read_given
    from drills.cli.output import print_json

    given = read_given(voicing, root, instrument)
    if as_json:
        print_json(named_answer(given.named))
    else:
        _show(given, is_left_handed=left_handed)


def _name_file(file: Path, root: NoteName | None, recipe: Path | None, *, as_json: bool) -> None:
    from drills.cli.read_in import read_in

    found = read_in(file, root)
    if recipe is not None:
        from drills.recipe.write import recipe_text, write_recipe

        write_recipe(recipe, recipe_text(file.stem, [named for _, named in found.named]))
    if as_json:
        from drills.cli.answers import named_answer
        from drills.cli.output import print_json

        print_json([{"where": where, **named_answer(named)} for where, named in found.named])
    else:
        _show_file(found, recipe)


def _show_file(found: ReadIn, recipe: Path | None) -> None:
    from drills.cli import read_in_views
    from drills.cli.output import show

    show(read_in_views.chords(found), read_in_views.skipped(found), read_in_views.written(recipe))


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
        views.caution([on_neck.held]),
    )
