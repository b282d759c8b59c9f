"""Recipes read from TOML: good ones become what they say, bad ones are told what to mend.

The cases are files in tests/recipes/good and bad; adding a case is adding a file. A good file opens with
remarks of the form `# path = value`, each a fact of the recipe it makes. A bad file opens with the words that
its message must hold, parted by ~.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.errors import DrillsError
from drills.recipe.known import (
    DRILLS,
    HAND_KEYS,
    HANDOUT_KEYS,
    INSTRUMENT_KEYS,
    PACE_KEYS,
    PAPERS,
    PER_PAGE,
    PROGRESSION_KEYS,
    SHEETS,
    SOUND_KEYS,
    TOP_KEYS,
    VOICING_KEYS,
)
from drills.recipe.model import ORDERS, FamilyEntry, ProgressionEntry, Recipe, VoicingEntry
from drills.recipe.read import parse_recipe, read_recipe
from drills.theory.pitch import NoteName

CASES = Path(__file__).parents[1] / "recipes"
GOOD = sorted((CASES / "good").glob("*.toml"))
BAD = sorted((CASES / "bad").glob("*.toml"))
SMALLEST = 'title = "Riverside"\n[[voicing]]\nlower = "1 5 b3"\nupper = "11 b7 9"\n'


def parsed(text: str) -> Recipe:
    """The recipe of a text."""
    return parse_recipe(text, source="week.toml", default_id="week")


def facts(path: Path) -> Iterator[tuple[str, str]]:
    """What a good file says of itself."""
    for line in path.read_text(encoding="utf-8").splitlines():
        if not line.startswith("# "):
            return
        name, _, value = line.removeprefix("# ").partition(" =")
        yield name, value.strip()


def worded(value: object) -> str:
    """A value as the facts write it."""
    if isinstance(value, tuple):
        return " ".join(worded(each) for each in value)
    if isinstance(value, NoteName):
        return value.plain
    if value is None or isinstance(value, bool):
        return str(value).lower()
    return str(value).replace("\n", r"\n")


def looked_up(value: object, path: str) -> object:
    """What a dotted path of attributes and places leads to."""
    for step in path.split("."):
        value = value[int(step)] if isinstance(value, tuple) else getattr(value, step)
    return value


def test_there_are_cases() -> None:
    """Both folders are found."""
    assert len(GOOD) > 20
    assert len(BAD) > 100


@pytest.mark.parametrize("path", GOOD, ids=lambda path: path.stem)
def test_a_good_recipe_is_what_it_says(path: Path) -> None:
    """Every fact in the file's first lines holds."""
    recipe = read_recipe(path)
    told = dict(facts(path))
    assert told
    assert {name: worded(looked_up(recipe, name)) for name in told} == told


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.stem)
def test_a_bad_recipe_is_told_what_to_mend(path: Path) -> None:
    """The message names the file once, the place, what was found, and something better."""
    with pytest.raises(DrillsError) as caught:
        read_recipe(path)
    message = str(caught.value)
    first_line = path.read_text(encoding="utf-8").splitlines()[0]
    fragments = [each.strip() for each in first_line.removeprefix("# says:").split("~")]
    assert [each for each in fragments if each not in message] == []
    assert caught.value.where.startswith(str(path))
    assert message.count(path.name) == 1
    assert caught.value.mend


