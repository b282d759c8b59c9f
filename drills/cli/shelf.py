"""`drills shelf`: the recipes that come along."""

from __future__ import annotations

from pathlib import Path

import click

from drills.cli.help import ExampledCommand
from drills.cli.options import PATH, json_option


@click.command("shelf", cls=ExampledCommand, examples=["drills shelf", "drills shelf seven-strings"])
@click.argument("name", required=False, metavar="[NAME]")
@click.option(
    "-o",
    "folder",
    default=".",
    metavar="FOLDER",
    type=PATH,
    help="Where the copy goes; here unless given.",
)
@json_option
def command(name: str | None, folder: Path, as_json: bool) -> None:
    """List the recipes that come along, or copy one out to edit.

    With NAME, that recipe is copied; a file that is there is never replaced.
    """
    from drills.cli.output import print_json, show
    from drills.recipe.shelf import copy_from_shelf, shelf_recipes

    if name is not None:
        file = copy_from_shelf(name, folder)
        if as_json:
            print_json({"name": name, "file": str(file)})
        else:
            from drills.cli.deck_views import to_edit

            click.echo(to_edit(file))
    elif as_json:
        recipes = shelf_recipes()
        print_json([{"name": each.name, "title": each.title, "about": each.about} for each in recipes])
    else:
        from drills.cli import deck_views

        show(*deck_views.shelf(shelf_recipes()))
