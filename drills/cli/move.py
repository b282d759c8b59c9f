"""`drills move`: what a player does with a voicing."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from drills.cli.help import ExampledCommand
from drills.cli.number import Number
from drills.cli.options import (
    hand_options,
    instrument_options,
    json_option,
    left_handed_option,
    root_option,
    voicing_argument,
)

if TYPE_CHECKING:
    from drills.cli.answers import Answer
    from drills.cli.move_chain import Item
    from drills.neck.hand import Hand
    from drills.neck.instrument import Instrument
    from drills.theory.pitch import NoteName

_MOVES = ("scale", "steps", "through", "to", "mend", "swap", "reduce", "spread", "turn", "double", "cross")
_TYPED = "drills.move.typed"


class _InOrder(ExampledCommand):
    """A command that remembers its moves in the order in which they were typed."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Reads the arguments, and lines up the values of the moves."""
        order = [*args]
        rest = super().parse_args(ctx, args)
        _, _, parameters = self.make_parser(ctx).parse_args(args=order)
        names = [each.name for each in parameters if each.name in _MOVES]
        values = {name: _values(ctx.params[name]) for name in set(names)}
        ctx.meta[_TYPED] = [(name, values[name].pop(0)) for name in names]
        return rest


def _values(given: Any) -> list[Any]:
    """The values of an option, one for each time it was typed; a flag has none."""
    return [None] * given if isinstance(given, int) else list(given)


@click.command(
    "move",
    cls=_InOrder,
    examples=[
        "drills move C3 G3 E4 B4 D5 F5 --scale 'C major' --through",
        "drills move --root C '1 5 3 | 7 9 11' --mend --to all",
        "drills move --root Eb 'b7 3 | 13 9 #11' --swap upper='close triad'",
        "drills move --root C '1 5 3 | 7 9 #11' --swap lower=stack --swap upper=sus",
        "drills move --root Bb '1 5 b3 | 11 b7 9' --reduce",
        "drills move --root C '1 5 3 | 7 9 #11' --spread lower=close --turn upper=first",
        "drills move x x 10 9 8 x --cross",
    ],
)
@voicing_argument
@root_option
@click.option("--scale", multiple=True, metavar="SCALE", help="The parent scale that steps go through.")
@click.option(
    "--steps", multiple=True, type=Number(int), metavar="N", help="So many scale steps up, or down: -1."
)
@click.option("--through", count=True, help="Every scale step up to the octave.")
@click.option("--root-stays", is_flag=True, help="The root does not step along, as over a pedal.")
@click.option("--to", multiple=True, metavar="NOTE", help="Transpose to a root, or to all by fourths.")
@click.option("--mend", count=True, help="Put every clash right.")
@click.option("--swap", multiple=True, metavar="LAYER=KIND", help="Another layer, the other one kept.")
@click.option("--reduce", count=True, help="Leave out the lowest note, all but four, the fifth.")
@click.option("--spread", multiple=True, metavar="LAYER=SPACING", help="close, open, or drop 2 and the like.")
@click.option("--turn", multiple=True, metavar="LAYER=INVERSION", help="root, first, second or third.")
@click.option("--double", multiple=True, metavar="DEGREE", help="One note again, on top.")
@click.option("--cross", count=True, help="The same notes on other strings.")
@click.option("--limit", type=Number(int, 1), metavar="N", help="At most so many answers.")
@instrument_options
@hand_options
@left_handed_option
@json_option
@click.pass_context
def command(
    context: click.Context,
    /,
    voicing: tuple[str, ...],
    root: NoteName | None,
    root_stays: bool,
    limit: int | None,
    instrument: Instrument,
    hand: Hand,
    left_handed: bool,
    as_json: bool,
    **_moves: object,
) -> None:
    """Move a voicing: step, transpose, swap, mend, reduce, turn, cross.

    VOICING is written as for `drills name`. Moves are made from left to right, each to everything that
    the one before it gave. LAYER is lower or upper; KIND is a structure or a family, such as sus4,
    'open triad' or stack. Two swaps side by side give the chord two new layers at once.
    """
    from drills.cli.given import read_given
    from drills.cli.move_chain import Bench, run_chain, start_of

    given = read_given(voicing, root, instrument)
    bench = Bench(instrument, hand, root_is_given=root is not None, root_stays=root_stays)
    outcome = run_chain(start_of(given), context.meta[_TYPED], bench)
    if as_json:
        from drills.cli.output import print_json

        print_json([_answer(item) for item in outcome.items[:limit]])
    else:
        from drills.cli import move_views
        from drills.cli.output import show

        show(*move_views.outcome(start_of(given), outcome, bench, limit, is_left_handed=left_handed))


def _answer(item: Item) -> Answer:
    """An item as data: what `name` says of it, what was done, what changed, the grip if one was chosen."""
    from drills.cli.answers import grip_answer, named_answer
    from drills.theory.pitch import plain_signs

    done = {
        "move": plain_signs(", then ".join(item.moves)),
        "changed": [[pitch and pitch.plain for pitch in pair] for pair in item.changed],
        "words": "; ".join(item.words),
    }
    grip = {} if item.place is None else {"grip": grip_answer(item.place)}
    return named_answer(item.named) | done | grip