def key_named(fault: DrillsError) -> str:
    """The key that a fault is about, or the first word for its table."""
    unknown = re.match(r"unknown key '(\w+)'", fault.what)
    if unknown:
        return unknown[1]
    last = re.split(r"[:.] ?", fault.where)[-1]
    return last.split()[0]


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.stem)
def test_the_line_named_holds_the_key_named(path: Path) -> None:
    """Where a message names a line and a key or table, that line of the file writes it."""
    with pytest.raises(DrillsError) as caught:
        read_recipe(path)
    found = re.search(r", line (\d+):", caught.value.where)
    lines = path.read_text(encoding="utf-8").splitlines()
    assert found is None or key_named(caught.value) in lines[int(found[1]) - 1]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        pytest.param(f"keys = {'[' * 5000}{']' * 5000}\n", "nested too deeply", id="lists-within-lists"),
        pytest.param(f"{'.'.join('a' * 400_000)} = 1\n", "a key has too many parts", id="dotted-key"),
        pytest.param(f"[{'.'.join('a' * 400_000)}]\n", "a key has too many parts", id="dotted-table"),
        pytest.param(f"edition = {'9' * 5000}\n", "a number in it is too long", id="number-too-long"),
        pytest.param(
            f"edition = 0x{'f' * 5000}\n", "a whole number is out of range", id="hexadecimal-too-long"
        ),
        pytest.param(f'order = "{"x" * 5000}"\n', "is unknown here", id="word-too-long"),
        pytest.param(f"{'k' * 5000} = 1\n", "unknown key", id="key-too-long"),
        pytest.param(f'keys = ["{"C" * 5000}"]\n', "5000 characters are too many", id="note-too-long"),
    ],
)
def test_what_is_too_much_is_refused_in_few_words(text: str, said: str) -> None:
    """Nothing in a recipe makes a message long."""
    with pytest.raises(DrillsError, match=said) as caught:
        parsed(text + SMALLEST)
    assert len(str(caught.value)) < 400


@pytest.mark.parametrize(
    ("default_id", "id_"),
    [("week-03", "week-03"), ("week 3 (Riverside)", "week-3-Riverside"), ("Übung №3", "Ubung-No3")],
)
def test_the_file_name_makes_the_id(default_id: str, id_: str) -> None:
    """A recipe without an id is known by its file's name, as a word."""
    assert parse_recipe(SMALLEST, source="x.toml", default_id=default_id).id == id_


def test_a_file_name_in_other_letters_makes_an_id_of_its_own() -> None:
    """Nothing of the name is left as a word, so its id is a number, always the same one."""
    names = ("第三周", "第四周", "неделя", "..", "\udcff")
    ids = [parse_recipe(SMALLEST, source="x.toml", default_id=name).id for name in names]
    assert ids[0] == "recipe-7d901ff2"
    assert len(set(ids)) == len(ids)
    assert all(re.fullmatch(r"recipe-[0-9a-f]{8}", each) for each in ids)


# --- recipe -> text -> recipe --------------------------------------------------------------------


def written(recipe: Recipe) -> str:
    """A recipe as TOML that reads as the same recipe."""
    hand, instrument = recipe.hand, recipe.instrument
    lines = [
        f"id = {toml(recipe.id)}",
        f"title = {toml(recipe.title)}",
        f"about = {toml(recipe.about)}",
        f"edition = {recipe.edition}",
        f"order = {toml(recipe.order)}",
        f"keys = {keys(recipe.keys)}",
        "[instrument]",
        f"tuning = {toml([pitch.plain for pitch in instrument.tuning.open_pitches])}",
        f"capo = {instrument.capo}",
        f"frets = {instrument.frets}",
        f"scale_length_mm = {instrument.scale_length_mm}",
        f"left_handed = {toml(recipe.is_left_handed)}",
        "[hand]",
        f"profile = {toml(hand.name)}",
        *(f"{key} = {toml(getattr(hand, key))}" for key in HAND_KEYS if key != "profile"),
        "[drills]",
        f"ask = {toml(list(recipe.ask))}",
        "[drills.keys]",
        *(f"{drill} = {keys(each)}" for drill, each in recipe.drill_keys),
        "[pace]",
        f"fresh_per_day = {recipe.fresh_per_day}",
        f"target_recall = {recipe.target_recall}",
        "[sound]",
        f"on = {toml(recipe.sound.is_on)}",
        f"seconds = {recipe.sound.seconds}",
        f"a4_hz = {recipe.sound.a4_hz}",
        "[handout]",
        f"on = {toml(recipe.handout.is_on)}",
        f"sheets = {toml(list(recipe.handout.sheets))}",
        *(
            f"{key} = {toml(getattr(recipe.handout, key))}"
            for key in ("paper", "per_page", "versions", "date")
        ),
    ]
    strings = len(recipe.instrument.open_midi)
    for entry in recipe.voicings:
        lines += ["[[voicing]]", *written_entry(entry, strings)]
    for family in recipe.families:
        lines += ["[[family]]", *written_family(family, strings)]
    for progression in recipe.progressions:
        lines += ["[[progression]]", *written_progression(progression, strings)]
    return "\n".join(lines) + "\n"


