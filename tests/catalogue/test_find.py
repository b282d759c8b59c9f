"""Finding: filters, order, doubles, what emptied an answer; and known voicings that have to come out."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.catalogue.chord_type import CHORD_TYPES, chord_type, read_chord_type
from drills.catalogue.entry import Entry
from drills.catalogue.filters import Query
from drills.catalogue.find import catalogue, find
from drills.catalogue.rank import REASONS
from drills.catalogue.setup import Setup
from drills.errors import DrillsError
from drills.neck.hand import SMALL_HAND
from drills.neck.instrument import Instrument
from drills.neck.tuning import TUNINGS, read_tuning
from drills.theory.clash import clashes
from drills.theory.degree import degree
from drills.theory.layer_pattern import read_layer_pattern
from drills.theory.pitch import read_note_name

ROOT = Path(__file__).resolve().parents[2]
M11, ALTERED = chord_type("m11"), chord_type("7alt")


def texts(query: Query, setup: Setup = Setup()) -> set[str]:
    """The voicings that a query finds, as text."""
    return {each.voicing.text for each in find(query, setup).entries}


def shelf() -> list[Any]:
    """Every two-layer voicing of the recipes that come along."""
    found = []
    for path in sorted((ROOT / "decks").glob("*.toml")):
        recipe = tomllib.loads(path.read_text(encoding="utf-8"))
        tuning = recipe.get("instrument", {}).get("tuning", "standard")
        for voicing in recipe.get("voicing", []):
            if "lower" in voicing:
                text = f"{voicing['lower']} | {voicing['upper']}"
                found.append(pytest.param(voicing["chord"], text, tuning, id=f"{path.stem}: {text}"))
    return found


@pytest.mark.parametrize(("chord", "text", "tuning"), shelf())
def test_what_the_shelf_teaches_is_found(chord: str, text: str, tuning: str) -> None:
    """Each of its voicings, under its chord, held in at least one key."""
    setup = Setup(Instrument(read_tuning(tuning)))
    assert text in texts(Query(chords=(chord_type(chord),), min_keys=1), setup)


def upper_structures() -> list[Any]:
    """Rows of the handbook tables: Levine, The Jazz Piano Book (1989), from memory."""
    rows = []
    for path in sorted((ROOT / "tests" / "handbook").glob("upper_structure_*.json")):
        for row in json.loads(path.read_text(encoding="utf-8"))["rows"]:
            given_row, expected = row["given"], row["expect"]
            name = f"{given_row['triad']} over {given_row['base']}"
            rows.append(pytest.param(given_row["triad"], expected["degrees"], expected["chord"], id=name))
    assert len(rows) > 10
    return rows


@pytest.mark.parametrize(("triad", "degrees", "chord"), upper_structures())
def test_upper_structures_come_out_by_themselves(triad: str, degrees: list[str], chord: str) -> None:
    """The triad on top has the degrees that the handbook gives it, over that very chord."""
    kind, _ = read_chord_type(chord)
    pattern = read_layer_pattern(f"{triad.split()[1]} triad")
    found = find(Query(chords=(kind,), upper=(pattern,))).entries
    wanted = {"4" if each == "11" and kind.symbol.quality == "sus" else each for each in degrees}
    uppers = [entry for entry in found if {each.plain for each in upper_degrees(entry)} == wanted]
    assert any(kind.is_made_by(entry.voicing.degrees) for entry in uppers)


def upper_degrees(entry: Entry) -> tuple[Any, ...]:
    """The degrees of the upper layer."""
    return entry.voicing.degrees[entry.voicing.layers[-1].places]


@pytest.mark.parametrize(
    ("triad", "degrees"),
    # triads of the melodic minor a half step up (common practice, no source)
    [
        ("major", "b13 1 #9"),
        ("major", "#11 b7 b9"),
        ("minor", "b9 3 b13"),
        ("minor", "#9 #11 b7"),
        ("augmented", "3 b13 1"),
        ("diminished", "b7 b9 3"),
        ("diminished", "1 #9 #11"),
    ],
)
def test_an_altered_dominant_brings_the_triads_of_the_melodic_minor_a_half_step_up(
    triad: str, degrees: str
) -> None:
    """They need no table: the scale of the chord holds them."""
    found = find(Query(chords=(ALTERED,), upper=(read_layer_pattern(f"{triad} triad"),))).entries
    assert any({each.plain for each in upper_degrees(entry)} == set(degrees.split()) for entry in found)


@pytest.mark.parametrize(
    ("query", "holds"),
    [
        (Query(notes=(5, 6)), lambda entry: len(entry.voicing.degrees) in (5, 6)),
        (
            Query(lower=(read_layer_pattern("shell"),)),
            lambda entry: entry.voicing.layers[0].name.family == "shell",
        ),
        (
            Query(upper=(read_layer_pattern("open triad"), read_layer_pattern("stack"))),
            lambda entry: (
                entry.voicing.layers[1].name.family == "stack"
                or (entry.voicing.layers[1].name.family, entry.voicing.layers[1].name.spacing)
                == ("triad", "open")
            ),
        ),
        (Query(top=(degree("9"), degree("4"))), lambda entry: entry.voicing.degrees[-1].plain in ("9", "11")),
        (Query(bass=(degree("b3"),)), lambda entry: entry.voicing.degrees[0].plain == "b3"),
        (Query(rootless=True), lambda entry: entry.is_rootless),
        (Query(rootless=False), lambda entry: "1" in entry.voicing.text.split()),
        (Query(min_keys=7), lambda entry: entry.keys >= 7),
        (Query(max_stretch_mm=50.0), lambda entry: entry.stretch_mm is not None and entry.stretch_mm <= 50.0),
    ],
    ids=lambda value: (
        str(next((step.name for step in find(value).steps[1:]), "")) if isinstance(value, Query) else ""
    ),
)
def test_a_filter_keeps_what_it_asks_for(query: Query, holds: Any) -> None:
    """All of that, and nothing else."""
    whole = catalogue(["m7"])
    found = find(
        Query(**{**{name: getattr(query, name) for name in query.__slots__}, "chords": (chord_type("m7"),)})
    )
    assert found.entries == tuple(entry for entry in whole if holds(entry))
    assert found.total == len(found.entries) > 0


def test_a_set_of_strings_takes_all_its_strings() -> None:
    """Keys and grips count on these strings alone."""
    setup = Setup(strings=(1, 2, 3, 4, 5))
    found = find(Query(chords=(M11,), notes=(5,), min_keys=1), setup)
    assert {entry.place.grip.strings for entry in found.entries if entry.place} == {(1, 2, 3, 4, 5)}
    everywhere = {each.voicing: each.keys for each in find(Query(chords=(M11,), notes=(5,))).entries}
    assert all(entry.keys <= everywhere[entry.voicing] for entry in found.entries)


@settings(max_examples=30)
@given(chords=st.lists(st.sampled_from(CHORD_TYPES), min_size=1, max_size=3), limit=st.integers(1, 40))
def test_an_answer_is_in_order_and_without_doubles(chords: list[str], limit: int) -> None:
    """Best first; the first of a longer answer; one voicing once, whatever chords it serves."""
    kinds = tuple(chord_type(name) for name in chords)
    query = Query(chords=kinds, notes=(4,))
    whole = find(query)
    keys = [(-entry.score, entry.stretch_mm or 0.0) for entry in whole.entries if entry.keys]
    assert keys == sorted(keys)
    sounding = {
        (e.voicing.heights_semitones, e.voicing.sizes, e.voicing.degrees[0].semitones) for e in whole.entries
    }
    assert len(sounding) == len(whole.entries) == whole.total
    assert find(query, limit=limit).entries == whole.entries[:limit]


@settings(max_examples=40)
@given(data=st.data())
def test_every_voicing_makes_its_chord_and_clashes_nowhere(data: st.DataObject) -> None:
    """By the rules of the theory, for any of the usual types."""
    kind = chord_type(data.draw(st.sampled_from(CHORD_TYPES)))
    entry = data.draw(st.sampled_from(find(Query(chords=(kind,)), limit=500).entries))
    voicing = entry.voicing
    assert kind.is_made_by(voicing.degrees)
    assert len({each.semitones for each in voicing.degrees}) == len(voicing.degrees)
    assert clashes(voicing.degrees, voicing.heights_semitones, kind.symbol.quality) == ()
    assert max(voicing.gaps_semitones) <= 12
    assert [reason for reason, _ in entry.why] == list(REASONS)


def test_a_seventh_chord_answers_with_its_extensions() -> None:
    """Who asks for m7 also gets m9 and m11, and each bears the name that its own tones make."""
    names = {entry.symbol.plain for entry in catalogue(["m7"])}
    assert {"m7", "m9", "m11", "m13"} <= names
    assert not any("maj7" in name for name in names)


def test_one_repeated_note_comes_only_when_asked() -> None:
    """And counts against a voicing."""
    whole = find(Query(chords=(M11,), notes=(4,), repeats=True))
    doubled = [each for each in whole.entries if len({d.semitones for d in each.voicing.degrees}) == 3]
    assert doubled
    assert whole.total == len(doubled) + find(Query(chords=(M11,), notes=(4,))).total
    assert all(dict(each.why)["repeated notes"] < 0 for each in doubled)


def test_an_empty_answer_says_which_filter_emptied_it() -> None:
    """With the count after each filter, and what the others would leave."""
    query = Query(chords=(chord_type("maj7"),), notes=(4,), bass=(degree("b9"),), min_keys=3)
    found = find(query)
    assert (found.total, found.entries) == (0, ())
    assert [(step.name, step.left > 0) for step in found.steps] == [
        ("chords", True),
        ("notes", True),
        ("bass", False),
        ("min_keys", False),
    ]
    assert found.emptied_by is found.steps[2]
    assert found.left_without_it == find(Query(chords=query.chords, notes=(4,), min_keys=3)).total > 0


def test_a_tuning_in_which_little_lies_still_answers() -> None:
    """What cannot be held is told last, without a grip."""
    found = find(Query(chords=(M11,), notes=(7,)), Setup(Instrument(TUNINGS["standard"])))
    assert found.total > 0
    assert {(entry.keys, entry.place, entry.stretch_mm) for entry in found.entries} == {(0, None, None)}
    assert found.entries[0].place_over(read_note_name("C")) is None


def test_a_hand_decides_what_is_held() -> None:
    """A small hand holds no voicing in more keys than the usual one."""
    usual = {each.voicing: each.keys for each in catalogue(["13#11"])}
    small = {each.voicing: each.keys for each in catalogue(["13#11"], hand=SMALL_HAND)}
    assert usual.keys() == small.keys()
    assert all(small[voicing] <= keys for voicing, keys in usual.items())
    assert sum(small.values()) < sum(usual.values())


def test_all_usual_chords_answer_when_none_is_named() -> None:
    """Tens of thousands of voicings, and the best of them are held in all keys."""
    found = find(limit=5)
    assert found.total > 50_000
    assert [entry.keys for entry in found.entries] == [12] * 5


def test_nothing_asked_gives_nothing() -> None:
    """A catalogue of no chord types is empty."""
    assert catalogue([]) == ()


@pytest.mark.parametrize(
    ("query", "match"),
    [
        (Query(chords=(M11,) * 101), "101 chord types are too many; ask for 100 at most"),
        (Query(chords=(M11,) * 4, repeats=True), "4 chord types with repeated notes are too many; name 3"),
        (Query(repeats=True), "chord types with repeated notes are too many"),
    ],
)
def test_a_query_that_is_too_large_is_refused_before_the_work(query: Query, match: str) -> None:
    """The limit stands in the error."""
    with pytest.raises(DrillsError, match=match):
        find(query)
