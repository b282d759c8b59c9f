"""A build writes one package that readers of the open format can take apart."""

from __future__ import annotations

import json
import re
import sqlite3
import zipfile
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from drills.build import build, build_quiz
from drills.cards.card import SoundSpec
from drills.errors import DrillsError
from drills.media.sounds import Sounds
from drills.recipe.model import Recipe, Sound

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
    path, *pages = built.files
    assert path.name == "week-03.apkg"
    assert [page.name for page in pages[:2]] == ["week-03.html", "week-03"]
    database, media = opened(path, tmp_path / "open")
    assert database.execute("pragma integrity_check").fetchone() == ("ok",)
    count = len(built.plan.deck.cards)
    assert database.execute("select count(*) from notes").fetchone() == (count,)
    assert database.execute("select count(*) from cards").fetchone() == (count,)
    used = {
        name
        for (fields,) in database.execute("select flds from notes")
        for name in re.findall(r'src="([^"]+)"|\[sound:([^]]+)\]', fields)
    }
    assert {shown or heard for shown, heard in used} == set(media.values())
    assert all(bool(heard) == name.endswith(".mp3") for shown, heard in used for name in (shown or heard,))
    pictures = {number: name for number, name in media.items() if name.endswith(".png")}
    for number, name in pictures.items():
        with Image.open(BytesIO((tmp_path / "open" / number).read_bytes())) as picture:
            picture.load()
            assert picture.size == (1080, 480), name
    assert seen[-1][0] == seen[-1][1] >= count
    assert [done for done, _ in seen] == sorted(done for done, _ in seen)
    assert any("Eb13sharp11" in name for name in media.values())


def test_a_rebuild_of_an_unchanged_recipe_is_the_same_to_the_byte(small: Recipe, tmp_path: Path) -> None:
    """Into the same folder or another, once or twice."""

    def built(folder: Path) -> dict[Path, bytes]:
        build(small, folder)
        files = (path for path in folder.rglob("*") if path.is_file())
        return {path.relative_to(folder): path.read_bytes() for path in files}

    first = built(tmp_path / "a")
    assert built(tmp_path / "a") == built(tmp_path / "b") == first


@pytest.mark.parametrize(
    "name", ["week-03.apkg", "week-03.html", "week-03", "week-03.pdf", "week-03.musicxml", "week-03.mid"]
)
def test_a_file_of_somebody_else_is_left_alone(small: Recipe, tmp_path: Path, name: str) -> None:
    """What this program did not write is never overwritten; it is found before any work is done."""
    (tmp_path / name).write_bytes(b"not ours")
    seen: list[int] = []
    with pytest.raises(DrillsError):
        build(small, tmp_path, progress=lambda done, _total: seen.append(done))
    assert seen == []
    assert (tmp_path / name).read_bytes() == b"not ours"
    assert len(list(tmp_path.iterdir())) == 1


def test_a_build_writes_package_page_paper_and_notation(small: Recipe, tmp_path: Path) -> None:
    """In this order; without the handout where the recipe does not want it."""
    names = ["week-03.apkg", "week-03.html", "week-03", "week-03.pdf", "week-03.musicxml", "week-03.mid"]
    assert [path.name for path in build(small, tmp_path / "all").files] == names
    without = replace(small, handout=replace(small.handout, is_on=False))
    built = build(without, tmp_path / "no paper")
    assert [path.name for path in built.files] == [name for name in names if not name.endswith(".pdf")]
    assert sorted(path.name for path in (tmp_path / "no paper").iterdir()) == sorted(
        path.name for path in built.files
    )


def test_a_handout_that_is_off_is_in_nobodys_way(small: Recipe, tmp_path: Path) -> None:
    """A foreign PDF may lie where none is written."""
    (tmp_path / "week-03.pdf").write_bytes(b"not ours")
    build(replace(small, handout=replace(small.handout, is_on=False)), tmp_path)
    assert (tmp_path / "week-03.pdf").read_bytes() == b"not ours"


@pytest.fixture
def given(monkeypatch: pytest.MonkeyPatch) -> dict[str, Any]:
    """What a build gives to those who write, which write nothing here."""
    given: dict[str, Any] = {}
    monkeypatch.setattr("drills.pack.apkg.write_package", lambda *_, **rest: given.update(rest))
    monkeypatch.setattr("drills.pack.handout.write_handout", lambda handout, _: given.update(handout=handout))
    monkeypatch.setattr("drills.pack.score.write_musicxml", lambda sheet, _: given.update(sheet=sheet))
    return given


