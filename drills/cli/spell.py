"""`drills spell`: what a chord holds."""

from __future__ import annotations

import click

from drills.cli.help import ExampledCommand
from drills.cli.options import json_option


@click.command(
    "spell",
    cls=ExampledCommand,
    examples=["drills spell Bbm11", "drills spell C13#11", "drills spell 'G7(b9,b13)' --json"],
)
@click.argument("chord", nargs=-1, metavar="CHORD")
@json_option
def command(chord: tuple[str, ...], as_json: bool) -> None:
    """Spell a chord: notes, degrees, scales, avoid notes.

    CHORD is a symbol in any usual writing: Bbm11, Cmaj9#11, F#m7b5, G7alt, C9sus4. Avoid notes are the
    scale's notes a half step above a chord tone.
    """
    from drills.theory.chord import read_chord

    spelled = read_chord(" ".join(chord))
    if as_json:
        from drills.cli.answers import chord_answer
        from drills.cli.output import print_json

        print_json(chord_answer(spelled))
        return
    from drills.cli import views
    from drills.cli.output import show

    show(views.chord_headline(spelled), views.chord_notes(spelled), views.scales(spelled))
