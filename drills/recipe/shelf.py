"""The shelf: the recipes that come with the program, and where any recipe is found.

No other file knows where the shelf lies: inside the installed package, or beside it in a checkout.
"""

from __future__ import annotations

import os
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from importlib import resources
from importlib.resources.abc import Traversable
from pathlib import Path

from drills.errors import DrillsError
from drills.recipe.new_file import write_new
from drills.theory.words import nearest

SUFFIX = ".toml"
MOST_BYTES = 1_000_000


@dataclass(frozen=True, slots=True)
class ShelfRecipe:
    """A recipe that comes with the program.

    Attributes:
        name: how commands call it.
        title, about: its own words about itself.
    """

    name: str
    title: str
    about: str


@dataclass(frozen=True, slots=True)
class FoundRecipe:
    """The text of a recipe.

    Attributes:
        name: its file's name without `.toml`.
        source: its file, as messages name it.
        text: what it holds.
    """

    name: str
    source: str
    text: str


def shelf_names() -> tuple[str, ...]:
    """The names of the shelf's recipes, in order."""
    return tuple(sorted(_files()))


def shelf_recipes() -> tuple[ShelfRecipe, ...]:
    """The shelf's recipes, by name."""
    listed = []
    for name, file in sorted(_files().items()):
        values = tomllib.loads(file.read_text(encoding="utf-8"))
        listed.append(ShelfRecipe(name, values["title"], values.get("about", "")))
    return tuple(listed)


def find_recipe(path_or_name: str | Path) -> FoundRecipe:
    """A recipe by its path, or by its name on the shelf.

    What ends in `.toml` or has a folder in it is a path; any other word is a name on the shelf, else a file
    here.

    Raises:
        DrillsError: there is no such recipe, or its file cannot be read.
    """
    if isinstance(path_or_name, Path) or path_or_name.endswith(SUFFIX) or _has_folder(path_or_name):
        return _from_file(Path(path_or_name))
    if path_or_name not in _files() and _is_here(path_or_name):
        return _from_file(Path(path_or_name))
    file = _on_shelf(path_or_name)
    return FoundRecipe(path_or_name, file.name, file.read_text(encoding="utf-8"))


def copy_from_shelf(name: str, folder: Path) -> Path:
    """Copies a shelf recipe into a folder, to be edited there, and returns the new file.

    Raises:
        DrillsError: no such recipe, a file of that name is there already, or the folder cannot be written to.
    """
    file = _on_shelf(name)
    target = folder / file.name
    write_new(target, file.read_bytes())
    return target


def _files() -> dict[str, Traversable]:
    """The recipes by name."""
    inside = resources.files("drills") / "decks"
    folder = inside if inside.is_dir() else Path(__file__).parents[2] / "decks"
    return {file.name.removesuffix(SUFFIX): file for file in folder.iterdir() if file.name.endswith(SUFFIX)}


def _on_shelf(name: str) -> Traversable:
    files = _files()
    if name not in files:
        mend = (
            f"the file here is {name + SUFFIX!r}"
            if _is_here(name + SUFFIX)
            else _nearest_on_shelf(name, files)
        )
        raise DrillsError(f"no recipe named {_short(name)} on the shelf", mend=mend)
    return files[name]


def _is_here(name: str) -> bool:
    """Whether a file of that name lies in the working folder; what cannot be a name is none."""
    return any(path.name == name and path.is_file() for path in Path().glob("*"))


def _nearest_on_shelf(name: str, files: Iterable[str]) -> str:
    if name in files:
        return f"write {name!r}, without {SUFFIX}, for the recipe on the shelf"
    close = nearest(name[:100], files)
    return (
        f"the nearest on the shelf is {close!r}"
        if close
        else "`drills shelf` lists the recipes that come along"
    )


def _from_file(path: Path) -> FoundRecipe:
    source = str(path)
    try:
        if path.is_dir():
            raise DrillsError(
                "this is a folder", where=source, mend=f"name a recipe in it, such as {path / 'week.toml'}"
            )
        if path.exists() and not path.is_file():
            raise DrillsError(
                "this is no file", where=source, mend="name a recipe, a text file that ends in .toml"
            )
        with path.open("rb") as file:
            content = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        mend = _nearest_on_shelf(path.name.removesuffix(SUFFIX), _files())
        raise DrillsError("there is no such file", where=source, mend=mend) from None
    except (OSError, ValueError) as fault:
        why = getattr(fault, "strerror", None) or "its name is no file name"
        raise DrillsError(
            f"cannot read it ({why})", where=source, mend="name a file that you may read"
        ) from None
    if len(content) > MOST_BYTES:
        mend = f"a recipe has at most {MOST_BYTES:,} bytes"
        raise DrillsError("this is too large for a recipe", where=source, mend=mend)
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = content.count(b"\n", 0, fault.start) + 1
        raise DrillsError(
            "this is not UTF-8 text", where=f"{source}, line {line}", mend="save it as UTF-8"
        ) from None
    return FoundRecipe(path.name.removesuffix(SUFFIX), source, text)


def _has_folder(text: str) -> bool:
    return any(separator in text for separator in (os.sep, os.altsep) if separator)


def _short(name: str) -> str:
    return repr(name if len(name) <= 60 else f"{name[:60]}…")
