"""`drills serve`: a recipe in, its quiz page in the browser."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from drills.cli.help import ExampledCommand
from drills.cli.number import Number
from drills.cli.options import recipe_argument

if TYPE_CHECKING:
    from rich.text import Text


@click.command(
    "serve",
    cls=ExampledCommand,
    examples=["drills serve weeks-01-02-one-layer", "drills serve weeks-01-02-one-layer --phones"],
)
@recipe_argument
@click.option(
    "--port",
    type=Number(int, 1, 65535),
    metavar="N",
    help="The port; unless given the usual one, or any that is free.",
)
@click.option("--phones", is_flag=True, help="Let phones on the same network open the page, too.")
def command(recipe: str, port: int | None, phones: bool) -> None:
    """Serve a deck's quiz page from this machine.

    RECIPE is a path, or the name of a recipe on the shelf. Only this machine can open the page unless
    --phones is given. Nothing is written; Ctrl-C ends it.
    """
    from drills.build import build_quiz
    from drills.cli import deck_views
    from drills.cli.fail import STOPPED
    from drills.cli.output import show
    from drills.pack.serve import THIS_MACHINE, USUAL_PORT, QuizServer, network_address
    from drills.recipe.read import read_recipe

    quiz = build_quiz(read_recipe(recipe))
    host = network_address() if phones else THIS_MACHINE
    with QuizServer(quiz.name, quiz.files, host=host, port=port) as server:
        code = _code(server.address) if phones else None
        taken = USUAL_PORT if port is None and server.server_address[1] != USUAL_PORT else None
        show(*deck_views.plan(quiz.plan), *deck_views.served(server.address, code, taken=taken))
        try:
            server.serve_forever()
        except KeyboardInterrupt:  # how everybody ends it, so nothing needs to be said
            raise click.exceptions.Exit(STOPPED) from None


def _code(address: str) -> Text:
    """The address for a phone's camera, with the quiet rim that ISO/IEC 18004 asks for."""
    import segno

    from drills.cli.deck_views import square_code

    return square_code([list(row) for row in segno.make(address).matrix_iter(border=4)])
