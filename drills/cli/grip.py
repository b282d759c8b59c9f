"""`drills grip`: where a voicing lies under the hand."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import click

from drills.cli.help import ExampledCommand
from drills.cli.options import (
    hand_options,
    instrument_options,
    json_option,
    left_handed_option,
    root_option,
    voicing_argument,
)

if TYPE_CHECKING:
    from drills.neck.hand import Hand
    from drills.neck.instrument import Instrument
    from drills.theory.pitch import NoteName


@click.command(
    "grip",
    cls=ExampledCommand,
    examples=[
        "drills grip --root E '1 5 b3 | 11 b7 9'",
        "drills grip --all-keys 'b7 3 | 13 9 #11'",
        "drills grip --root A '1 5 b3 | 11 b7 9' --arpeggio",
        "drills grip --root C '1 5 b3 | 11 b7 9' --tuning 'drop D' --hand small",
    ],
)
@voicing_argument
@root_option
@click.option("--all-keys", is_flag=True, help="Look in all twelve keys; degrees then need no root.")
@click.option("--arpeggio", is_flag=True, help="One note after another, one on each string, not held.")
@click.option("--crossing", is_flag=True, help="Let a higher note lie on a lower string.")
@instrument_options
@hand_options
@left_handed_option
@json_option
def command(
    voicing: tuple[str, ...],
    root: NoteName | None,
    all_keys: bool,
    arpeggio: bool,
    crossing: bool,
    instrument: Instrument,
    hand: Hand,
    left_handed: bool,
    as_json: bool,
) -> None:
    """Find where a voicing lies under the hand.

    VOICING is written as for `drills name`. Notes with octaves stay where they are; all else is tried in
    every octave of the neck. The hand is a model with limits: a teacher's eye goes before it.
    """
    from drills.cli import answers
    from drills.cli.given import Search, read_given
    from drills.cli.output import print_json, show

    given = read_given(voicing, root, instrument, any_root_will_do=all_keys)
    search = Search(hand, arpeggio=arpeggio, crossing=crossing)
    if as_json and all_keys:
        print_json(answers.all_keys_answer(given.named, given.find_in_all_keys(search)))
    elif as_json:
        print_json(answers.grips_answer(given.named, [given.find(search)]))
    else:
        from drills.cli import grip_views

        views = grip_views.all_keys if all_keys else partial(grip_views.one_key, is_left_handed=left_handed)
        show(*views(given, search))
