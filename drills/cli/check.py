"""`drills check`: what a recipe would build."""

from __future__ import annotations

import click

from drills.cli.help import ExampledCommand
from drills.cli.options import json_option, recipe_argument


@click.command(
    "check",
    cls=ExampledCommand,
    examples=["drills check seven-strings", "drills check seven-strings.toml --json"],
)
@recipe_argument
@json_option
def command(recipe: str, as_json: bool) -> None:
    """Say what a recipe would build, or what is wrong with it.

    RECIPE is a path, or the name of a recipe on the shelf. Nothing is written.
    """
    from drills.cli.output import print_json, show
    from drills.plan import plan
    from drills.recipe.read import read_recipe

    planned = plan(read_recipe(recipe))
    if as_json:
        from drills.cli.answers import plan_answer

        print_json(plan_answer(planned))
    else:
        from drills.cli import deck_views

        show(*deck_views.plan(planned))
