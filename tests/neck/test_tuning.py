"""Tunings by name and by notes."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from drills.errors import DrillsError
from drills.neck.tuning import FEWEST_STRINGS, MOST_STRINGS, STANDARD, TUNINGS, Tuning, read_tuning
from drills.theory.text import STANDARD_OPEN_MIDI


@pytest.mark.parametrize("tuning", TUNINGS.values(), ids=list(TUNINGS))
def test_a_named_tuning_rises_and_reads_back(tuning: Tuning) -> None:
    """By its name in any case, by its notes with octaves, and by its notes without them."""
    assert all(low < high for low, high in pairwise(tuning.open_midi))
    assert FEWEST_STRINGS <= len(tuning.open_midi) <= MOST_STRINGS
    with_octaves = " ".join(pitch.plain for pitch in tuning.open_pitches)
    without = " ".join(pitch.name.shown for pitch in tuning.open_pitches)
    for text in (tuning.name, tuning.name.upper(), with_octaves, without, without.split()):
        assert read_tuning(text) == tuning


@pytest.mark.parametrize(
    ("text", "open_midi"),
    [
        ("standard", (40, 45, 50, 55, 59, 64)),
        ("drop D", (38, 45, 50, 55, 59, 64)),
        ("dropped  d", (38, 45, 50, 55, 59, 64)),
        ("DADGAD", (38, 45, 50, 55, 57, 62)),
        ("D A D G A D", (38, 45, 50, 55, 57, 62)),
        ("open G", (38, 43, 50, 55, 59, 62)),
        ("all fourths", (40, 45, 50, 55, 60, 65)),
        ("seven strings", (35, 40, 45, 50, 55, 59, 64)),
        ("7 strings", (35, 40, 45, 50, 55, 59, 64)),
        ("eight strings", (30, 35, 40, 45, 50, 55, 59, 64)),
        ("C2 G2 D3 A3 B3 E4", (36, 43, 50, 57, 59, 64)),
        ("E♭ A♭ D♭ G♭ B♭ E♭", (39, 44, 49, 54, 58, 63)),
        ("C G C F A D", (36, 43, 48, 53, 57, 62)),
    ],
)
def test_a_tuning_sounds_its_notes(text: str, open_midi: tuple[int, ...]) -> None:
    """Common practice, no source."""
    assert read_tuning(text).open_midi == open_midi


def test_a_tuning_of_ones_own_is_called_by_its_notes() -> None:
    """Strings have names and numbers, the highest is string 1."""
    own = read_tuning("Eb2 Ab2 Db3 Gb3 Bb3 Eb4")
    assert own.name == "Eb2 Ab2 Db3 Gb3 Bb3 Eb4"
    assert own.string_names == ("E♭", "A♭", "D♭", "G♭", "B♭", "E♭")
    assert [own.string_number(place) for place in range(6)] == [6, 5, 4, 3, 2, 1]


def test_the_standard_of_the_neck_is_that_of_the_voicing_reader() -> None:
    """Frets are read in it unless another tuning is given."""
    assert STANDARD.open_midi == STANDARD_OPEN_MIDI


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("drop dee", "no tuning named 'drop dee'; write 'drop D', or six to eight notes"),
        ("qqq", "no tuning named 'qqq'; write 'standard'"),
        ("", "a tuning of 0 strings; name six to eight strings"),
        ("E2 A2 D3", "a tuning of 3 strings; name six to eight strings"),
        (
            "E2 A2 D3 G3 B3 B3",
            "string B3 does not lie above the one before it; name the strings from low to high",
        ),
        ("E4 B3 G3 D3 A2 E2", "string B3 does not lie above the one before it"),
        ("E7 A7 D8 G8 B8 E9", "a tuning out of range; a guitar's open strings lie between C0 and E6"),
        ("E-1 A2 D3 G3 B3 E4", "a tuning out of range"),
        (["E2", "A2", "D3", "G3", "H3", "E4"], "no note named 'H3'"),
        (["drop D"], "a tuning of 1 strings"),
    ],
    ids=str,
)
def test_a_tuning_that_is_none_is_refused(text: str | list[str], fault: str) -> None:
    """With the place, the fault and the mend."""
    with pytest.raises(DrillsError) as caught:
        read_tuning(text, where="--tuning")
    assert str(caught.value).startswith(f"--tuning: {fault}")


words = st.sampled_from(["E2", "A", "D3", "G♭", "B9", "C-1", "x", "drop", "d", "standard", "E4"]) | st.text(
    max_size=4
)


@given(st.lists(words, max_size=9), st.booleans())
@example(["C" + "9" * 5000] * 6, True)
def test_no_text_is_too_odd_for_the_reader(some: list[str], as_one: bool) -> None:
    """Rising strings or an error of ours."""
    try:
        tuning = read_tuning(" ".join(some) if as_one else some)
    except DrillsError:
        return
    assert all(low < high for low, high in pairwise(tuning.open_midi))
    assert read_tuning([pitch.plain for pitch in tuning.open_pitches]).open_midi == tuning.open_midi
