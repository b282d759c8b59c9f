"""Strings and grips that a recipe names."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.errors import DrillsError
from drills.neck.instrument import Instrument
from drills.neck.search import find_in_key
from drills.neck.tuning import STANDARD, read_tuning
from drills.recipe.model import Pinned
from drills.recipe.pin import check_grip, read_frets, read_strings, voicing_of_grip
from drills.theory.chord import habit_root, read_suffix
from drills.theory.pitch import NoteName, read_note_name

C = NoteName(0)
GUITAR = Instrument()


@given(st.permutations(range(1, 9)), st.integers(1, 8), st.sampled_from([" ", ",", ", ", ""]))
def test_strings_listed_in_any_order_are_places_from_the_lowest(
    order: list[int], count: int, gap: str
) -> None:
    """String 1 is the highest; the order of writing does not matter."""
    listed = order[:count]
    assert read_strings(gap.join(map(str, listed)), 8, count) == tuple(
        sorted(8 - number for number in listed)
    )


@given(st.integers(1, 8), st.integers(1, 8))
def test_a_range_of_strings_holds_all_between(first: int, last: int) -> None:
    """From either end."""
    low, high = sorted((first, last))
    wanted = tuple(sorted(8 - number for number in range(low, high + 1)))
    assert read_strings(f"{first}-{last}", 8, len(wanted)) == wanted
    assert read_strings(f"{first} – {last}", 8, len(wanted)) == wanted


def test_strings_are_numbered_as_the_tuning_numbers_them() -> None:
    """One place decides which string is number 1."""
    for place in range(6):
        assert read_strings(str(STANDARD.string_number(place)), 6, 1) == (place,)


@pytest.mark.parametrize("text", ["", "-", "5-", "a", "5–1–3", "5;4", "0", "9", "55", "5-3 4"])
def test_what_is_no_set_of_strings_is_refused(text: str) -> None:
    """Each with a mend."""
    with pytest.raises(DrillsError) as caught:
        read_strings(text, 6, 5)
    assert caught.value.mend


@pytest.mark.parametrize(
    ("tuning", "frets", "key"),
    [
        pytest.param("standard", "x 10 13 10 11 10", "C", id="standard"),
        pytest.param("drop D", "10 x 10 x x x", "C", id="drop-D"),
        pytest.param("seven strings", "1 x 2 2 2 3 2", "C", id="seven-strings"),
        pytest.param("eight strings", "x x 8 7 7 7 8 7", "C", id="eight-strings"),
    ],
)
def test_a_grip_sounds_the_voicing_read_from_it(tuning: str, frets: str, key: str) -> None:
    """What is read from frets passes the check against the same frets."""
    guitar = Instrument(read_tuning(tuning))
    read, sizes = read_frets(frets, guitar)
    root = read_note_name(key)
    check_grip(read, voicing_of_grip(Pinned(read, root), sizes, guitar, None), root, guitar)


@given(st.sampled_from(["x 1 2 2 3 2", "x 10 13 10 11 10"]), st.integers(0, 11))
def test_every_grip_found_is_accepted_and_its_neighbours_are_not(in_c: str, semitones: int) -> None:
    """A grip that is found sounds its voicing; one fret off it does not, and the mend is the grip."""
    frets, sizes = read_frets(in_c, GUITAR)
    voicing = voicing_of_grip(Pinned(frets, C), sizes, GUITAR, None)
    key = habit_root(semitones, "dominant")
    for place in find_in_key(voicing, key).places:
        check_grip(place.grip.frets, voicing, key, GUITAR)
        for string in place.grip.strings:
            off = list(place.grip.frets)
            off[string] = (off[string] or 0) + 1
            with pytest.raises(DrillsError, match=f"string {6 - string} sounds") as caught:
                check_grip(tuple(off), voicing, key, GUITAR)
            assert caught.value.mend == f"write '{place.grip.text}'"


def test_a_voicing_that_does_not_lie_on_the_strings_gets_other_strings() -> None:
    """On the three highest strings a cluster would need a note below an open string."""
    cluster = voicing_of_grip(Pinned((None, None, 10, 6, 3, None), C), (3,), GUITAR, None)
    assert cluster.text == "1 b9 9"
    with pytest.raises(DrillsError, match="string 3 sounds G3, where 1 over C is C4") as caught:
        check_grip((None, None, None, 0, 0, 0), cluster, C, GUITAR)
    assert caught.value.mend == "choose other strings: the voicing does not lie on these"


def test_a_chord_says_what_the_tones_of_a_grip_are_called() -> None:
    """Six half steps over the root are a flat five in one chord and a sharp eleven in the other."""
    frets, sizes = read_frets("x 7 8 x 7 8", GUITAR)
    for chord, text in (("7b5", "3 b7 | b5 1"), ("7#11", "3 b7 | #11 1")):
        voicing = voicing_of_grip(Pinned(frets, C), sizes, GUITAR, read_suffix(chord))
        assert voicing.text == text
