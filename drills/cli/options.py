"""Options that several commands share, and how their values are read.

Values are checked here, once; commands get a note, an instrument, a hand.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeAlias

import click

from drills.cli.number import Number

if TYPE_CHECKING:
    from drills.neck.hand import Hand
    from drills.neck.instrument import Instrument
    from drills.theory.pitch import NoteName

Body: TypeAlias = Callable[..., None]

PATH = click.Path(readable=False, path_type=Path)
"""A path as it is typed; whoever opens it says what is wrong with it."""


def _read_root(context: click.Context, parameter: click.Parameter, value: str | None) -> NoteName | None:
    del context, parameter
    if value is None:
        return None
    from drills.theory.pitch import read_note_name

    return read_note_name(value, where="--root")


voicing_argument = click.argument("voicing", nargs=-1, metavar="VOICING...")
"""A voicing in any of its three forms; several words count as one text, so nobody must quote."""

recipe_argument = click.argument("recipe", metavar="RECIPE")
"""A path, or a name on the shelf."""

root_option = click.option(
    "--root",
    metavar="NOTE",
    callback=_read_root,
    help="The root, such as Bb. Numbers are then degrees, where all of them can be.",
)

json_option = click.option("--json", "as_json", is_flag=True, help="Print one JSON value instead of words.")

left_handed_option = click.option(
    "--left-handed", is_flag=True, help="Draw the neck for left-handed players."
)

_tuning_option = click.option(
    "--tuning",
    metavar="TUNING",
    default="standard",
    help="A name, such as 'drop D', or six to eight notes, low string first, as one text.",
)


def tuning_option(body: Body) -> Body:
    """Gives a command `instrument`: any tuning on a usual neck."""

    @_tuning_option
    @wraps(body)
    def with_instrument(tuning: str, **rest: Any) -> None:
        from drills.neck.instrument import Instrument
        from drills.neck.tuning import read_tuning

        body(instrument=Instrument(read_tuning(tuning, where="--tuning")), **rest)

    return with_instrument


def instrument_options(body: Body) -> Body:
    """Gives a command `instrument`, from four options."""

    @_tuning_option
    @click.option(
        "--capo", type=Number(int), default=0, metavar="FRET", help="Where a capo sits; frets count from it."
    )
    @click.option(
        "--frets",
        type=Number(int),
        default=20,
        metavar="N",
        help="Frets on the neck, 12 to 24; 20 unless given.",
    )
    @click.option(
        "--scale-length-mm",
        type=Number(float),
        default=648.0,
        metavar="MM",
        help="From nut to bridge; 648 unless given.",
    )
    @wraps(body)
    def with_instrument(tuning: str, capo: int, frets: int, scale_length_mm: float, **rest: Any) -> None:
        body(instrument=_instrument(tuning, capo, frets, scale_length_mm), **rest)

    return with_instrument


def _instrument(tuning: str, capo: int, frets: int, scale_length_mm: float) -> Instrument:
    from drills.errors import DrillsError
    from drills.neck.instrument import Instrument
    from drills.neck.tuning import read_tuning

    strings = read_tuning(tuning, where="--tuning")
    try:
        return Instrument(strings, capo, frets, scale_length_mm)
    except DrillsError as fault:
        option = f"--{fault.where.replace('_', '-')}"
        raise DrillsError(fault.what, where=option, mend=fault.mend) from None


def hand_options(body: Body) -> Body:
    """Gives a command `hand`, from a profile and two limits of one's own."""

    @click.option("--hand", metavar="PROFILE", default="usual", help="usual or small.")
    @click.option(
        "--max-stretch-mm",
        type=Number(float),
        metavar="MM",
        help="The widest stretch, 101 in the usual hand.",
    )
    @click.option(
        "--max-frets-apart",
        type=Number(int),
        metavar="N",
        help="The most frets apart, 4 in the usual hand, one more up the neck.",
    )
    @wraps(body)
    def with_hand(hand: str, max_stretch_mm: float | None, max_frets_apart: int | None, **rest: Any) -> None:
        body(hand=_hand(hand, max_stretch_mm, max_frets_apart), **rest)

    return with_hand


def _hand(profile: str, max_stretch_mm: float | None, max_frets_apart: int | None) -> Hand:
    from dataclasses import replace

    from drills.neck.hand import read_hand
    from drills.recipe.known import HAND_RANGES

    hand = read_hand(profile, where="--hand")
    if max_stretch_mm is not None:
        hand = replace(
            hand, max_stretch_mm=_within("--max-stretch-mm", max_stretch_mm, *HAND_RANGES["max_stretch_mm"])
        )
    if max_frets_apart is not None:
        hand = replace(hand, max_frets_apart=int(_within("--max-frets-apart", max_frets_apart, 1, 12)))
    return hand


def _within(option: str, value: float, least: int, most: int) -> float:
    """The value itself, if it lies in a range; what is no number does not."""
    from drills.errors import DrillsError

    if not least <= value <= most:
        raise DrillsError(f"{value:g} is out of range", where=option, mend=f"write {least} to {most}")
    return value
