"""`drills find`: the voicings of a chord, the best ones first."""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING, Any

import click

from drills.cli.help import ExampledCommand
from drills.cli.number import Number
from drills.cli.options import hand_options, instrument_options, json_option, left_handed_option

if TYPE_CHECKING:
    from drills.catalogue.filters import Query
    from drills.neck.hand import Hand
    from drills.neck.instrument import Instrument
    from drills.theory.pitch import NoteName

MOST_LISTED = 10_000
"""Voicings in one answer."""

_LISTED, _LISTED_AS_JSON = 10, 100
"""How many are listed unless a limit is given: what people read, and what programs do."""


@click.command(
    "find",
    cls=ExampledCommand,
    examples=[
        "drills find --chord m11 --notes 6 --min-keys 12",
        "drills find --chord 13#11 --upper 'close major triad' --bass b7",
        "drills find --chord 7alt --upper triad --strings 5-1 --why",
        "drills find --chord Ebmaj9 --lower 'quintal stack' --tuning 'drop D' --limit 3",
    ],
)
@click.option("--chord", "chords", multiple=True, metavar="C", help="Such as m11 or 13#11; any of several.")
@click.option("--lower", multiple=True, metavar="S", help="The lower layer: [spacing] structure or family.")
@click.option("--upper", multiple=True, metavar="S", help="The upper layer, such as 'open triad' or 'sus4'.")
@click.option("--notes", type=Number(int), multiple=True, metavar="N", help="How many notes, 4 to 7.")
@click.option("--top", multiple=True, metavar="DEGREE", help="The highest note, such as 9 or #11.")
@click.option("--bass", multiple=True, metavar="DEGREE", help="The lowest note.")
@click.option(
    "--with-root/--rootless", "with_root", default=None, help="With the root sounding, or without it."
)
@click.option("--repeats", is_flag=True, help="Let one note sound twice; at most three chords.")
@click.option(
    "--min-keys", type=Number(int, 0, 12), default=0, metavar="N", help="Held in so many keys, 0 to 12."
)
@click.option("--strings", metavar="SET", help="Only on these, such as 5-1 or '5 4 3 1'; 1 is the highest.")
@instrument_options
@hand_options
@click.option(
    "--limit",
    type=Number(int, 1, MOST_LISTED),
    metavar="N",
    help="List so many; 10 unless given, 100 as JSON.",
)
@click.option("--why", is_flag=True, help="Show the points that make the order.")
@left_handed_option
@json_option
@click.pass_context
def command(
    context: click.Context,
    /,
    instrument: Instrument,
    hand: Hand,
    strings: str | None,
    limit: int | None,
    why: bool,
    left_handed: bool,
    as_json: bool,
    **asked: Any,
) -> None:
    """Find the voicings of a chord, best first.

    Layers are asked for as [spacing] structure, such as 'open minor triad', where the structure may be a
    family: triad, stack, sus, shell, cluster. Where an option is given several times, any will do. A
    chord with its root, such as Ebm11, is shown in that key. --max-stretch-mm holds for every grip.
    """
    from drills.catalogue.find import find
    from drills.catalogue.setup import Setup
    from drills.cli.output import print_json, show

    query, root = _read_query(asked, _given(context, "max_stretch_mm", hand.max_stretch_mm))
    setup = Setup(instrument, hand, _read_strings(strings, query, len(instrument.open_midi)))
    result = find(query, setup, limit=limit or (_LISTED_AS_JSON if as_json else _LISTED))
    if as_json:
        from drills.cli.find_answer import found_answer

        print_json(found_answer(result, root))
    else:
        from drills.cli import find_views

        show(*find_views.found(result, root, with_points=why, is_left_handed=left_handed))


def _given(context: click.Context, option: str, value: float) -> float | None:
    """A value, if its option was typed."""
    from click.core import ParameterSource

    return value if context.get_parameter_source(option) is ParameterSource.COMMANDLINE else None


def _read_query(asked: dict[str, Any], max_stretch_mm: float | None) -> tuple[Query, NoteName | None]:
    """The query, and the root of the first chord that was typed with one."""
    from drills.catalogue.chord_type import read_chord_type
    from drills.catalogue.filters import Query
    from drills.theory.degree import read_degree
    from drills.theory.layer_pattern import read_layer_pattern

    chords = [read_chord_type(each, where="--chord") for each in asked["chords"]]
    with_root = asked["with_root"]
    query = Query(
        chords=tuple(dict.fromkeys(kind for kind, _ in chords)),
        lower=tuple(read_layer_pattern(each, where="--lower") for each in asked["lower"]),
        upper=tuple(read_layer_pattern(each, where="--upper") for each in asked["upper"]),
        notes=tuple(_checked_notes(each) for each in asked["notes"]),
        top=tuple(read_degree(each, where="--top") for each in asked["top"]),
        bass=tuple(read_degree(each, where="--bass") for each in asked["bass"]),
        rootless=None if with_root is None else not with_root,
        min_keys=asked["min_keys"],
        max_stretch_mm=max_stretch_mm,
        repeats=asked["repeats"],
    )
    return query, next((root for _, root in chords if root is not None), None)


def _checked_notes(notes: int) -> int:
    from drills.catalogue.enumerate import NOTES
    from drills.errors import DrillsError

    if notes not in NOTES:
        mend = f"write {min(NOTES)} to {max(NOTES)}"
        raise DrillsError(f"no voicing of two layers has {notes} notes here", where="--notes", mend=mend)
    return notes


def _read_strings(text: str | None, query: Query, string_count: int) -> tuple[int, ...] | None:
    """The places of the strings asked for, lowest first; one for each note of what is looked for."""
    if text is None:
        return None
    from drills.catalogue.enumerate import NOTES
    from drills.errors import DrillsError
    from drills.recipe.pin import read_strings

    first, *others = query.notes or NOTES
    for notes in others:
        with suppress(DrillsError):
            return read_strings(text, string_count, notes)
    try:
        return read_strings(text, string_count, first)
    except DrillsError as fault:
        raise fault.within("--strings") from None