def written_entry(entry: VoicingEntry, strings: int) -> Iterator[str]:
    """The lines of a voicing."""
    parts = entry.voicing.text.split(" | ")
    roles = {1: ["layer"], 2: ["lower", "upper"], 3: ["lower", "middle", "upper"]}[len(parts)]
    yield from (f"{role} = {toml(part)}" for role, part in zip(roles, parts, strict=True))
    if entry.chord is not None:
        yield f"chord = {toml(entry.chord.symbol.plain)}"
    yield from written_words(entry)
    if entry.pinned is not None:
        frets = ["x" if fret is None else str(fret) for fret in entry.pinned.frets]
        yield f"frets = {toml(' '.join(frets))}"
        yield f"key = {toml(entry.pinned.key.plain)}"
    elif entry.strings is not None:
        yield f"strings = {toml(' '.join(str(strings - place) for place in entry.strings))}"


def written_family(entry: FamilyEntry, strings: int) -> Iterator[str]:
    """The lines of a family."""
    yield f"chord = {toml(list(entry.chords))}"
    for key in ("lower", "upper"):
        if getattr(entry, key):
            yield f"{key} = {toml([each.text for each in getattr(entry, key)])}"
    for key in ("top", "bass"):
        if getattr(entry, key):
            yield f"{key} = {toml([each.plain for each in getattr(entry, key)])}"
    for key in ("notes", "rootless", "max_stretch_mm", "week"):
        if getattr(entry, key) is not None:
            yield f"{key} = {toml(getattr(entry, key))}"
    yield from (f"{key} = {toml(getattr(entry, key))}" for key in ("min_keys", "at_most", "note"))
    if entry.strings is not None:
        yield f"strings = {toml(' '.join(str(strings - place) for place in entry.strings))}"
    if entry.keys is not None:
        yield f"keys = {keys(entry.keys)}"


def written_progression(entry: ProgressionEntry, strings: int) -> Iterator[str]:
    """The lines of a progression."""
    yield f"chords = {toml([chord.plain for chord in entry.chords])}"
    yield f"key = {toml(entry.key.plain)}"
    if entry.voicings is not None:
        yield f"voicings = {toml([voicing.text for voicing in entry.voicings])}"
    if entry.notes is not None:
        yield f"notes = {entry.notes}"
    if entry.strings is not None:
        yield f"strings = {toml(' '.join(str(strings - place) for place in entry.strings))}"
    yield from written_words(entry)


def written_words(entry: VoicingEntry | ProgressionEntry) -> Iterator[str]:
    """The lines that voicings and progressions share."""
    yield from (f"{key} = {toml(getattr(entry, key))}" for key in ("nickname", "note"))
    if entry.id:
        yield f"id = {toml(entry.id)}"
    if entry.week is not None:
        yield f"week = {entry.week}"
    if entry.keys is not None:
        yield f"keys = {keys(entry.keys)}"


