"""Finding recipes by name and by path, and copying them off the shelf."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from drills.errors import DrillsError
from drills.recipe.shelf import MOST_BYTES, copy_from_shelf, find_recipe, shelf_names, shelf_recipes

NAME = "weeks-01-02-one-layer"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to stand in."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_the_shelf_lists_what_lies_in_the_checkout(checkout: Path) -> None:
    """Every recipe by its file's name, with its title."""
    files = sorted((checkout / "decks").iterdir())
    assert shelf_names() == tuple(path.stem for path in files)
    assert [path.suffix for path in files] == [".toml"] * len(files)
    listed = {each.name: each.title for each in shelf_recipes()}
    for path in files:
        assert f'title = "{listed[path.stem]}"' in path.read_text(encoding="utf-8")


def test_an_installed_package_has_its_shelf_inside(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A shelf within the package goes before one beside it."""
    (folder / "decks").mkdir()
    (folder / "decks" / "inside.toml").write_text('title = "Inside"', encoding="utf-8")
    (folder / "decks" / "read.me").write_text("no recipe", encoding="utf-8")
    monkeypatch.setattr("importlib.resources.files", lambda _: folder)
    assert [(each.name, each.title, each.about) for each in shelf_recipes()] == [("inside", "Inside", "")]


def test_a_name_finds_a_shelf_recipe(checkout: Path) -> None:
    """It is called by its file's name."""
    found = find_recipe(NAME)
    assert (found.name, found.source) == (NAME, f"{NAME}.toml")
    assert found.text == (checkout / "decks" / f"{NAME}.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "written", ["my.toml", "./my.toml", "sub/other", "sub/my.week.toml", "week.txt", "w"]
)
def test_a_path_finds_a_file(folder: Path, written: str) -> None:
    """What ends in .toml, names a folder or lies here is a path; the name is the file's without .toml."""
    path = folder / written
    path.parent.mkdir(exist_ok=True)
    path.write_text("Ü", encoding="utf-8")
    for given in (written, Path(written), str(path)):
        found = find_recipe(given)
        assert (found.name, found.source, found.text) == (
            path.name.removesuffix(".toml"),
            str(Path(given)),
            "Ü",
        )


def test_a_file_of_a_shelf_name_does_not_hide_the_shelf(folder: Path) -> None:
    """The bare name is the shelf's, the name with .toml the file's."""
    (folder / NAME).write_text("a file without .toml", encoding="utf-8")
    (folder / f"{NAME}.toml").write_text("mine", encoding="utf-8")
    assert find_recipe(NAME).text.startswith("title")
    assert find_recipe(f"{NAME}.toml").text == "mine"
    assert find_recipe(Path(NAME)).text == "a file without .toml"


def test_a_mark_at_the_start_of_a_file_is_left_out(folder: Path) -> None:
    """Some editors put a byte order mark before UTF-8 text."""
    (folder / "my.toml").write_bytes(b'\xef\xbb\xbftitle = "x"')
    assert find_recipe("my.toml").text == 'title = "x"'


@pytest.mark.parametrize(
    ("written", "what", "mend"),
    [
        pytest.param(
            "one-layer", "no recipe named 'one-layer'", f"the nearest on the shelf is '{NAME}'", id="nearly"
        ),
        pytest.param("qqqq", "no recipe named 'qqqq'", "`drills shelf` lists", id="like-nothing"),
        pytest.param(
            "week", "no recipe named 'week'", "the file here is 'week.toml'", id="file-without-its-ending"
        ),
        pytest.param("", "no recipe named ''", "`drills shelf` lists", id="nothing"),
        pytest.param("a\0b", r"no recipe named 'a\x00b'", "`drills shelf` lists", id="no-name-at-all"),
        pytest.param("x" * 9999, "no recipe named 'xxx", "`drills shelf` lists", id="very-long"),
        pytest.param(
            f"{NAME}.toml", "no such file", f"write '{NAME}', without .toml", id="shelf-name-with-ending"
        ),
        pytest.param("one-layer.toml", "no such file", f"the nearest on the shelf is '{NAME}'", id="missing"),
        pytest.param("no/such/week.toml", "no such file", "`drills shelf` lists", id="missing-folder"),
        pytest.param(
            "week.toml/week.toml", "cannot read it", "name a file that you may read", id="file-as-folder"
        ),
        pytest.param(
            "a\0b.toml", "cannot read it (its name is no file name)", "name a file", id="no-file-name"
        ),
        pytest.param(f"{'x' * 999}.toml", "cannot read it", "name a file", id="name-too-long"),
        pytest.param("sub.toml", "this is a folder", "name a recipe in it", id="folder"),
        pytest.param("pipe.toml", "this is no file", "a text file that ends in .toml", id="pipe"),
        pytest.param("large.toml", "too large", "at most 1,000,000 bytes", id="too-large"),
        pytest.param("latin.toml", "not UTF-8", "save it as UTF-8", id="latin-1"),
        pytest.param("utf16.toml", "not UTF-8", "save it as UTF-8", id="utf-16"),
    ],
)
def test_what_cannot_be_found_or_read_gets_a_mend(folder: Path, written: str, what: str, mend: str) -> None:
    """The message says what is there instead, or where to look."""
    (folder / "week.toml").write_text("", encoding="utf-8")
    (folder / "sub.toml").mkdir()
    os.mkfifo(folder / "pipe.toml")
    (folder / "large.toml").write_bytes(b"#" * (MOST_BYTES + 1))
    (folder / "latin.toml").write_bytes('a = 1\ntitle = "Übung"'.encode("latin-1"))
    (folder / "utf16.toml").write_text("title", encoding="utf-16")
    with pytest.raises(DrillsError) as caught:
        find_recipe(written)
    assert what in caught.value.what
    assert mend in caught.value.mend


def test_the_line_of_a_byte_that_is_not_utf8_is_told(folder: Path) -> None:
    """So that it can be found."""
    (folder / "latin.toml").write_bytes('a = 1\ntitle = "Übung"'.encode("latin-1"))
    with pytest.raises(DrillsError, match=r"latin\.toml, line 2: this is not UTF-8"):
        find_recipe("latin.toml")


def test_the_largest_recipe_is_read(folder: Path) -> None:
    """The limit itself is allowed."""
    (folder / "large.toml").write_bytes(b"#" * MOST_BYTES)
    assert len(find_recipe("large.toml").text) == MOST_BYTES


def test_a_recipe_is_copied_out_as_it_is(folder: Path, checkout: Path) -> None:
    """Byte for byte, and nothing else is left behind."""
    copy = copy_from_shelf(NAME, folder)
    assert copy == folder / f"{NAME}.toml"
    assert copy.read_bytes() == (checkout / "decks" / copy.name).read_bytes()
    assert list(folder.iterdir()) == [copy]


def test_a_copy_never_replaces_a_file(folder: Path) -> None:
    """What a teacher has edited stays."""
    (folder / f"{NAME}.toml").write_text("mine", encoding="utf-8")
    with pytest.raises(DrillsError, match="there is a file of that name"):
        copy_from_shelf(NAME, folder)
    assert (folder / f"{NAME}.toml").read_text(encoding="utf-8") == "mine"


def test_a_copy_follows_no_link(folder: Path) -> None:
    """Not even one that leads nowhere yet."""
    (folder / f"{NAME}.toml").symlink_to(folder / "elsewhere")
    with pytest.raises(DrillsError, match="there is a file of that name"):
        copy_from_shelf(NAME, folder)
    assert not (folder / "elsewhere").exists()


def test_copying_to_no_folder_says_so(folder: Path) -> None:
    """Nothing is made on the way."""
    with pytest.raises(DrillsError, match="cannot write it"):
        copy_from_shelf(NAME, folder / "missing")
    assert list(folder.iterdir()) == []


def test_copying_what_is_not_on_the_shelf_names_the_nearest(folder: Path) -> None:
    """As with every name."""
    with pytest.raises(DrillsError, match=f"the nearest on the shelf is '{NAME}'"):
        copy_from_shelf("weeks-01-02-one-lair", folder)
