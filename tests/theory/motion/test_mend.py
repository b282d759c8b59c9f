"""Mending: the table of clashes row by row, and the laws that nothing is left and nothing is done twice."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import TypeAlias

import pytest
from hypothesis import assume, given, reject
from hypothesis import strategies as st

from drills.errors import DrillsError
from drills.theory.degree import KNOWN
from drills.theory.motion.mend import mend
from drills.theory.naming import Named, name_notes
from drills.theory.pitch import NoteName, read_note_name
from drills.theory.text import read_voicing
from drills.theory.voicing import DEFAULT_SIZES

Read: TypeAlias = Callable[..., Named]

HANDBOOK = Path(__file__).parents[2] / "handbook"


def degrees(named: Named) -> str:
    """Its degrees in layers, plain form."""
    return named.sounding.voicing.text


@pytest.mark.parametrize(
    ("text", "mended", "words"),
    [
        # Nettles and Graf, The Chord Scale Theory and Jazz Harmony (1997), from memory: the avoid note 11.
        pytest.param(
            "1 5 3 | 7 9 11", "1 5 3 | 7 9 #11", "G → G♯: natural 11 clashes with the third", id="11"
        ),
        # The others are common practice, no source.
        pytest.param(
            "1 #9 | 3' b7", "1 3 | #9 b7", "E♯ and F♯ change places: ♯9 belongs above the third", id="#9"
        ),
        pytest.param(
            "b7 #9 | 3 13", "b7 3 | 13 #9", "E♯ an octave up: ♯9 belongs above the third", id="#9 next to 3"
        ),
        pytest.param(
            "7 3 | 5 1'",
            "7 3 | 5 13'",
            "D → B: the root rubs a minor ninth above the seventh",
            id="1 above 7",
        ),
        pytest.param(
            "1 b7 3 | b13 1 5", "1 b7 3 | b13 1", "A left out: the fifth clashes with ♭13", id="b13 with 5"
        ),
        pytest.param(
            "1 5 b3 | b7 b9 11", "1 5 b3 | b7 9 11", "E♭ → E: ♭9 belongs to dominants", id="b9 in minor"
        ),
        pytest.param(
            "1 3 #11 | 7 5",
            "1 3 5 | 7 #11",
            "G♯ and A change places: ♯11 belongs above the fifth",
            id="#11 below 5",
        ),
    ],
)
def test_every_clash_has_its_mend(read: Read, text: str, mended: str, words: str) -> None:
    """The note that changes, what it becomes, and why, over D."""
    moved = mend(read(text, "D"))
    assert degrees(moved.named) == mended
    assert moved.words == words
    assert moved.move == "mended"


@pytest.mark.parametrize("seventh", ["7", "b7"])
def test_the_handbooks_repair_is_made(read: Read, seventh: str) -> None:
    """Over Cmaj7 and C7 the 11 above the third becomes what the handbook says (source in the row)."""
    (row,) = json.loads((HANDBOOK / "avoid_note_repair.json").read_text(encoding="utf-8"))["rows"]
    repaired = mend(read(f"1 3 5 {seventh} 11", "C")).named
    assert repaired.reading.degrees[-1].plain == row["expect"]["repair"]
    assert repaired.sounding.midi[-1] - repaired.sounding.midi[1] == 14  # the row's M9


def test_what_changed_is_told_as_pairs(read: Read) -> None:
    """Only the changed note is told, before and after; a note left out has nothing after."""
    raised = mend(read("C3 G3 E4 | B4 D5 F5"))
    assert [(old and old.plain, new and new.plain) for old, new in raised.changed] == [("F5", "F#5")]
    left_out = mend(read("1 b7 3 | b13 1 5", "C"))
    assert [(old and old.plain, new) for old, new in left_out.changed] == [("G5", None)]


@pytest.mark.parametrize("text", ["1 5 3 | 7 9 #11", "1 b7 3 | b9 b13", "1 4 b7 | 9 3"])
def test_nothing_to_mend_changes_nothing(read: Read, text: str) -> None:
    """A sound voicing is handed back; ♭9 in a dominant and 3 above the 4 of a sus chord are no clashes."""
    start = read(text, "C")
    moved = mend(start)
    assert moved.named is start
    assert (moved.changed, moved.move, moved.words) == ((), "nothing to mend", "nothing to mend")


def test_several_clashes_are_mended_in_turn(read: Read) -> None:
    """11 over 3 and a sounding 5 under ♭13: each is told."""
    moved = mend(read("1 5 3 | b7 11 b13", "C"))
    assert degrees(moved.named) == "1 3' | b7 #11 b13"
    assert moved.words == "F → F♯: natural 11 clashes with the third; G left out: the fifth clashes with ♭13"


def test_notes_that_meet_become_one(read: Read) -> None:
    """A ♭9 raised to a 9 that is there already is left out."""
    moved = mend(read("1 b3 5 | b7 b9 9", "C"))
    assert degrees(moved.named) == "1 b3 5 | b7 9"
    assert [new for _, new in moved.changed] == [None]


def test_a_typed_word_is_mended_as_it_is_meant(read: Read) -> None:
    """A ♭3 typed beside a 3 is a ♯9, and a ♯5 beside a 5 a ♭13."""
    assert degrees(mend(read("1 b3 3' b7", "C")).named) == "1 3 | #9 b7"
    assert degrees(mend(read("1 5 3 | b7 #5", "C")).named) == "1 3' | b7 b13"


@st.composite
def voicings(draw: st.DrawFn) -> Named:
    """Any notes over any root, or any degrees as a player might type them."""
    root = NoteName(draw(st.integers(0, 6)))
    if draw(st.booleans()):
        midi = tuple(sorted(draw(st.sets(st.integers(40, 84), min_size=1, max_size=8))))
        return name_notes(midi, DEFAULT_SIZES[len(midi)], root=draw(st.sampled_from([root, None])))
    words = draw(st.lists(st.sampled_from(KNOWN), min_size=1, max_size=8))
    lifts = [draw(st.sampled_from(["", "", "'"])) for _ in words]
    try:
        written = read_voicing(" ".join(map("".join, zip(words, lifts, strict=True))), root=root)
    except DrillsError:  # higher than MIDI goes
        reject()
    return name_notes(written.midi, written.sizes, root=root, degrees=written.degrees)


@given(voicings())
def test_no_clash_is_left_and_mending_again_does_nothing(start: Named) -> None:
    """Mended is mended, over the same root and with no more notes."""
    assume(start.sounding.midi[-1] < 100)  # an exchange lifts a note by an octave
    moved = mend(start)
    assert moved.named.reading.clashes == ()
    assert mend(moved.named).named is moved.named
    assert moved.named.root == start.root
    assert len(moved.named.sounding.midi) <= len(start.sounding.midi)
    stayed = set(start.sounding.midi) & set(moved.named.sounding.midi)
    told = {pitch.midi for pair in moved.changed for pitch in pair if pitch is not None}
    assert stayed | told == set(start.sounding.midi) | set(moved.named.sounding.midi)


def test_a_root_spelled_flat_is_kept(read: Read) -> None:
    """The mend is spelled degree-true from the root as it was given."""
    moved = mend(name_notes(read("1 5 3 | 7 9 11", "Gb").sounding.midi, (3, 3), root=read_note_name("Gb")))
    assert moved.words == "C♭ → C: natural 11 clashes with the third"
