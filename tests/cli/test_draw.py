"""`drills draw`: one picture, and never over a file that is none."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeAlias

import pytest
from PIL import Image

Run: TypeAlias = Callable[..., tuple[int, str, str]]

RGB: TypeAlias = tuple[int, ...]


def corner(path: Path) -> RGB:
    """The colour of a picture's corner, which is its ground."""
    with Image.open(path) as picture:
        colour = picture.convert("RGB").getpixel((0, 0))
    assert isinstance(colour, tuple)
    return colour


def test_a_picture_is_drawn(run: Run, tmp_path: Path) -> None:
    """It is a PNG file 1080 pixels wide, and the words name file and chord."""
    file = tmp_path / "pictures" / "shape.png"
    assert run("draw", "--root", "Eb", "x 4 5 5 6 5", "-o", str(file)) == (0, f"{file}: E♭13♯11\n", "")
    with Image.open(file) as picture:
        assert (picture.format, picture.width) == ("PNG", 1080)
    assert [path.name for path in file.parent.iterdir()] == ["shape.png"]


def test_looks_differ(run: Run, tmp_path: Path) -> None:
    """Dark and left-handed pictures are others, and the dark one has a dark ground."""
    files = [tmp_path / f"{name}.png" for name in ("plain", "dark", "left")]
    for file, look in zip(files, ([], ["--dark"], ["--left-handed"]), strict=True):
        assert run("draw", "x32010", "-o", str(file), *look)[0] == 0
    assert len({file.read_bytes() for file in files}) == 3
    assert sum(corner(files[0])) > 3 * 200 > 3 * 60 > sum(corner(files[1]))


def test_the_same_voicing_gives_the_same_bytes(run: Run, tmp_path: Path) -> None:
    """The best grip of degrees is the picture of its frets."""
    frets, degrees = tmp_path / "frets.png", tmp_path / "degrees.png"
    run("draw", "0 2 5 2 3 2", "-o", str(frets))
    run("draw", "--root", "E", "1 5 b3 | 11 b7 9", "-o", str(degrees))
    assert frets.read_bytes() == degrees.read_bytes()


def test_frets_are_drawn_as_given_to_the_end_of_any_neck(run: Run, tmp_path: Path) -> None:
    """A usual neck has 20 frets; what is written for a longer one is drawn too."""
    file = tmp_path / "high.png"
    assert run("draw", "--root", "Eb", "x 22 22 23 24 24", "-o", str(file))[0] == 0
    assert file.exists()


def test_an_older_picture_is_replaced(run: Run, tmp_path: Path) -> None:
    """Drawing again into the same file is no error."""
    file = tmp_path / "shape.png"
    run("draw", "x32010", "-o", str(file))
    before = file.read_bytes()
    assert run("draw", "320003", "-o", str(file))[0] == 0
    assert file.read_bytes() != before


def test_a_file_that_is_no_picture_stays(run: Run, tmp_path: Path) -> None:
    """Whatever else bears the name is left alone, and nothing is left beside it."""
    file = tmp_path / "essay.png"
    file.write_text("not a picture", encoding="utf-8")
    status, out, err = run("draw", "x32010", "-o", str(file))
    assert (status, out) == (2, "")
    assert f"{file}: the file that is there was not written by this program" in err
    assert file.read_text(encoding="utf-8") == "not a picture"
    assert len(list(tmp_path.iterdir())) == 1


def test_a_picture_of_somebody_else_stays(run: Run, tmp_path: Path) -> None:
    """A photo has the same ending, and no mark of ours; what we drew says so to whoever opens it."""
    photo, drawn = tmp_path / "photo.png", tmp_path / "shape.png"
    Image.new("RGB", (4, 4), "red").save(photo)
    before = photo.read_bytes()
    for voicing in ("x32010", "seven-strings"):
        status, out, err = run("draw", voicing, "-o", str(photo))
        assert (status, out) == (2, "")
        assert "was not written by this program" in err
    assert photo.read_bytes() == before
    assert run("draw", "x32010", "-o", str(drawn))[0] == 0
    with Image.open(drawn) as picture:
        picture.load()
        assert picture.info["Software"] == "layered-voicing drills"


def test_frets_are_drawn_even_where_no_hand_holds_them(run: Run, tmp_path: Path) -> None:
    """The player may know better than the model."""
    assert run("draw", "6 8 11 8 9 8", "-o", str(tmp_path / "wide.png"))[0] == 0


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        pytest.param(
            ["--root", "Bb", "1 5 b3 11 b7 9", "-o", "wide.png"],
            "it has no grip to draw: it stretches 115 mm, more than 101 mm\n  frets are drawn as they are: "
            "write 6 8 11 8 9 8\n",
            id="too wide",
        ),
        pytest.param(
            ["C2 E2", "-o", "low.png"],
            "it has no grip to draw: the neck has no place for it, one note on each string\n",
            id="no place",
        ),
        pytest.param(
            ["x32010", "-o", "shape.jpg"],
            "-o: 'shape.jpg' does not end in .png\n  pictures are PNG files: write shape.png\n",
            id="another kind of picture",
        ),
        pytest.param(
            ["x32010", "-o", ""],
            "-o: '' does not end in .png\n  pictures are PNG files: write voicing.png\n",
            id="no name",
        ),
        pytest.param(["x32010"], "-o is missing\n  see `drills draw --help`\n", id="no file"),
    ],
)
def test_what_cannot_be_drawn_is_an_error(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: list[str], words: str
) -> None:
    """The message says what to write instead, and no file appears."""
    monkeypatch.chdir(tmp_path)
    assert run("draw", *arguments) == (2, "", words)
    assert list(tmp_path.iterdir()) == []


def test_a_recipe_is_drawn_whole(run: Run, tmp_path: Path, checkout: Path) -> None:
    """From the shelf or from a path; one sheet of all its voicings, replaced when it is drawn again."""
    file = tmp_path / "sheet.png"
    assert run("draw", "seven-strings", "-o", str(file)) == (0, f"{file}: 3 voicings\n", "")
    first = file.read_bytes()
    path = checkout / "decks" / "seven-strings.toml"
    assert run("draw", str(path), "-o", str(file))[0] == 0
    assert file.read_bytes() == first
    assert run("draw", "seven-strings", "-o", str(file), "--dark", "--left-handed")[0] == 0
    assert file.read_bytes() != first


def test_a_recipe_with_a_fault_draws_nothing(run: Run, tmp_path: Path) -> None:
    """Its own message comes through."""
    recipe = tmp_path / "week.toml"
    recipe.write_text('title = "week"\nkeys = "al"\n', encoding="utf-8")
    status, out, err = run("draw", str(recipe), "-o", str(tmp_path / "sheet.png"))
    assert (status, out) == (2, "")
    assert "the recipe has no voicing" in err
    assert not (tmp_path / "sheet.png").exists()
