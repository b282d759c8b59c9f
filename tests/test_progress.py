"""A student who opens a corrected deck keeps every card: shown on the packages themselves."""

from __future__ import annotations

import sqlite3
import zipfile
from contextlib import closing
from pathlib import Path

import pytest

from drills.build import build
from drills.recipe.read import parse_recipe

BEFORE = """
title = "Riverside evening group, week 3"
keys = ["C", "F"]

[[voicing]]
chord = "13#11"
lower = "b7 3"
upper = "13 9 #11"

[[voicing]]
chord = "m11"
lower = "5 b3"
upper = "11 b7 9"
nickname = "Low window"
id = "low-window"

[drills]
ask = ["place", "name", "split", "join", "spell", "spot", "layer"]
"""


def notes_of(path: Path) -> dict[str, tuple[int, int, int, str]]:
    """By guid: note number, card number, stamp, fields."""
    with zipfile.ZipFile(path) as package:
        database = next(
            data for data in map(package.read, package.namelist()) if data.startswith(b"SQLite format 3")
        )
    with closing(sqlite3.connect(":memory:")) as connection:
        connection.deserialize(database)
        rows = connection.execute(
            "select guid, notes.id, cards.id, notes.mod, flds from notes join cards on cards.nid = notes.id"
        ).fetchall()
    return {guid: (note, card, mod, fields) for guid, note, card, mod, fields in rows}


def built(text: str, folder: Path) -> dict[str, tuple[int, int, int, str]]:
    """The notes of a recipe built into a folder."""
    recipe = parse_recipe(text, source="week-03.toml", default_id="week-03")
    return notes_of(build(recipe, folder).files[0])


CORRECTIONS = {
    "renamed title": ("week 3", "week 3, corrected", 0, 0),
    "another nickname": ("Low window", "Window in the cellar", 0, 0),
    "reordered drills": ('"place", "name", "split"', '"split", "name", "place"', 0, 0),
    "another order": ("keys =", 'order = "chromatic"\nkeys =', 0, 0),
    "a key more": ('["C", "F"]', '["C", "F", "Bb"]', 14, 0),
    "a key less": ('["C", "F"]', '["C"]', 0, 14),
    "a drill less": (', "spot"', "", 0, 4),
    "a degree corrected under its id": ("11 b7 9", "b7 9 11", 0, 0),
    "left-handed pictures": ("[drills]", "[instrument]\nleft_handed = true\n\n[drills]", 0, 0),
    "other strings": ('chord = "13#11"', 'chord = "13#11"\nstrings = "6-2"', 0, 0),
}


@pytest.mark.parametrize(("old", "new", "added", "gone"), CORRECTIONS.values(), ids=CORRECTIONS)
def test_a_corrected_deck_keeps_its_cards(old: str, new: str, added: int, gone: int, tmp_path: Path) -> None:
    """Same guid, same numbers; what changed has a newer stamp, what did not keeps its own."""
    before = built(BEFORE, tmp_path)
    corrected = BEFORE.replace(old, new)
    assert corrected != BEFORE
    after = built(corrected, tmp_path)
    assert len(before.keys() - after.keys()) == gone
    assert len(after.keys() - before.keys()) == added
    for guid in before.keys() & after.keys():
        note, card, mod, fields = before[guid]
        assert after[guid][:2] == (note, card)
        if after[guid][3] == fields:
            assert after[guid][2] == mod
        else:
            assert after[guid][2] > mod


def test_voicings_may_come_go_and_change_places(tmp_path: Path) -> None:
    """What stays in the recipe stays the same card."""
    head, first, second_and_rest = BEFORE.split("[[voicing]]")
    second, rest = second_and_rest.split("[drills]")
    third = '\nchord = "maj13#11"\nlower = "7 3"\nupper = "13 9 #11"\n\n'
    before = built(BEFORE, tmp_path / "a")
    swapped = built(f"{head}[[voicing]]{second}[[voicing]]{first}[drills]{rest}", tmp_path / "b")
    assert {guid: row[:2] for guid, row in swapped.items()} == {guid: row[:2] for guid, row in before.items()}
    exchanged = built(f"{head}[[voicing]]{third}[[voicing]]{second}[drills]{rest}", tmp_path / "c")
    kept = before.keys() & exchanged.keys()
    assert len(kept) == 14
    assert all(before[guid][:2] == exchanged[guid][:2] for guid in kept)


def test_the_same_voicing_in_two_weeks_is_one_card(tmp_path: Path) -> None:
    """Another recipe with the same voicing makes the same cards."""
    other = BEFORE.replace("week 3", "week 4").split("[[voicing]]")
    week_4 = parse_recipe(
        f"{other[0]}[[voicing]]{other[1]}[drills]\nask = ['place']\n",
        source="week-04.toml",
        default_id="week-04",
    )
    before = built(BEFORE, tmp_path)
    again = notes_of(build(week_4, tmp_path).files[0])
    assert again.keys() <= before.keys()
    assert all(again[guid][:2] == before[guid][:2] for guid in again)


def test_a_new_edition_is_newer_wherever_it_is_built(tmp_path: Path) -> None:
    """Built on another machine, a raised edition is what tells readers that the text is new."""
    before = built(BEFORE, tmp_path / "here")
    after = built(BEFORE.replace("keys =", "edition = 2\nkeys ="), tmp_path / "there")
    assert before.keys() == after.keys()
    assert all(after[guid][2] > before[guid][2] for guid in before)
