"""The program `drills`: finds the command, runs it, and ends with the right status.

Commands are loaded when they are called, so that help comes at once; each lives in the file of its
name and is called `command` there.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import Any

import click

from drills.cli.fail import exit_status
from drills.cli.output import use_utf8
from drills.errors import DrillsError

COMMANDS = {
    "name": "Name a voicing and its layers.",
    "spell": "Spell a chord: notes, degrees, scales, avoid notes.",
    "grip": "Find where a voicing lies under the hand.",
    "find": "Find the voicings of a chord, best first.",
    "move": "Move a voicing: step, transpose, swap, mend, reduce, turn, cross.",
    "path": "Find the smoothest way through a progression.",
    "draw": "Draw a voicing on the neck, as a PNG picture.",
    "shelf": "List the recipes that come along, or copy one out to edit.",
    "check": "Say what a recipe would build, or what is wrong with it.",
    "build": "Build a drill deck from a recipe.",
    "serve": "Serve a deck's quiz page from this machine.",
}
"""Every command and the first line of its help, in the order in which they are listed."""

_COMPLETION = "_DRILLS_COMPLETE"


class _Commands(click.Group):
    """The commands, loaded by name."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Their names."""
        del ctx
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """One of them, loaded."""
        del ctx
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = import_module(f"drills.cli.{cmd_name}").command
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that the first word names; its error names the nearest one."""
        try:
            return super().resolve_command(ctx, args)
        except click.UsageError:
            from drills.theory.words import nearest

            close = nearest(args[0], COMMANDS)
            mend = f"did you mean {close}?" if close else f"commands are {', '.join(COMMANDS)}"
            raise DrillsError(f"no command {args[0]!r}", mend=mend) from None

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Lists them without loading any."""
        del ctx
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@click.group(
    cls=_Commands,
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"]},
    epilog="Each command has a help page with examples: drills name --help",
)
@click.option("--version", is_flag=True, help="Say which version this is.")
@click.pass_context
def drills(context: click.Context, version: bool) -> None:
    """Turn layered jazz-guitar chord voicings into spaced-repetition drills.

    Name a voicing, find where it lies under the hand, and build a deck of drills from a recipe.
    """
    if version:
        click.echo(f"drills {_version()}")
        context.exit()
    if context.invoked_subcommand is None:
        from drills.cli.welcome import welcome

        welcome()


def _version() -> str:
    """The version of the installed package."""
    from importlib import metadata

    try:
        return metadata.version("layered-voicing-drills")
    except metadata.PackageNotFoundError:
        return "(a checkout that is not installed)"


def main(args: Sequence[str] | None = None) -> int:
    """Runs the program and returns its exit status."""
    use_utf8()
    return exit_status(lambda: _run(list(sys.argv[1:] if args is None else args)))


def _run(args: list[str]) -> Any:
    wish = os.environ.get(_COMPLETION)
    if wish:  # a shell asks for the words that could come next
        from click.shell_completion import shell_complete

        raise click.exceptions.Exit(shell_complete(drills, {}, "drills", _COMPLETION, wish))
    with drills.make_context("drills", args) as context:
        return drills.invoke(context)


if __name__ == "__main__":
    sys.exit(main())
