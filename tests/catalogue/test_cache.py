"""The cache: right answers whatever lies in the folder, or does not."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from drills.catalogue import cache
from drills.catalogue.cache import FOLDER_VARIABLE, cache_folder, tables
from drills.catalogue.chord_type import chord_type
from drills.catalogue.setup import Setup
from drills.catalogue.table import Table, build_tables
from drills.neck.hand import SMALL_HAND
from drills.neck.instrument import Instrument
from drills.neck.tuning import TUNINGS

KIND = chord_type("9b13")


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty cache."""
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path / "kept"))
    return tmp_path / "kept"


def same(one: Table, other: Table) -> bool:
    """Whether two tables hold the same voicings with the same figures."""
    names = type(one.columns).__slots__
    equal = (np.array_equal(getattr(one.columns, name), getattr(other.columns, name)) for name in names)
    return (one.kind, one.setup) == (other.kind, other.setup) and all(equal)


def table(setup: Setup = Setup()) -> Table:
    """The table by way of the cache."""
    return tables([KIND], setup)[0]


def test_what_comes_back_is_what_was_kept(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The second time nothing is built."""
    first = table()
    (kept,) = folder.iterdir()
    assert kept.suffix == ".columns"
    monkeypatch.setattr(
        cache, "build_tables", lambda kinds, *_, **__: [] if not kinds else pytest.fail("built")
    )
    assert same(table(), first)
    assert same(first, build_tables([KIND], Setup())[0])


@pytest.mark.parametrize(
    "setup",
    [
        Setup(hand=SMALL_HAND),
        Setup(hand=replace(SMALL_HAND, max_neighbour_mm=50.0)),
        Setup(Instrument(TUNINGS["drop D"])),
        Setup(Instrument(capo=2)),
        Setup(Instrument(frets=24)),
        Setup(Instrument(scale_length_mm=600.0)),
        Setup(strings=(0, 1, 2, 3)),
    ],
    ids=["hand", "one limit of the hand", "tuning", "capo", "frets", "scale length", "strings"],
)
def test_another_setup_has_a_table_of_its_own(folder: Path, setup: Setup) -> None:
    """Each is right, and neither takes the other's place."""
    usual = table()
    assert same(table(setup), build_tables([KIND], setup)[0])
    assert same(table(), usual)
    assert len(list(folder.iterdir())) == 2


def test_new_code_makes_a_new_table(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What other code worked out is not believed."""
    table()
    monkeypatch.setattr(cache, "code_digest", lambda: b"changed")
    table()
    assert len(list(folder.iterdir())) == 2


def test_the_digest_sees_every_source(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """A changed byte in theory, neck or catalogue is another digest."""
    digests = []
    for room in ("none", "theory", "neck", "catalogue"):
        for name in ("theory", "neck", "catalogue"):
            (tmp_path / room / name).mkdir(parents=True)
            (tmp_path / room / name / "one.py").write_text("1" if name == room else "0", encoding="utf-8")
            (tmp_path / room / name / "notes.txt").write_text(room, encoding="utf-8")
        monkeypatch.setattr(cache, "files", lambda _, room=room: tmp_path / room)
        digests.append(cache.code_digest.__wrapped__())
    assert len(set(digests)) == 4


@pytest.mark.parametrize(
    "harm",
    [
        lambda _: b"",
        lambda data: data[:-1],
        lambda data: data[: len(data) // 2],
        lambda data: b"something else\n" + data,
        lambda data: data[:200] + bytes([data[200] ^ 1]) + data[201:],
    ],
    ids=["empty", "cut short", "half of it", "foreign", "one bit"],
)
def test_a_broken_file_is_built_anew(folder: Path, harm: Callable[[bytes], bytes]) -> None:
    """The answer is right, and the file mended."""
    first = table()
    (kept,) = folder.iterdir()
    whole = kept.read_bytes()
    kept.write_bytes(harm(whole))
    assert same(table(), first)
    assert kept.read_bytes() == whole


def test_a_file_under_a_wrong_name_is_not_believed(folder: Path) -> None:
    """A whole file of another table is foreign too."""
    table(Setup(hand=SMALL_HAND))
    (foreign,) = folder.iterdir()
    first = table()
    (kept,) = set(folder.iterdir()) - {foreign}
    kept.write_bytes(foreign.read_bytes())
    assert same(table(), first)


def test_a_folder_that_cannot_be_written_to_is_no_fault(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file is in the way: the answer comes all the same."""
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path / "file" / "kept"))
    assert same(table(), build_tables([KIND], Setup())[0])
    assert [each.name for each in tmp_path.iterdir()] == ["file"]


def test_a_name_that_is_taken_leaves_no_part_file(folder: Path) -> None:
    """A folder under the table's own name cannot be replaced by a file."""
    table()
    (kept,) = folder.iterdir()
    kept.unlink()
    kept.mkdir()
    (kept / "full").touch()
    assert len(table().columns) == 288
    assert list(folder.iterdir()) == [kept]


def test_the_oldest_files_go(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Only ours do, and only as many as there are too many."""
    folder.mkdir()
    (folder / "not ours.txt").touch()
    for age in range(3):
        (folder / f"{age}.columns").touch()
        os.utime(folder / f"{age}.columns", (age, age))
    monkeypatch.setattr(cache, "MOST_FILES", 2)
    table()
    names = {each.name for each in folder.iterdir()}
    assert {"not ours.txt", "2.columns"} < names
    assert len(names) == 3


def test_a_cleaning_that_fails_is_no_fault(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Another run may have taken the files away already."""

    def gone(*_: object, **__: object) -> None:
        raise PermissionError

    table()
    monkeypatch.setattr(cache, "MOST_FILES", 1)
    monkeypatch.setattr(Path, "unlink", gone)
    assert len(table(Setup(hand=SMALL_HAND)).columns) == 288
    assert len(list(folder.iterdir())) == 2


def test_off_keeps_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """Then every answer is worked out."""
    monkeypatch.setenv(FOLDER_VARIABLE, "off")
    assert cache_folder() is None
    assert same(table(), build_tables([KIND], Setup())[0])


@pytest.mark.parametrize(
    ("platform", "place"),
    [("linux", ".cache"), ("darwin", "Library/Caches"), ("win32", "AppData/Local")],
)
def test_without_a_word_the_platform_says_where(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, platform: str, place: str
) -> None:
    """XDG_CACHE_HOME goes first (XDG Base Directory Specification, from memory)."""
    monkeypatch.delenv(FOLDER_VARIABLE)
    monkeypatch.delenv("XDG_CACHE_HOME", raising=False)
    monkeypatch.setattr("sys.platform", platform)
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    assert cache_folder() == tmp_path / place / "layered-voicing-drills"
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "xdg"))
    assert cache_folder() == tmp_path / "xdg" / "layered-voicing-drills"


def test_nobody_at_home_keeps_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """A user without a home folder still gets answers."""

    def nobody() -> Path:
        raise RuntimeError

    monkeypatch.delenv(FOLDER_VARIABLE)
    monkeypatch.delenv("XDG_CACHE_HOME", raising=False)
    monkeypatch.setattr(Path, "home", nobody)
    assert cache_folder() is None
