"""The shelf is sound: every recipe reads, is named as the engine names it, and can be held.

The rows of the term are common practice, no source; the neck and the namer of the project check them here.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from drills.neck.grip import Grip
from drills.neck.hand import hold
from drills.neck.search import find_in_key, roots_by_fourths
from drills.plan import plan
from drills.recipe.known import (
    DRILLS_KEYS,
    HAND_KEYS,
    INSTRUMENT_KEYS,
    PACE_KEYS,
    PROGRESSION_KEYS,
    TOP_KEYS,
    VOICING_KEYS,
)
from drills.recipe.model import Recipe, VoicingEntry
from drills.recipe.read import read_recipe
from drills.recipe.shelf import find_recipe, shelf_names
from drills.theory.naming import read_over
from drills.theory.pitch import NoteName, read_note_name

RECIPES = {name: read_recipe(name) for name in shelf_names()}
ENTRIES = [
    pytest.param(recipe, entry, id=f"{name}-{place}")
    for name, recipe in RECIPES.items()
    for place, entry in enumerate(recipe.voicings, start=1)
]
TERM = {
    # recipe: (drills, its voicings with their chords)
    "weeks-01-02-one-layer": (
        "layer spell turn",
        "1 3 5|3 5 1|5 1 3|1 b3 5|b3 5 1|5 1 b3|1 4 b7".split("|"),
    ),
    "weeks-03-05-third-and-seventh-below": (
        "place split join layer mend twin step hear",
        [
            "maj13#11: 7 3 | 13 9 #11",
            "13#11: b7 3 | 13 9 #11",
            "m13: b7 b3 | 13 9 11",
            "7#9b13: 3 b7 | #9 b13 1",
        ],
    ),
    "weeks-06-07-one-shape-four-basses": (
        "place name join split",
        [
            "maj13: 1 3 13 | 9 5 7",
            "m11: b3 5 1 | 11 b7 9",
            "maj13#11: 5 7 3 | 13 9 #11",
            "13sus4: b7 9 5 | 1 4 13",
        ],
    ),
    "weeks-08-09-leave-the-bass-out": (
        "place spell name cross",
        ["m11: b3 11 | b7 9", "m11: 5 b3 | 11 b7 9", "m11: 1 5 b3 | 11 b7 9"],
    ),
    "weeks-10-12-home-by-half-steps": (
        "place connect",
        [
            "m9: b3 b7 | 9 5 1",
            "7b9#11b13: b7 3 | b13 b9 #11",
            "6/9: 3 6 | 9 5 1",
            "m9b5: b3 b7 | 9 b5 1",
            "m6/9: b3 6 | 9 5 1",
        ],
    ),
    "seven-strings": (
        "place name",
        ["maj13#11: 1 7 3 | 13 9 #11", "13: 1 b7 3 | 13 9 5", "m13: 1 b7 b3 | 13 9 11"],
    ),
}


def asked_in(recipe: Recipe, entry: VoicingEntry) -> tuple[NoteName, ...]:
    """The keys of a voicing."""
    return entry.keys or recipe.keys or roots_by_fourths("major")


def test_the_shelf_holds_the_term_and_a_template() -> None:
    """Nothing else."""
    assert set(RECIPES) == {*TERM, "template"}


@pytest.mark.parametrize("name", TERM)
def test_a_recipe_holds_its_row_of_the_term(name: str) -> None:
    """The drills and the voicings, in the order of the programme."""
    drills, rows = TERM[name]
    recipe = RECIPES[name]
    assert recipe.ask == tuple(drills.split())
    told = [
        f"{entry.chord.symbol.plain}: {entry.voicing.text}" if entry.chord else entry.voicing.text
        for entry in recipe.voicings
    ]
    assert told == rows
    assert recipe.title.startswith("Riverside evening group, ")
    assert recipe.about


def test_every_voicing_of_the_term_has_its_week() -> None:
    """Weeks rise, and fall within those that the file's name tells."""
    for name, recipe in RECIPES.items():
        found = re.match(r"weeks-(\d+)-(\d+)-", name)
        if found:
            weeks = [entry.week or 0 for entry in recipe.voicings]
            assert weeks == sorted(weeks)
            assert (weeks[0], weeks[-1]) == (int(found[1]), int(found[2]))


@pytest.mark.parametrize(("recipe", "entry"), ENTRIES)
def test_a_chord_is_what_the_engine_calls_it(recipe: Recipe, entry: VoicingEntry) -> None:
    """By the words written, and by ear: no degree is called by another name than the notes have."""
    del recipe
    voicing = entry.voicing
    heard = read_over(voicing.heights_semitones, voicing.lowest_over_root_semitones)
    assert heard.degrees == voicing.degrees
    assert entry.chord is None or heard.symbol.plain == entry.chord.symbol.plain


