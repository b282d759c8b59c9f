"""Help pages: what a command does, its options, and examples to type."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import click


class ExampledCommand(click.Command):
    """A command whose help ends with examples; they are run in the tests.

    Attributes:
        examples: shell lines.
    """

    def __init__(self, *args: Any, examples: Sequence[str] = (), **options: Any) -> None:
        super().__init__(*args, **options)
        self.examples = tuple(examples)

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Reads the arguments; an error says which command it is about, so that its help can be named."""
        try:
            return super().parse_args(ctx, args)
        except click.UsageError as fault:
            fault.ctx = fault.ctx or ctx
            raise

    def format_epilog(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Writes the examples, one a line and never wrapped, so that they can be copied."""
        del ctx
        with formatter.section("Examples"):
            for example in self.examples:
                formatter.write(f"{'':{formatter.current_indent}}{example}\n")