def toml(value: object) -> str:
    """A value as TOML writes it."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list):
        return f"[{', '.join(map(toml, value))}]"
    if isinstance(value, str):
        escaped = value.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
        return f'"{escaped}"'
    return str(value)


def keys(names: tuple[NoteName, ...] | None) -> str:
    """Keys as a recipe lists them."""
    return '"all"' if names is None else toml([name.plain for name in names])


VOICINGS = (
    'lower = "1 5 b3"\nupper = "11 b7 9"',
    'chord = "m7"\nlower = "5 b3"\nupper = "11 b7 9"\nstrings = "5-1"',
    'chord = "13#11"\nlower = "b7 3"\nupper = "13 9 #11"\nstrings = "6 4-1"',
    'chord = "13#11"\nlower = "b7 3"\nmiddle = "13 9"\nupper = "#11"',
    'chord = "7alt"\nlower = "3 b7"\nupper = "#9 #5 1"',
    'lower = "1 b9"\nupper = "9"',
    'layer = "3 5 1"',
    'layer = "1 3 5\' 7"\nchord = "maj9"',
    'lower = "1 5\'"\nupper = "3\'\' b7"',
)
PROGRESSIONS = (
    'chords = "Dm9 G13 C6/9"\nkey="C"\nvoicings = ["b3 b7 9 5", "b7 3 | 13 9", "3 6 | 9 5"]\nstrings="5-2"',
    'chords = "Dm7 | G7alt | CΔ7"\nkey = "C"\nnotes = 4',
    'chords = ["Bm7b5", "E7alt", "Am6/9"]\nkey = "A"',
    'chords = "F#m7 B7"\nkey = "E"\nvoicings = ["b3 b7 5 1", "1 b7 3"]',
)
KEY_LISTS = st.one_of(
    st.just('"all"'),
    st.lists(st.sampled_from("C F Bb Eb Ab Db Gb Cb E A D G".split()), min_size=1, unique=True).map(toml),
)
NAMES = st.text(st.characters(codec="utf-8", exclude_categories=["C", "Z"]), max_size=40).map(str.strip)


@st.composite
def recipes(draw: st.DrawFn) -> str:
    """Texts of good recipes."""
    ask = draw(st.lists(st.sampled_from(DRILLS), min_size=1, unique=True))
    with_keys = draw(st.lists(st.sampled_from(ask), unique=True))
    bodies = draw(st.lists(st.sampled_from(VOICINGS), min_size=1, unique=True))
    lines = [
        f"title = {toml('T' + draw(NAMES))}",
        f"about = {toml(draw(NAMES))}",
        f"edition = {draw(st.integers(1, 99))}",
        f"order = {toml(draw(st.sampled_from(ORDERS)))}",
        f"keys = {draw(KEY_LISTS)}",
        "[instrument]",
        f"capo = {draw(st.integers(0, 5))}",
        f"frets = {draw(st.integers(12, 24))}",
        f"scale_length_mm = {draw(st.floats(560, 700))}",
        "[hand]",
        f"profile = {toml(draw(st.sampled_from(['usual', 'small'])))}",
        f"max_stretch_mm = {draw(st.floats(60, 150))}",
        "[drills]",
        f"ask = {toml(ask)}",
        "[drills.keys]",
        *(f"{drill} = {draw(KEY_LISTS)}" for drill in with_keys),
        "[pace]",
        f"target_recall = {draw(st.floats(0.7, 0.97))}",
        "[sound]",
        f"on = {toml('hear' in ask or draw(st.booleans()))}",
        f"seconds = {draw(st.floats(1.5, 6.0))}",
        f"a4_hz = {draw(st.one_of(st.integers(400, 480), st.floats(400.0, 480.0)))}",
        "[handout]",
        f"on = {toml(draw(st.booleans()))}",
        f"paper = {toml(draw(st.sampled_from(PAPERS)))}",
        f"per_page = {draw(st.sampled_from(PER_PAGE))}",
        f"sheets = {toml(draw(st.lists(st.sampled_from(SHEETS), unique=True, min_size=1)))}",
        f"date = {toml(draw(NAMES))}",
    ]
    for place, body in enumerate(bodies):
        lines += ["[[voicing]]", body, f"nickname = {toml(draw(NAMES))}", f"note = {toml(draw(NAMES))}"]
        lines += draw(st.sampled_from([[], [f'id = "v{place}"'], [f"week = {place + 1}"], ['keys = "all"']]))
    for body in draw(st.lists(st.sampled_from(PROGRESSIONS), unique=True)):
        lines += ["[[progression]]", body, f"nickname = {toml(draw(NAMES))}"]
        lines += draw(st.sampled_from([[], ["week = 2"], ['keys = "all"'], ['keys = ["Gb", "E"]']]))
    return "\n".join(lines) + "\n"


@given(recipes())
def test_a_recipe_written_down_reads_as_the_same(text: str) -> None:
    """Recipe to text to recipe changes nothing."""
    recipe = parsed(text)
    assert parsed(written(recipe)) == recipe


@pytest.mark.parametrize("path", GOOD, ids=lambda path: path.stem)
def test_a_good_recipe_written_down_reads_as_the_same(path: Path) -> None:
    """The same for the cases."""
    recipe = read_recipe(path)
    assert parse_recipe(written(recipe), source=str(path), default_id="") == recipe


# --- whatever a file holds -----------------------------------------------------------------------

WORDS = (
    *TOP_KEYS, *VOICING_KEYS, *INSTRUMENT_KEYS, *HAND_KEYS, *PACE_KEYS, *SOUND_KEYS, *HANDOUT_KEYS, *DRILLS,
    *PROGRESSION_KEYS, "[handout]", "[[voicing]]", "[[progression]]", '"Dm9 G7"',
    "[drills]", "[drills.keys]", "[hand]", "[pace]", "[sound]", "[instrument]",
    '"all"', '"C"', '"1 5 b3"', '"x 2 2 2 3 2"', '"5-1"', '"m11"', '"7alt"',
    "=", "[", "]", "{", "}", '"', "'", "#", "\n", " ", ",", ".", '"""', "'''", "\\",
    "0", "1", "-1", "9e99", "nan", "true", "2027-01-09",
)  # fmt: skip
VALUES = st.recursive(
    st.one_of(
        st.sampled_from(
            ['"all"', '"C"', '"1 5 b3"', '"x 2 2 2 3 2"', '"5-1"', '"m11"', '"place"', "true", "nan"]
        ),
        st.integers().map(str),
        st.floats().map(str),
        st.text(max_size=20).map(lambda text: toml(re.sub(r"[\x00-\x09\x0b-\x1f\x7f]", "", text))),
    ),
    lambda inner: st.lists(inner, max_size=3).map(lambda values: f"[{', '.join(values)}]"),
    max_leaves=5,
)


