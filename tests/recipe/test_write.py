"""A recipe that the program writes can be read, and drills what it was given."""

from __future__ import annotations

from pathlib import Path

import pytest

from drills.api import name_voicing
from drills.errors import DrillsError
from drills.recipe.read import parse_recipe
from drills.recipe.write import recipe_text, write_recipe


def test_each_voicing_is_written_once() -> None:
    """Two keys of one voicing are one entry; the keys stand beside it."""
    named = [
        name_voicing("Db3 G3 | C4 F4 A4", root="Eb"),
        name_voicing("D3 Ab3 | Db4 Gb4 Bb4", root="E"),
        name_voicing("C3 G3 Eb4 | F4 Bb4 D5", root="C"),
    ]
    text = recipe_text("Tuesday's chords", named)
    recipe = parse_recipe(text, source="written", default_id="written")
    assert [entry.voicing.text for entry in recipe.voicings] == ["b7 3 | 13 9 #11", "1 5 b3 | 11 b7 9"]
    assert "# found over Eb E\n" in text
    assert [entry.voicing for entry in recipe.voicings] == [
        named[0].sounding.voicing,
        named[2].sounding.voicing,
    ]


@pytest.mark.parametrize(
    "voicing", ["C4 E4 G4", "C3 G3 | E4 B4 | D5 F#5", "C3 E3 G3 B3 | D4 F#4 A4", "C3 Db3 D3 Eb3"]
)
def test_any_layering_comes_back(voicing: str) -> None:
    """One layer, three layers, four notes, a cluster that is no chord."""
    named = name_voicing(voicing)
    recipe = parse_recipe(recipe_text("t", [named]), source="written", default_id="written")
    assert recipe.voicings[0].voicing == named.sounding.voicing


@pytest.mark.parametrize(
    "title", ['a "quoted" title', "back\\slash", "line\nbreak", "tab\t and \x1b[2J", "♭", "\x7f"]
)
def test_any_title_is_text(title: str) -> None:
    """It is quoted, so that no title can write keys of its own."""
    text = recipe_text(title, [name_voicing("C4 E4 G4")])
    assert text.count("\n[[voicing]]") == 1
    assert '\nkeys = "all"\n' in text


def test_nothing_to_drill_is_an_error() -> None:
    """Two notes are no voicing of layers."""
    with pytest.raises(DrillsError, match="no voicing"):
        recipe_text("t", [name_voicing("C4 E4")])


def test_a_file_that_is_there_stays(tmp_path: Path) -> None:
    """So does what lies under another ending."""
    path = tmp_path / "mine.toml"
    write_recipe(path, "a = 1\n")
    with pytest.raises(DrillsError, match="it stays"):
        write_recipe(path, "b = 2\n")
    assert path.read_text() == "a = 1\n"
    with pytest.raises(DrillsError, match="end it in"):
        write_recipe(tmp_path / "mine.txt", "")
    with pytest.raises(DrillsError, match="cannot write it"):
        write_recipe(tmp_path / "none" / "mine.toml", "")
