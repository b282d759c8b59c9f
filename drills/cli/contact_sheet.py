"""`drills draw RECIPE`: the voicings of a recipe on one picture."""

from __future__ import annotations

from dataclasses import replace
from itertools import groupby
from pathlib import Path

from drills.cards.answer import neck_of
from drills.cards.identity import voicing_identity
from drills.cards.subject import Subject
from drills.cards.words import chord_head, degrees_words
from drills.cli.picture_file import write_picture
from drills.draw.sheet import Cell, contact_sheet
from drills.plan import plan
from drills.recipe.read import read_recipe


def draw_sheet(recipe: str, file: Path, *, is_left_handed: bool, is_dark: bool) -> int:
    """Draws each voicing in its first key; returns how many there are.

    Raises:
        DrillsError: the recipe has a fault, too many voicings, or the place is taken.
    """
    read = read_recipe(recipe)
    groups = groupby(plan(read).subjects, voicing_identity)
    cells = [_cell(next(group), is_left_handed=is_left_handed) for _, group in groups]
    write_picture(file, contact_sheet(read.title, cells, dark=is_dark))
    return len(cells)


def _cell(subject: Subject, *, is_left_handed: bool) -> Cell:
    picture = neck_of(subject)
    if is_left_handed:
        picture = replace(picture, is_left_handed=True)
    foot = f"{degrees_words(subject)}  ·  frets {subject.grip.text}"
    return Cell(chord_head(subject), foot, picture, subject.nickname)
