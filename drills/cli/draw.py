"""`drills draw`: one neck picture."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from drills.cli.help import ExampledCommand
from drills.cli.options import PATH, left_handed_option, root_option, tuning_option, voicing_argument
from drills.errors import DrillsError

if TYPE_CHECKING:
    from drills.cli.given import OnNeck
    from drills.neck.instrument import Instrument
    from drills.theory.pitch import NoteName

_SUFFIX = ".png"


@click.command(
    "draw",
    cls=ExampledCommand,
    examples=[
        "drills draw --root Eb x 4 5 5 6 5 -o eb13.png",
        "drills draw --root E '1 5 b3 | 11 b7 9' -o em11.png --dark",
        "drills draw x32010 -o c.png --left-handed",
        "drills draw seven-strings -o seven-strings.png",
    ],
)
@voicing_argument
@click.option("-o", "file", required=True, metavar="FILE.png", type=PATH, help="Where it goes.")
@root_option
@tuning_option
@left_handed_option
@click.option("--dark", is_flag=True, help="For a dark page.")
def command(
    voicing: tuple[str, ...],
    file: Path,
    root: NoteName | None,
    instrument: Instrument,
    left_handed: bool,
    dark: bool,
) -> None:
    """Draw a voicing on the neck, as a PNG picture.

    VOICING is written as for `drills name`. Frets are drawn as given, anything else on its best grip. A
    recipe in place of a voicing (its path, or its name on the shelf) is drawn whole, all its voicings on one
    sheet. A picture that this program drew earlier is replaced; no other file is.
    """
    if len(voicing) == 1 and _is_recipe(voicing[0]):
        _draw_recipe(voicing[0], file, is_left_handed=left_handed, is_dark=dark)
        return
    from drills.cards.picture import picture_of
    from drills.cli.given import Search, read_given
    from drills.cli.output import visible
    from drills.cli.picture_file import write_picture
    from drills.draw.neck import render

    _check_name(file)
    given = read_given(voicing, root, instrument)
    on_neck = given.on_neck(Search())
    _check_place(on_neck, is_as_typed=given.written.frets is not None)
    spec = picture_of(on_neck.sounding, on_neck.frets, instrument, is_left_handed=left_handed)
    write_picture(file, render(spec, dark=dark))
    click.echo(f"{visible(str(file))}: {given.named.chord_shown}")


def _is_recipe(word: str) -> bool:
    from drills.recipe.shelf import SUFFIX, shelf_names

    return word.endswith(SUFFIX) or word in shelf_names()


def _draw_recipe(recipe: str, file: Path, *, is_left_handed: bool, is_dark: bool) -> None:
    from drills.cli.contact_sheet import draw_sheet
    from drills.cli.output import visible

    _check_name(file)
    count = draw_sheet(recipe, file, is_left_handed=is_left_handed, is_dark=is_dark)
    click.echo(f"{visible(str(file))}: {count} voicing{'s' * (count != 1)}")


def _check_name(file: Path) -> None:
    if file.suffix.lower() != _SUFFIX:
        mend = f"pictures are PNG files: write {file.stem or 'voicing'}{_SUFFIX}"
        raise DrillsError(f"{file.name!r} does not end in {_SUFFIX}", where="-o", mend=mend)


def _check_place(on_neck: OnNeck, *, is_as_typed: bool) -> None:
    """Raises where there is nothing to draw; frets as typed are drawn even where no hand holds them."""
    from drills.neck.grip import Refusal

    if isinstance(on_neck.held, Refusal) and not (is_as_typed and on_neck.frets):
        frets = " ".join("x" if fret is None else str(fret) for fret in on_neck.frets)
        mend = f"frets are drawn as they are: write {frets}" if frets else ""
        raise DrillsError(f"it has no grip to draw: {on_neck.held.why}", mend=mend)
