"""A build writes one package that readers of the open format can take apart."""

from __future__ import annotations

import json
import re
import sqlite3
import zipfile
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from drills.build import build
from drills.errors import DrillsError
from drills.recipe.model import Recipe

from .test_plan import OVER_TWO, TWO_HANDS, entry, notes, recipe


@pytest.fixture
def small() -> Recipe:
    """Two voicings in two keys, all seven drills."""
    return recipe(OVER_TWO, entry("5 b3 | 11 b7 9", "m11"), keys=notes("C Eb"))


def opened(path: Path, folder: Path) -> tuple[sqlite3.Connection, dict[str, str]]:
    """The package's database and its map of pictures, taken apart by plain tools."""
    with zipfile.ZipFile(path) as package:
        assert package.testzip() is None
        package.extractall(folder)
    database = next(file for file in folder.iterdir() if file.read_bytes().startswith(b"SQLite format 3"))
    return sqlite3.connect(database), json.loads((folder / "media").read_text(encoding="utf-8"))


def test_the_package_holds_the_plan(small: Recipe, tmp_path: Path) -> None:
    """Sound database, one note and card for each card of the plan, every picture there and decodable."""
    seen: list[tuple[int, int]] = []
    built = build(small, tmp_path / "out", progress=lambda done, total: seen.append((done, total)))
    (path,) = built.files
    assert path.name == "week-03.apkg"
    database, media = opened(path, tmp_path / "open")
    assert database.execute("pragma integrity_check").fetchone() == ("ok",)
    count = len(built.plan.deck.cards)
    assert database.execute("select count(*) from notes").fetchone() == (count,)
    assert database.execute("select count(*) from cards").fetchone() == (count,)
    shown = {
        name
        for (fields,) in database.execute("select flds from notes")
        for name in re.findall(r'src="([^"]+)"', fields)
    }
    assert shown == set(media.values())
    for number, name in media.items():
        with Image.open(BytesIO((tmp_path / "open" / number).read_bytes())) as picture:
            picture.load()
            assert picture.size == (1080, 480), name
    assert seen[-1][0] == seen[-1][1] == count
    assert any("Eb13sharp11" in name for name in media.values())


def test_a_rebuild_of_an_unchanged_recipe_is_the_same_to_the_byte(small: Recipe, tmp_path: Path) -> None:
    """Into the same folder or another, once or twice."""
    first = build(small, tmp_path / "a").files[0].read_bytes()
    assert build(small, tmp_path / "a").files[0].read_bytes() == first
    assert build(small, tmp_path / "b").files[0].read_bytes() == first


def test_a_file_of_somebody_else_is_left_alone(small: Recipe, tmp_path: Path) -> None:
    """What this program did not write is never overwritten."""
    (tmp_path / "week-03.apkg").write_bytes(b"not ours")
    with pytest.raises(DrillsError):
        build(small, tmp_path)
    assert (tmp_path / "week-03.apkg").read_bytes() == b"not ours"


def test_a_folder_that_cannot_be_made_is_said(small: Recipe, tmp_path: Path) -> None:
    """A file stands where the folder should be."""
    (tmp_path / "out").write_text("a file")
    with pytest.raises(DrillsError, match="cannot make the folder"):
        build(small, tmp_path / "out")


def test_nothing_to_build_leaves_nothing(tmp_path: Path) -> None:
    """A recipe without a card makes no folder."""
    with pytest.raises(DrillsError):
        build(recipe(TWO_HANDS, keys=notes("C")), tmp_path / "out")
    assert not (tmp_path / "out").exists()
