"""Every drill asks one clear question and answers it in full; most of it about the rootless 13♯11."""

from __future__ import annotations

import pytest

from drills.cards.card import Face, LayerLine
from drills.cards.kinds import drill, drill_names
from drills.cards.subject import Subject
from drills.cards.words import strings_words

from .conftest import MakeSubject

WHOLE = ("layer", "name", "place", "spell", "split", "join", "spot")
"""Drills about a voicing as it stands."""

MOVING = ("step", "mend", "connect", "cross", "turn", "top", "twin")
"""Drills about what a player does with it (tests/cards/test_moving_kinds.py)."""


@pytest.fixture(scope="module")
def rootless(subject: MakeSubject) -> Subject:
    """The rootless 13♯11 over E♭ on strings 5 to 1."""
    return subject("b7 3 | 13 9 #11", "13#11", "Eb", "x 4 5 5 6 5", nickname="Triad over two")


def faces(name: str, of: Subject) -> tuple[Face, Face]:
    """Question and answer of a drill that applies."""
    made = drill(name)(of)
    assert made is not None
    return made.front, made.back


def test_every_drill_is_found_by_the_name_of_its_file() -> None:
    """The drills are the files of the folder, no more and no fewer."""
    assert sorted(drill_names()) == sorted((*WHOLE, *MOVING, "hear"))  # tests/cards/test_hear.py


@pytest.mark.parametrize(
    ("name", "head", "ask"),
    [
        ("place", "E♭13♯11", "Where does it lie?"),
        ("name", "over E♭", "Which chord, which layers?"),
        ("join", "over E♭", "Which chord? What is each upper note in it?"),
        ("spell", "E♭13♯11", "Which notes, from low to high?"),
        ("spot", "over E♭", "Which degree is missing?"),
        ("layer", "F major triad", "Where does it lie?"),
    ],
)
def test_the_question_names_what_is_known_and_asks_one_thing(
    rootless: Subject, name: str, head: str, ask: str
) -> None:
    """Head and question of each drill."""
    front, _ = faces(name, rootless)
    assert (front.head, front.ask) == (head, ask)


def test_place_says_layers_strings_and_that_the_root_is_silent(rootless: Subject) -> None:
    """Everything that decides which grip is meant stands on the question."""
    front, back = faces("place", rootless)
    assert front.head_note == "no root"
    assert front.layers == (
        LayerLine("upper", "F major triad, close, second inversion"),
        LayerLine("lower", "♭7 and 3"),
    )
    assert front.lines == ("strings 5 to 1",)
    assert front.picture is None
    assert back.lines[:3] == (
        "D♭ G | C F A",
        "frets x 4 5 5 6 5 · fingers – 1 2 2 4 3",
        "stretch 56 mm",
    )
    assert back.head_note == "Triad over two · no root"


def test_every_answer_shows_the_whole_neck_with_its_degrees(rootless: Subject) -> None:
    """All drills end on the same picture, but `layer` on its layer, called by its own root."""
    for name in WHOLE:
        picture = faces(name, rootless)[1].picture
        assert picture is not None
        expected = ["5", "1", "3"] if name == "layer" else ["♭7", "3", "13", "9", "♯11"]
        assert [marker.text for marker in picture.markers] == expected


def test_name_hides_every_degree(rootless: Subject) -> None:
    """The neck of a question tells layers and places, and nothing else."""
    picture = faces("name", rootless)[0].picture
    assert picture is not None
    assert {marker.text for marker in picture.markers} == {""}
    assert [marker.layer for marker in picture.markers] == [0, 0, 1, 1, 1]


def test_name_counts_other_readings(rootless: Subject) -> None:
    """The answer lists what the same notes are called over other roots (A7♯9♭13 a tritone away)."""
    assert "A7♯9♭13" in faces("name", rootless)[1].lines[0]


def test_spot_leaves_one_marker_empty_and_answers_it(rootless: Subject) -> None:
    """The asked marker bears no text, and the answer's first line is its degree and note."""
    front, back = faces("spot", rootless)
    assert front.picture is not None
    (asked,) = [place for place, marker in enumerate(front.picture.markers) if marker.is_asked]
    assert front.picture.markers[asked].text == ""
    degree = rootless.voicing.degrees[asked].shown
    note = rootless.sounding.names[asked].shown
    assert back.lines[0] == f"{degree}, {note}"


def test_join_says_what_each_upper_note_is(rootless: Subject) -> None:
    """C is 13, F is 9, A is ♯11 over E♭."""
    assert faces("join", rootless)[1].lines[0] == "C is 13, F is 9, A is ♯11"