def outcome(text: str) -> Recipe | DrillsError:
    """What becomes of a text; any other exception than ours gets through and fails the test."""
    try:
        return parsed(text)
    except DrillsError as fault:
        return fault


def is_sound(result: Recipe | DrillsError) -> bool:
    """A recipe that holds something, or a fault that names the file once and a mend."""
    if isinstance(result, Recipe):
        return bool(result.voicings or result.progressions or result.families)
    is_placed = result.where.startswith("week.toml") and str(result).count("week.toml") == 1
    return is_placed and bool(result.what) and bool(result.mend)


@given(st.text())
def test_no_text_breaks_the_reader(text: str) -> None:
    """Any text is a recipe or a fault with a mend."""
    assert is_sound(outcome(text))


@given(st.lists(st.sampled_from(WORDS), max_size=30).map(" ".join))
def test_no_heap_of_words_breaks_the_reader(text: str) -> None:
    """The same for texts of recipe words."""
    assert is_sound(outcome(text))


@given(
    st.dictionaries(st.sampled_from(TOP_KEYS), VALUES), st.dictionaries(st.sampled_from(VOICING_KEYS), VALUES)
)
def test_no_value_breaks_the_reader(top: dict[str, str], voicing: dict[str, str]) -> None:
    """The same for known keys with any values."""
    top_lines = [f"{key} = {value}" for key, value in top.items()]
    voicing_lines = [f"{key} = {value}" for key, value in voicing.items()]
    assert is_sound(outcome("\n".join([*top_lines, "[[voicing]]", *voicing_lines])))


@given(st.dictionaries(st.sampled_from(PROGRESSION_KEYS), VALUES))
def test_no_value_breaks_the_reader_of_progressions(values: dict[str, str]) -> None:
    """The same for progressions; chords and key are right more often than not."""
    given_keys = {"chords": '"Dm9 G7"', "key": '"C"'} | values
    lines = [f"{key} = {value}" for key, value in given_keys.items()]
    assert is_sound(outcome("\n".join(['title = "T"', "[[progression]]", *lines])))


@given(st.sampled_from(GOOD), st.integers(0, 2**32), st.sampled_from(WORDS))
def test_no_slip_of_the_pen_breaks_the_reader(path: Path, seed: int, word: str) -> None:
    """The same for good recipes in which something was cut out and something put in."""
    text = path.read_text(encoding="utf-8")
    chance = random.Random(seed)
    start = chance.randrange(len(text))
    assert is_sound(outcome(text[:start] + word + text[start + chance.randrange(12) :]))
