"""Opening, closing and turning one layer: handbook tables, and the law that the pitch classes stay."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeAlias

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from drills.errors import DrillsError
from drills.theory.motion.moved import Moved
from drills.theory.motion.reshape import SPACINGS, TURNS, spread, turn
from drills.theory.naming import Named, name_notes
from drills.theory.voicing import DEFAULT_SIZES

Read: TypeAlias = Callable[..., Named]

HANDBOOK = Path(__file__).parents[2] / "handbook"


def rows(table: str) -> list[dict[str, Any]]:
    """The rows of a handbook table."""
    found = json.loads((HANDBOOK / f"{table}.json").read_text(encoding="utf-8"))["rows"]
    assert isinstance(found, list)
    return found


def notes(moved: Moved) -> str:
    """The notes of a moved voicing, layers apart."""
    pitches = moved.named.sounding.pitches
    layers = moved.named.layers
    return " | ".join(" ".join(pitch.plain for pitch in pitches[layer.places]) for layer in layers)


@pytest.mark.parametrize(
    "row", rows("drop_voicing"), ids=lambda row: f"{row['given']['close']} {row['given']['drop']}"
)
def test_close_seventh_chords_drop_as_the_handbook_says(read: Read, row: dict[str, Any]) -> None:
    """Drop 2, drop 3, drop 2 and 4 of a close layer of four (source in the row), and back again."""
    bar_free = read(f"C2 | {row['given']['close']}")
    moved = spread(bar_free, "upper", row["given"]["drop"].replace("&", " and "))
    assert notes(moved).partition(" | ")[2] == row["expect"]["voicing"]
    assert moved.named.layers[1].name.spacing == row["given"]["drop"].replace("&", " and ")
    back = spread(moved.named, "upper", "close")
    assert back.named.sounding.midi == bar_free.sounding.midi


@pytest.mark.parametrize(
    ("text", "role", "spacing", "expected", "words"),
    [
        pytest.param(
            "C3 E3 G3 | B4 D5",
            "lower",
            "open",
            "C3 G3 E4 | B4 D5",
            "lower layer opened: E an octave up",
            id="open",
        ),
        pytest.param(
            "C3 G3 E4 | B4 D5",
            "lower",
            "close",
            "C3 E3 G3 | B4 D5",
            "lower layer closed: E an octave down",
            id="close",
        ),
        pytest.param(
            "C3 E3 G3 | B3 D4",
            "lower",
            "open",
            "C3 G3 E4 | B4 D5",
            "lower layer opened: E an octave up; the upper layer goes up an octave to stay clear",
            id="the neighbour makes room",
        ),
        pytest.param(
            "C3 E3 G3 | B3 D4",
            "upper",
            "open",
            "C3 E3 G3 | B3 D5",
            "upper layer opened: D an octave up",
            id="interval",
        ),
        pytest.param(
            "C3 | F3 Bb3 Eb4",
            "upper",
            "open",
            "C3 | F3 Eb4 Bb4",
            "upper layer opened: B♭ an octave up",
            id="stack",
        ),
        pytest.param(
            "C3 E3 | G3 B3 D4 F#4",
            "upper",
            "Open",
            "C3 E3 | D4 G4 B4 F#5",
            "upper layer spread as drop 2: G an octave up, B an octave up, F♯ an octave up",
            id="four notes open as drop 2, clear of the layer below",
        ),
        pytest.param(
            "C3 G3 D4", "lower", "close", "C3 G3 D4", "the single layer is close already", id="so already"
        ),
        pytest.param(
            "C3 G3 D4", "single", "open", "C3 G3 D4", "the single layer is open already", id="a quintal stack"
        ),
    ],
)
def test_a_layer_is_opened_and_closed(
    read: Read, text: str, role: str, spacing: str, expected: str, words: str
) -> None:
    """The layer changes its spacing, and its neighbour gives way by octaves where they would cross."""
    moved = spread(read(text), role, spacing)
    assert notes(moved) == expected
    assert moved.words == words


@pytest.mark.parametrize(
    ("text", "role", "inversion", "expected"),
    [
        pytest.param("C3 E3 G3 | B4 D5", "lower", "first", "E3 G3 C4 | B4 D5", id="up to the first"),
        pytest.param(
            "C4 E4 G4 | B5 D6", "lower", "second inversion", "G3 C4 E4 | B5 D6", id="down to the second"
        ),
        pytest.param("C3 G3 E4 | B4 D5", "lower", "First", "E3 C4 G4 | B4 D5", id="open stays open"),
        pytest.param("C3 E3 G3 | B3 D4", "lower", "first", "E3 G3 C4 | B4 D5", id="not into the mud"),
        pytest.param(
            "C3 | Eb4 Ab4 C5", "upper", "root position", "C3 | Ab4 C5 Eb5", id="root, up or down alike"
        ),
        pytest.param("C3 | G3 C4 E4 B4", "upper", "third", "C3 | B3 E4 G4 C5", id="drop 2 stays drop 2"),
        pytest.param("C4 E4 B4", "single", "third", "B3 C4 E4", id="a shell has its seventh in the bass"),
        pytest.param("C4 E4 G4", "upper", "root", "C4 E4 G4", id="so already"),
    ],
)
def test_a_layer_is_turned(read: Read, text: str, role: str, inversion: str, expected: str) -> None:
    """Every note goes to the next one of its chord, and the spacing stays."""
    start = read(text)
    moved = turn(start, role, inversion, floor_midi=40)
    assert notes(moved) == expected
    number = -1 if role != "lower" else 0
    assert moved.named.layers[number].name.spacing == start.layers[number].name.spacing
    if moved.named is start:
        assert (moved.changed, moved.words) == ((), "the single layer is in root position already")


def test_a_turned_layer_stays_above_the_lowest_string(read: Read) -> None:
    """Where the near place lies below the floor, the far one is taken."""
    start = read("E2 G#2 B2 | D4 F#4")
    assert notes(turn(start, "lower", "second", floor_midi=28)) == "B2 E3 G#3 | D4 F#4"
    free = read("E4 G#4 B4 | D6 F#6")
    assert notes(turn(free, "lower", "second")) == "B3 E4 G#4 | D6 F#6"
    assert notes(turn(free, "lower", "second", floor_midi=60)) == "B4 E5 G#5 | D6 F#6"


@pytest.mark.parametrize(
    ("text", "role", "inversion", "words"),
    [
        pytest.param("C3 F3 Bb3", "single", "first", "a quartal stack stands on its lowest note", id="stack"),
        pytest.param("C3 E3 G#3", "single", "first", "an augmented triad sounds the same", id="augmented"),
        pytest.param("C3 E3 | G3 B3", "lower", "first", "the lower layer is a major third", id="two notes"),
        pytest.param(
            "C3 E3 G3",
            "single",
            "third",
            "there is no third inversion of a major triad",
            id="a triad's third",
        ),
        pytest.param(
            "C3 Db3 F#3 B3 | D4 G4",
            "lower",
            "second",
            "no second inversion of four mixed notes",
            id="mixed notes",
        ),
        pytest.param(
            "C3 E3 G3", "single", "fourth", "no inversion named 'fourth'; write root, first", id="fourth"
        ),
        pytest.param(
            "C3 E3 | G3 B3", "left", "first", "no layer named 'left'; write lower or upper", id="no role"
        ),
        pytest.param(
            "C3 E3 | G3 B3", "middle", "first", "no middle layer; write lower or upper", id="no middle"
        ),
    ],
)
def test_what_cannot_be_turned_is_refused(
    read: Read, text: str, role: str, inversion: str, words: str
) -> None:
    """The error says what the layer is and why it has no such inversion."""
    with pytest.raises(DrillsError, match=words):
        turn(read(text), role, inversion)


@pytest.mark.parametrize(
    ("text", "role", "spacing", "words"),
    [
        pytest.param("C3 E3 G3", "single", "opn", "no spacing named 'opn'; write open", id="misspelled"),
        pytest.param(
            "C3 E3 G3", "single", "?", "no spacing named '\\?'; write close or open", id="nothing like it"
        ),
        pytest.param("C3 | E3 G3", "lower", "open", "one note has no spacing", id="one note"),
        pytest.param(
            "C3 E3 G3", "single", "drop 2", "3 notes have no drop 2; write close or open", id="drop three"
        ),
    ],
)
def test_what_cannot_be_spread_is_refused(read: Read, text: str, role: str, spacing: str, words: str) -> None:
    """The error names the nearest right word."""
    with pytest.raises(DrillsError, match=words):
        spread(read(text), role, spacing)


@st.composite
def voicings(draw: st.DrawFn) -> Named:
    """Voicings of one to three layers."""
    midi = tuple(sorted(draw(st.sets(st.integers(40, 79), min_size=3, max_size=7))))
    sizes = draw(st.sampled_from([DEFAULT_SIZES[len(midi)], (1, 1, len(midi) - 2)]))
    assume(max(sizes) <= 4)
    return name_notes(midi, sizes)


@given(voicings(), st.integers(0, 2), st.sampled_from(SPACINGS + tuple(TURNS)))
def test_pitch_classes_and_layers_stay(start: Named, number: int, word: str) -> None:
    """Whatever is spread or turned keeps the notes of every layer, if another is doubled; none cross."""
    layer = start.layers[min(number, len(start.layers) - 1)]
    move = turn if word in TURNS else spread
    try:
        after = move(start, layer.role, word).named
    except DrillsError:
        return
    for old, new in zip(start.layers, after.layers, strict=True):
        before, now = (
            [midi % 12 for midi in each.sounding.midi[one.places]]
            for each, one in ((start, old), (after, new))
        )
        assert (set(before), len(before)) == (set(now), len(now))
    assert list(after.sounding.midi) == sorted(set(after.sounding.midi))
    assert after.root == start.root