@pytest.mark.parametrize(
    ("key", "shown", "ask"),
    [
        ("C", "♭7 3 · tritone", "Which close triad lies on top, from the 13 up?"),
        (
            "F",
            "G major triad, close, second inversion · 13 9 ♯11",
            "Which two notes lie below, from the ♭7 up?",
        ),
    ],
)
def test_split_goes_round_with_the_keys(subject: MakeSubject, key: str, shown: str, ask: str) -> None:
    """One key asks for the upper layer, the next for the lower."""
    front, back = faces("split", subject("b7 3 | 13 9 #11", "13#11", key))
    assert [line.text for line in front.layers] == [shown]
    assert front.ask == ask
    assert back.lines[0].startswith(("on top: ", "below: "))


def test_layer_asks_for_one_layer_in_its_region(rootless: Subject) -> None:
    """Name, form, strings and region are said; the answer shows that layer alone."""
    front, back = faces("layer", rootless)
    assert front.layers == (LayerLine("upper", "close, second inversion"),)
    assert front.lines == ("strings 3 to 1, around fret 6",)
    assert back.layers == (LayerLine("upper", "close, second inversion · 5 1 3"),)
    assert back.lines == (
        "C F A",
        "frets x x x 5 6 5 · fingers – – – 2 4 3",
        "13 9 ♯11 of E♭13♯11, on top",
    )


def test_a_bare_layer_is_called_by_its_own_name(subject: MakeSubject) -> None:
    """Without a chord the layer is the head, and split and join do not apply."""
    bare = subject("3 5 1", None, "A", "x x x 6 5 5")
    front, back = faces("place", bare)
    assert front.head == back.head == "A major triad"
    assert front.layers == (LayerLine("single", "close, first inversion"),)
    assert back.layers == (LayerLine("single", "close, first inversion · 3 5 1"),)
    assert drill("split")(bare) is None
    assert drill("join")(bare) is None
    front, back = faces("name", bare)
    assert front.ask == "Which layer, which inversion?"
    assert not any("also heard" in line for line in back.lines)


@pytest.mark.parametrize(("key", "root"), [("Eb", "E♭"), ("F#", "F♯")])
def test_a_bare_interval_is_called_by_its_degrees_over_a_root(
    subject: MakeSubject, key: str, root: str
) -> None:
    """Two notes have no root of their own: without the key "3 and ♭7" would be asked alike in all twelve."""
    bare = subject("3 b7", None, key)
    front, back = faces("place", bare)
    assert front.head == back.head == f"3 and ♭7 over {root}"
    assert front.layers == ()
    assert [line.text for line in back.layers] == ["3 ♭7"]
    assert faces("name", bare)[0].ask == "Which degrees, from low to high?"


def test_one_string_is_told_by_its_number(subject: MakeSubject) -> None:
    """A range needs two strings, a list more."""
    of = subject("b7 3 | 13 9 #11", "13#11", "Eb", "x 4 5 5 6 5")
    assert strings_words(of, (5,)) == "string 1"
    assert strings_words(of, (0, 2, 3)) == "strings 6 4 3"


def test_a_layer_of_two_notes_is_too_small_to_ask_alone(subject: MakeSubject) -> None:
    """Four notes in two pairs make no layer card."""
    assert drill("layer")(subject("b3 b7 | 9 5", "m9", "D")) is None


def test_a_long_reach_is_answered_with_a_caution(subject: MakeSubject) -> None:
    """Above 97 mm the answer says to warm up and to stop when it hurts."""
    long = subject("5 b3 | 11 b7 9", "m11", "Eb", "x 1 4 1 2 1")
    assert long.grip.is_long_reach
    assert any("stop if it hurts" in line for line in faces("place", long)[1].lines)


def test_a_layer_set_higher_and_a_wide_pair_are_said(subject: MakeSubject) -> None:
    """An octave between the layers, or inside a pair, stands on the question."""
    front, _ = faces("place", subject("1 | 3' 7", "maj7", "C"))
    assert [line.text for line in front.layers] == ["3 and 7, set an octave higher", "1"]
    front, _ = faces("place", subject("1 3' | 7", "maj7", "C"))
    assert front.layers[-1].text == "1 and 3, major tenth"


def test_a_single_note_layer_is_asked_as_one_note(subject: MakeSubject) -> None:
    """Split asks for a single note where the hidden layer is one."""
    front, _ = faces("split", subject("1 | 3 5 7", "maj7", "F"))
    assert front.ask == "Which single note lies below?"


def test_a_layer_on_open_strings_says_so(subject: MakeSubject) -> None:
    """The region of a layer without a fretted note is the open strings."""
    front, _ = faces("layer", subject("5 1 3", None, "G", "x x 0 0 0 x"))
    assert front.lines == ("strings 4 to 2, on open strings",)


def test_other_grips_on_the_same_strings_are_told(subject: MakeSubject) -> None:
    """An octave higher on the same strings counts as well, and the answer says so."""
    high = subject("b7 3 | 13 9 #11", "13#11", "Eb", "x 16 17 17 18 17").grip
    low = subject("b7 3 | 13 9 #11", "13#11", "Eb", "x 4 5 5 6 5", others=(high,))
    assert faces("place", low)[1].lines[2] == "stretch 56 mm · also x 16 17 17 18 17"
