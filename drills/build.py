"""From a recipe to the files a student gets: the one place that joins plan, media and pack."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias

from drills.errors import DrillsError
from drills.plan import Plan, plan
from drills.recipe.model import Recipe

Progress: TypeAlias = Callable[[int, int], None]
"""Told how much is done, and of how much."""


@dataclass(frozen=True, slots=True)
class Built:
    """What a build wrote."""

    plan: Plan
    files: tuple[Path, ...]


def build(recipe: Recipe, folder: Path, *, progress: Progress | None = None) -> Built:
    """Builds a recipe into a folder.

    Args:
        recipe: read and checked.
        folder: made when it is missing.
        progress: called as the package is written.

    Raises:
        DrillsError: nothing can be built, or a file cannot be written; what was there stays.
    """
    from drills.media.pictures import Pictures
    from drills.pack.apkg import write_package

    made = plan(recipe)
    path = folder / f"{Path(recipe.source).name.removesuffix('.toml') or recipe.id}.apkg"
    total = len(made.deck.cards)
    report = None if progress is None else lambda done: progress(done, total)
    _make_folder(folder)
    write_package(made.deck, path, media=Pictures(), progress=report)
    return Built(made, (path,))


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        what = f"cannot make the folder {str(folder)!r}: {fault.strerror or fault}"
        raise DrillsError(what, where="-o", mend="name a folder that you may write to") from fault
