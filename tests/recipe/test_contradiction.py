"""A chord against its notes, as a teacher would judge it (common practice, no source)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.errors import DrillsError
from drills.recipe.contradiction import agreed_chord, chord_of_notes
from drills.theory.chord import read_suffix
from drills.theory.degree import KNOWN
from drills.theory.naming import read_over
from drills.theory.pitch import NoteName
from drills.theory.symbol import symbol
from drills.theory.text import read_voicing
from drills.theory.voicing import Voicing


def voicing(text: str) -> Voicing:
    """A voicing of degrees."""
    written = read_voicing(text, root=NoteName(0))
    heights = tuple(midi - written.midi[0] for midi in written.midi)
    return Voicing(written.degrees or (), heights, written.sizes)


def agreed(chord: str, notes: str, *, is_part: bool = False) -> str:
    """The chord that is kept, plain form."""
    return symbol(agreed_chord(read_suffix(chord), voicing(notes), is_part=is_part)).plain


@pytest.mark.parametrize(
    ("chord", "notes", "kept"),
    [
        pytest.param("m11", "1 5 b3 | 11 b7 9", "m11", id="complete"),
        pytest.param("m11", "5 b3 | 11 b7 9", "m11", id="without-root"),
        pytest.param("m11", "b3 11 | b7 9", "m11", id="without-root-and-fifth"),
        pytest.param("m11", "b3 b7 | 11", "m11", id="without-the-ninth-below-the-eleventh"),
        pytest.param("13", "1 b7 3 | 13 9 5", "13", id="thirteen"),
        pytest.param("13", "b7 3 | 13", "13", id="thirteen-in-three-notes"),
        pytest.param("13#11", "b7 3 | 13 9 #11", "13#11", id="alteration-named"),
        pytest.param("13#11", "b7 3 | 13 #11", "13#11", id="without-the-ninth"),
        pytest.param("7#9b13", "3 b7 | #9 b13 1", "7#9b13", id="two-alterations"),
        pytest.param("7b9#11b13", "b7 3 | b13 b9 #11", "7b9#11b13", id="three-alterations"),
        pytest.param("7alt", "3 b7 | #9 b13 1", "7alt", id="altered-by-two"),
        pytest.param("7alt", "b7 3 | b13 b9 #11", "7alt", id="altered-by-three"),
        pytest.param("7alt", "3 b7 | #5", "7alt", id="altered-by-one-in-other-words"),
        pytest.param("7b9", "1 3 5 | b9", "7b9", id="a-flat-nine-speaks-for-the-seventh"),
        pytest.param("m7b5", "1 b5 | b7 b3", "m7b5", id="half-diminished"),
        pytest.param("m9b5", "b3 b7 | 9 b5 1", "m9b5", id="half-diminished-with-ninth"),
        pytest.param("dim7", "1 b5 | bb7 b3", "dim7", id="diminished"),
        pytest.param("dim7", "1 b5 | 13 b3", "dim7", id="diminished-in-other-words"),
        pytest.param("13sus4", "b7 9 5 | 1 11 13", "13sus4", id="fourth-called-eleven"),
        pytest.param("7b5", "3 b7 | #11 1", "7b5", id="flat-five-called-sharp-eleven"),
        pytest.param("6/9", "3 6 | 9 5 1", "6/9", id="sixth-and-ninth"),
        pytest.param("6/9", "3 13 | 9 5 1", "6/9", id="sixth-called-thirteen"),
        pytest.param("m6/9", "b3 6 | 9 5 1", "m6/9", id="minor-sixth-and-ninth"),
        pytest.param("m(maj7)", "1 5 | b3 7", "m(maj7)", id="minor-with-major-seventh"),
        pytest.param("maj7#5", "1 #5 | 7 3", "maj7#5", id="sharp-five"),
        pytest.param("5", "1 5 1", "5", id="no-third-in-the-chord"),
        pytest.param("sus2", "1 9 5", "sus2", id="sus-two"),
        pytest.param("add9", "1 5 | 9 3", "(add9)", id="added-ninth"),
        pytest.param("m(add9)", "1 5 | 9 b3", "m(add9)", id="added-ninth-in-minor"),
        pytest.param("7(no3)", "1 5 | b7", "7(no3)", id="third-left-out-by-name"),
        pytest.param("m7", "1 5 b3 | 11 b7 9", "m11", id="goes-on-to-eleven"),
        pytest.param("m7b5", "1 b5 | b7 b3 11", "m11b5", id="goes-on-to-eleven-over-flat-five"),
        pytest.param("7", "b7 3 | 13 9", "13", id="goes-on-to-thirteen"),
        pytest.param("7#11", "b7 3 | 9 #11", "9#11", id="goes-on-to-nine-below-an-alteration"),
        pytest.param("6", "1 3 | 6 9", "6/9", id="goes-on-to-nine-over-a-sixth"),
        pytest.param("7sus4", "b7 9 | 4 13", "13sus4", id="goes-on-in-sus"),
    ],
)
def test_a_chord_that_agrees_is_kept(chord: str, notes: str, kept: str) -> None:
    """Roots, fifths and the steps below the named one may be missing; natural steps beyond it go with it."""
    assert agreed(chord, notes) == kept


@pytest.mark.parametrize(
    ("chord", "notes", "what", "makes"),
    [
        pytest.param("m7", "1 5 | 3 b7", "the notes hold 3", '"7"', id="major-third"),
        pytest.param("7", "1 5 | b3 b7", "the notes hold b3", '"m7"', id="minor-third"),
        pytest.param("maj7", "1 3 5 | b7", "the notes hold b7", '"7"', id="minor-seventh"),
        pytest.param("7", "1 3 5 | 7", "the notes hold 7", '"maj7"', id="major-seventh"),
        pytest.param("m7", "1 b5 | b7 b3", "the notes hold b5", '"m7b5"', id="flat-five"),
        pytest.param(
            "maj13", "5 7 3 | 13 9 #11", "the notes hold #11", '"maj13#11"', id="sharp-eleven-over-major"
        ),
        pytest.param(
            "13", "b7 3 | 13 9 #11", "the notes hold #11", '"13#11"', id="sharp-eleven-over-dominant"
        ),
        pytest.param("maj7", "1 7 | 3 11", "the notes hold 11", '"maj7(add11)"', id="eleven-over-major"),
        pytest.param("m", "1 5 | b3 11", "the notes hold 11", '"m(add11)"', id="eleven-over-a-minor-triad"),
        pytest.param(
            "m7#11", "1 b3 | b7 11 #11", "the notes hold 11", '"m11b5"', id="eleven-by-sharp-eleven"
        ),
        pytest.param("7", "3 b7 | b9", "the notes hold b9", '"7b9"', id="flat-nine"),
        pytest.param("7", "1 b7 | 3 #9", "the notes hold #9", '"7#9"', id="sharp-nine"),
        pytest.param("7", "3 b7 | #9 b13 1", "the notes hold #9 and b13", '"7#9b13"', id="two-alterations"),
        pytest.param("maj", "1 3 5 | 9", "the notes hold 9", '"(add9)"', id="ninth-over-a-triad"),
        pytest.param("maj", "1 3 5 | 6", "the notes hold 6", '"6"', id="sixth-over-a-triad"),
        pytest.param(
            "7#9", "1 5 b3 | b7", "the notes hold b3", '"m7"', id="minor-third-for-a-sharp-nine-alone"
        ),
        pytest.param(
            "7alt", "1 b3 | b5 b7", "the notes hold b3", '"m7b5"', id="half-diminished-is-not-altered"
        ),
        pytest.param("7alt", "1 3 | 5 b7 b9", "the notes hold 5", '"7b9"', id="fifth-in-an-altered-chord"),
        pytest.param("7alt", "1 3 b7", "'7alt' needs an altered tone", '"7"', id="nothing-altered"),
        pytest.param("13#11", "b7 3 | 13 9", "'13#11' needs #11", '"13"', id="no-sharp-eleven"),
        pytest.param("m11", "1 5 b3 | b7 9", "'m11' needs 11", '"m9"', id="no-eleventh"),
        pytest.param("maj9", "1 5 | 7 3", "'maj9' needs 9", '"maj7"', id="no-ninth"),
        pytest.param("m9", "1 5 | b3 9", "'m9' needs b7", '"m(add9)"', id="no-seventh-under-a-ninth"),
        pytest.param("13", "1 3 | 13 9", "'13' needs b7", '"6/9"', id="no-seventh-under-a-thirteenth"),
        pytest.param("7b13", "1 3 | b13", "'7b13' needs b7", '"aug"', id="no-seventh-under-a-flat-thirteen"),
        pytest.param("maj7#9", "1 3 | 5 #9", "'maj7#9' needs 7", '"(add#9)"', id="no-major-seventh"),
        pytest.param("m7b9", "1 b3 | 5 b9", "'m7b9' needs b7", '"m(addb9)"', id="no-seventh-in-minor"),
        pytest.param("9(add11)", "1 b7 | 3 11", "needs 9", '"7(add11)"', id="no-ninth-by-an-added-eleventh"),
        pytest.param("dim7", "1 b5 | b3", "'dim7' needs bb7", '"dim"', id="no-diminished-seventh"),
        pytest.param("m7b5", "1 b7 | b3", "'m7b5' needs b5", '"m7"', id="no-flat-five"),
        pytest.param("6", "1 5 | 3", "'6' needs 6", '"maj"', id="no-sixth"),
        pytest.param("7sus4", "1 5 | b7", "'7sus4' needs 4", '"7(no3)"', id="no-fourth"),
        pytest.param("m11", "1 5 | b7 11", "'m11' needs b3", '"7sus4"', id="no-third"),
        pytest.param("7#9b13", "1 b7 | 5 9", "the notes hold 9, which", '"9(no3)"', id="all-wrong"),
    ],
)
def test_a_chord_that_contradicts_is_refused(chord: str, notes: str, what: str, makes: str) -> None:
    """The message says which tone is in the way or missing, and what chord the notes make."""
    with pytest.raises(DrillsError, match=what) as caught:
        agreed(chord, notes)
    assert makes in caught.value.mend


@pytest.mark.parametrize(
    ("chord", "notes", "mend"),
    [("7#9b13", "3 b7 | b3 b13 1", "write '#9' for 'b3'"), ("m7", "1 5 | #9 b7", "write 'b3' for '#9'")],
)
def test_a_minor_third_and_a_sharp_nine_are_told_apart(chord: str, notes: str, mend: str) -> None:
    """They sound the same and mean another chord, so the right word is asked for."""
    with pytest.raises(DrillsError, match="is called") as caught:
        agreed(chord, notes)
    assert caught.value.mend == mend


@pytest.mark.parametrize("notes", ["b7 3", "13 9 #11", "3 5 1", "9", "1 3 5 b7"])
def test_a_layer_is_a_part_of_its_chord(notes: str) -> None:
    """On its own it need not hold what names the chord."""
    assert agreed("13#11", notes, is_part=True) == "13#11"


def test_a_layer_holds_nothing_foreign_to_its_chord() -> None:
    """A part of a chord is still of that chord."""
    with pytest.raises(DrillsError, match="the notes hold b3"):
        agreed("13#11", "b3 5 1", is_part=True)


def test_both_thirds_are_no_chord() -> None:
    """A minor third above a major one is a sharp nine, and is to be written so."""
    with pytest.raises(DrillsError, match="b3 and 3"):
        chord_of_notes(voicing("3 b7 | b3 b13 1"))


@given(st.lists(st.sampled_from(KNOWN), min_size=3, max_size=6))
def test_the_name_the_program_gives_never_contradicts_the_notes(texts: list[str]) -> None:
    """Whatever the engine calls notes over a root is accepted as their chord, and is kept as it is."""
    notes = voicing(" ".join(texts))
    heights, lowest = notes.heights_semitones, notes.lowest_over_root_semitones
    heard = read_over(heights, lowest)
    spoken = Voicing(heard.degrees, heights, notes.sizes)
    if not heard.symbol.is_chord:
        return
    kept = agreed_chord(read_suffix(heard.symbol.plain), spoken, is_part=False)
    assert symbol(kept).plain == heard.symbol.plain
    assert symbol(chord_of_notes(spoken)).plain == heard.symbol.plain
