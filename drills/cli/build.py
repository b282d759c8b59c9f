"""`drills build`: a recipe in, a deck out."""

from __future__ import annotations

from pathlib import Path

import click

from drills.cli.help import ExampledCommand
from drills.cli.options import PATH, json_option, recipe_argument


@click.command(
    "build",
    cls=ExampledCommand,
    examples=["drills build seven-strings", "drills build seven-strings.toml -o for-the-group"],
)
@recipe_argument
@click.option(
    "-o",
    "folder",
    default="build",
    metavar="FOLDER",
    type=PATH,
    help="Where the files go; build unless given.",
)
@json_option
def command(recipe: str, folder: Path, as_json: bool) -> None:
    """Build a drill deck from a recipe.

    RECIPE is a path, or the name of a recipe on the shelf. The deck comes as a package (.apkg), as a quiz
    page in one file, and as the same page in a folder for a host; with it a handout (.pdf) and all voicings
    as notation (.musicxml, .mid). An older build of it is replaced, and students who have it keep their
    progress; a file that this program did not write is never touched.
    """
    from drills.build import build
    from drills.cli.output import print_json, progress, show
    from drills.recipe.read import read_recipe

    read = read_recipe(recipe)
    with progress("building", is_wanted=not as_json) as report:
        built = build(read, folder, progress=report)
    if as_json:
        from drills.cli.answers import built_answer

        print_json(built_answer(built))
    else:
        from drills.cli import deck_views

        show(*deck_views.plan(built.plan), deck_views.files(built.files))