@pytest.mark.parametrize(("recipe", "entry"), ENTRIES)
def test_a_grip_in_a_recipe_can_be_held_and_sounds_its_voicing(recipe: Recipe, entry: VoicingEntry) -> None:
    """Four fingers reach it, and its strings sound the degrees over its key."""
    if entry.pinned is None:
        return
    assert isinstance(hold(entry.pinned.frets, recipe.instrument, recipe.hand), Grip)
    sounding = [
        open_midi + fret
        for open_midi, fret in zip(recipe.instrument.open_midi, entry.pinned.frets, strict=True)
        if fret is not None
    ]
    assert [midi - sounding[0] for midi in sounding] == list(entry.voicing.heights_semitones)
    over_root = [(midi - entry.pinned.key.pitch_class) % 12 for midi in sounding]
    assert over_root == [degree.semitones for degree in entry.voicing.degrees]


@pytest.mark.parametrize(("recipe", "entry"), ENTRIES)
def test_a_voicing_is_reachable_in_every_key_it_is_asked_in(recipe: Recipe, entry: VoicingEntry) -> None:
    """On the strings that the recipe names, where it names any."""
    unreached = [
        key.plain
        for key in asked_in(recipe, entry)
        if not any(
            entry.strings in (None, place.grip.strings)
            for place in find_in_key(entry.voicing, key, recipe.instrument, recipe.hand).places
        )
    ]
    assert unreached == []


def test_the_complete_minor_eleven_is_held_in_e_alone() -> None:
    """Why the recipe asks for it in one key."""
    recipe = RECIPES["weeks-08-09-leave-the-bass-out"]
    entry = recipe.voicings[-1]
    held = [key.plain for key in roots_by_fourths("minor") if find_in_key(entry.voicing, key).places]
    assert held == ["E"]
    assert entry.keys == (read_note_name("E"),)


def test_the_last_weeks_move_by_half_steps() -> None:
    """The upper layers of two, five and home in C are one shape, each a half step below the one before."""
    two, five, home, *_ = RECIPES["weeks-10-12-home-by-half-steps"].voicings
    tops = [entry.pinned.frets[3:] for entry in (two, five, home) if entry.pinned]
    assert [[fret or 0 for fret in top] for top in tops] == [[9, 10, 10], [8, 9, 9], [7, 8, 8]]


def test_both_progressions_join_voicings_of_their_deck() -> None:
    """Two, five and one in major, then in minor, in the key of C; each chord has its voicing from above."""
    recipe = RECIPES["weeks-10-12-home-by-half-steps"]
    known = {(entry.chord.symbol.plain, entry.voicing) for entry in recipe.voicings if entry.chord}
    told = [" ".join(chord.plain for chord in each.chords) for each in recipe.progressions]
    assert told == ["Dm9 G7b9#11b13 C6/9", "Dm9b5 G7b9#11b13 Cm6/9"]
    for each in recipe.progressions:
        assert each.voicings is not None
        joined = zip(each.chords, each.voicings, strict=True)
        assert {(chord.symbol.plain, voicing) for chord, voicing in joined} <= known


@pytest.mark.parametrize("name", [name for name in TERM if name.startswith("weeks")])
def test_a_deck_is_learnt_in_its_weeks(name: str) -> None:
    """All of its fresh cards are met, at the pace that the recipe sets."""
    made = plan(RECIPES[name])
    assert made.unreached == ()
    first, last = (int(week) for week in re.findall(r"\d+", name)[:2])
    assert len(made.deck.cards) <= 7 * RECIPES[name].fresh_per_day * (last - first + 1)
    assert {card.drill for card in made.deck.cards} == set(RECIPES[name].ask)


def test_every_step_home_is_short() -> None:
    """In every key the hand shifts by two frets at most, from two to five and from five to one."""
    for card in plan(RECIPES["weeks-10-12-home-by-half-steps"]).deck.cards:
        if card.drill == "connect":
            faces = [face.picture for face in (card.front, card.back) if face.picture is not None]
            before, after = (min(marker.fret for marker in picture.markers) for picture in faces)
            assert abs(after - before) <= 2


def test_the_template_explains_every_key(checkout: Path) -> None:
    """Each key that a recipe may hold stands in it, live or in a remark, with a remark above it."""
    lines = (checkout / "decks" / "template.toml").read_text(encoding="utf-8").splitlines()
    assert "\n".join(lines) + "\n" == find_recipe("template").text
    known = {
        *TOP_KEYS,
        *VOICING_KEYS,
        *INSTRUMENT_KEYS,
        *HAND_KEYS,
        *PACE_KEYS,
        *DRILLS_KEYS,
        *PROGRESSION_KEYS,
    }
    written = {
        word for line in lines for word in re.findall(r"^(?:# )?(\w+) = |\b(middle) = |^\[+(\w+)", line)
    }
    assert known - {word for words in written for word in words} == set()
