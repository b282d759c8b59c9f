"""From a recipe to the files a student gets: the one place that joins plan, media and pack."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TypeAlias

from drills.pack.files import together
from drills.plan import CAUTION, Plan, Unreached, plan
from drills.recipe.model import Recipe
from drills.theory.pitch import read_note_name, with_signs

Progress: TypeAlias = Callable[[int, int], None]
"""Told how much is done, and of how much."""


@dataclass(frozen=True, slots=True)
class Built:
    """What a build wrote: package, quiz page as one file and as a folder, handout, notation."""

    plan: Plan
    files: tuple[Path, ...]


@dataclass(frozen=True, slots=True)
class _Part:
    """One thing that a build writes.

    Attributes:
        paths: its files or folders.
        check: raises where one of them cannot be written over.
        write: writes them; what it is given is told how much of the weight is done.
        weight: how much work it is, in cards of a package.
    """

    paths: tuple[Path, ...]
    check: Callable[[], None]
    write: Callable[[Callable[[int], None]], None]
    weight: int


def build(recipe: Recipe, folder: Path, *, progress: Progress | None = None) -> Built:
    """Builds a recipe into a folder.

    Args:
        recipe: read and checked.
        folder: made when it is missing.
        progress: called as the files are written.

    Raises:
        DrillsError: nothing can be built, or a file cannot be written; then everything that was there stays.
    """
    made = plan(recipe)
    name = _name(recipe)
    parts = [
        _package(recipe, made, folder / f"{name}.apkg"),
        _quiz_page(made, folder / f"{name}.html", folder / name),
        *([_handout(recipe, made, folder / f"{name}.pdf")] if recipe.handout.is_on else []),
        _notation(recipe, made, folder / f"{name}.musicxml", folder / f"{name}.mid"),
    ]
    for part in parts:
        part.check()
    done, total = 0, sum(part.weight for part in parts)
    with together():
        for part in parts:
            part.write(partial(_report, progress, done, total))
            done += part.weight
            _report(progress, done, total, 0)
    return Built(made, tuple(path for part in parts for path in part.paths))


def _report(progress: Progress | None, before: int, total: int, done: int) -> None:
    if progress is not None:
        progress(before + done, total)


def _package(recipe: Recipe, made: Plan, path: Path) -> _Part:
    from drills.media.pictures import Pictures
    from drills.media.sounds import Sounds
    from drills.pack.apkg import check_package, write_package

    sounds = Sounds(recipe.sound.seconds, recipe.sound.a4_hz) if recipe.sound.is_on else None

    def write(report: Callable[[int], None]) -> None:
        write_package(made.deck, path, media=Pictures(), sounds=sounds, progress=report)

    return _Part((path,), lambda: check_package(path), write, len(made.deck.cards))


def _quiz_page(made: Plan, file: Path, folder: Path) -> _Part:
    from drills.pack.page import page_of, refuse_foreign_pages, write_file, write_folder

    def write(_: Callable[[int], None]) -> None:
        page = page_of(made.deck)
        write_file(page, file)
        write_folder(page, folder)

    return _Part(
        (file, folder), lambda: refuse_foreign_pages(file, folder), write, len(made.deck.cards) // 20
    )


def _handout(recipe: Recipe, made: Plan, path: Path) -> _Part:
    from drills.pack.handout import Handout, check_handout, write_handout
    from drills.pack.handout.paper import Setting

    wish, deck = recipe.handout, made.deck
    handout = Handout(
        Setting(deck.title, wish.paper, wish.date, CAUTION),
        recipe.about,
        made.subjects,
        deck.cards,
        deck.neck.string_names,
        is_left_handed=deck.neck.is_left_handed,
        out_of_reach=tuple(_out_of_reach(made.unreached)),
        sheets=wish.sheets,
        per_page=wish.per_page,
        versions=wish.versions,
    )
    weight = len(made.subjects) // 4
    return _Part((path,), lambda: check_handout(path), lambda _: write_handout(handout, path), weight)


def _out_of_reach(missed: Iterable[Unreached]) -> Iterator[str]:
    """A line for each voicing with keys that it cannot be held in, and what the deck holds instead."""
    keys: dict[tuple[str, str], list[str]] = {}
    for each in missed:
        keys.setdefault((each.voicing, each.instead), []).append(read_note_name(each.key).shown)
    for (voicing, instead), roots in keys.items():
        yield f"{with_signs(voicing)}: {' '.join(roots)}" + (f"; instead, {instead}" if instead else "")


def _notation(recipe: Recipe, made: Plan, musicxml: Path, midi: Path) -> _Part:
    from drills.pack.score import Sheet, check_notation, write_midi, write_musicxml

    sheet = Sheet(recipe.title, made.subjects, recipe.instrument)

    def write(report: Callable[[int], None]) -> None:
        write_musicxml(sheet, musicxml)
        report(len(made.subjects) // 2)
        write_midi(sheet, midi)

    paths = (musicxml, midi)
    return _Part(paths, lambda: check_notation(sheet, *paths), write, len(made.subjects))


@dataclass(frozen=True, slots=True)
class Quiz:
    """A deck's quiz page as a folder that was not written.

    Attributes:
        plan: of the deck.
        name: of the folder.
        files: contents by name.
    """

    plan: Plan
    name: str
    files: Mapping[str, bytes]


def build_quiz(recipe: Recipe) -> Quiz:
    """Builds only the folder of the quiz page, in memory, to be served from there.

    Raises:
        DrillsError: nothing can be built.
    """
    from drills.pack.page import folder_files, page_of

    made = plan(recipe)
    return Quiz(made, _name(recipe), folder_files(page_of(made.deck)))


def _name(recipe: Recipe) -> str:
    """What the files of a recipe are called, without their endings; dots alone would name a folder above."""
    name = Path(recipe.source).name.removesuffix(".toml")
    return name if name.strip(".") else recipe.id