def test_paper_is_as_the_recipe_wishes(small: Recipe, tmp_path: Path, given: dict[str, Any]) -> None:
    """Paper, date, sheets and their number, and the hand that plays; notation is for its instrument."""
    wish = replace(
        small.handout, paper="letter", date="12 May", per_page=4, sheets=("overview", "questions"), versions=2
    )
    instrument = replace(small.instrument, frets=22)
    wanted = replace(small, about="Lydian", instrument=instrument, is_left_handed=True, handout=wish)
    build(wanted, tmp_path)
    handout = given["handout"]
    assert (handout.setting.title, handout.about) == (small.title, "Lydian")
    assert (handout.setting.paper, handout.setting.date) == ("letter", "12 May")
    assert (handout.sheets, handout.per_page, handout.versions) == (("overview", "questions"), 4, 2)
    assert handout.is_left_handed
    assert given["sheet"].instrument == instrument


def test_sound_is_as_the_recipe_wishes(small: Recipe, tmp_path: Path, given: dict[str, Any]) -> None:
    """So long, at that pitch, or not at all."""
    build(replace(small, sound=Sound(seconds=2.0, a4_hz=442.0)), tmp_path)
    tone = SoundSpec((60,))
    assert given["sounds"].name(tone, "C") == Sounds(2.0, 442.0).name(tone, "C")
    build(replace(small, sound=Sound(is_on=False)), tmp_path)
    assert given["sounds"] is None


@pytest.mark.parametrize("is_on", [True, False])
def test_progress_reaches_its_end(small: Recipe, tmp_path: Path, is_on: bool) -> None:
    """It only grows, its whole never changes, and every part moves it."""
    seen: list[tuple[int, int]] = []
    wanted = replace(small, handout=replace(small.handout, is_on=is_on))
    build(wanted, tmp_path, progress=lambda done, total: seen.append((done, total)))
    assert len({total for _, total in seen}) == 1
    assert [done for done, _ in seen] == sorted(done for done, _ in seen)
    assert seen[-1][0] == seen[-1][1]
    assert len({done for done, _ in seen}) > len(list(tmp_path.iterdir()))


def test_the_handout_tells_which_keys_are_out_of_reach(tmp_path: Path) -> None:
    """With what the deck holds instead, where a small hand gets a smaller voicing."""
    import pypdfium2

    hand = replace(recipe(TWO_HANDS).hand, offers_reduced=True)
    wanted = recipe(TWO_HANDS, OVER_TWO, keys=notes("C Eb"), hand=hand)
    build(wanted, tmp_path)
    text = pypdfium2.PdfDocument(tmp_path / "week-03.pdf")[0].get_textpage().get_text_range()
    told = " ".join(text.split())
    assert "Out of reach" in told
    assert "m11 1 5 ♭3 | 11 ♭7 9" in told
    assert "instead, without its lowest note" in told


def test_both_shapes_of_the_page_hold_the_plans_cards(small: Recipe, tmp_path: Path) -> None:
    """The one file has them inside, the folder beside; a served quiz is that folder, unwritten."""
    _, file, folder, *_ = build(small, tmp_path).files
    (inside,) = re.findall(
        r'<script type="application/json" id="deck">(.*?)</script>',
        file.read_text(encoding="utf-8"),
        re.DOTALL,
    )
    assert inside == (folder / "deck.json").read_text(encoding="utf-8")
    assert isinstance(json.loads(inside), dict)
    quiz = build_quiz(small)
    assert quiz.name == folder.name
    assert quiz.files == {path.name: path.read_bytes() for path in folder.iterdir()}


@pytest.mark.parametrize(
    ("source", "name"),
    [("sub/my.week.toml", "my.week"), ("week.txt", "week.txt"), ("..toml", "week-03"), ("", "week-03")],
)
def test_files_are_named_after_the_recipe(small: Recipe, source: str, name: str) -> None:
    """Without its ending; where only dots are left, which would name a folder above, after its id."""
    assert build_quiz(replace(small, source=source)).name == name


def test_a_folder_that_cannot_be_made_is_said(small: Recipe, tmp_path: Path) -> None:
    """A file stands where the folder should be."""
    (tmp_path / "out").write_text("a file")
    with pytest.raises(DrillsError, match=r"out: cannot make the folder.*in the way"):
        build(small, tmp_path / "out")
    assert (tmp_path / "out").read_text() == "a file"


def test_nothing_to_build_leaves_nothing(tmp_path: Path) -> None:
    """A recipe without a card makes no folder."""
    with pytest.raises(DrillsError):
        build(recipe(TWO_HANDS, keys=notes("C")), tmp_path / "out")
    assert not (tmp_path / "out").exists()
