"""What is right and what is off in an answer, in a small JavaScript engine.

Outside facts: music21's pitch arithmetic says which spellings and which frets sound alike.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeAlias

import pytest
from music21.pitch import Pitch

from drills.cards.card import Deck

from .answers_deck import (
    CARD,
    CHORD,
    DECK,
    GRIP,
    HEAR,
    JOIN,
    LAYER,
    LAYER_GIVEN,
    NAME,
    NAME_GIVEN,
    NECK,
    NOTES,
    OPEN_MIDI,
    PITCHES,
    SPLIT,
    SPOT,
    TWELFTH,
    place,
    spelled,
)
from .decoded import decoded
from .engine import Functions

Check: TypeAlias = Callable[..., Any]
NO = None


@pytest.fixture(scope="module")
def check(checkout: Path) -> Check:
    """Checks an answer on the card of the small deck: `check(task, given)`, or on another card."""
    functions = Functions(checkout / "drills/page", "checks/check.js", "check")
    return lambda task, given, card=CARD: functions.call("check", task, given, card, DECK)


def kinds(result: Any) -> list[str]:
    """The kinds of what was found."""
    return [finding["kind"] for finding in result["findings"]]


def right_answer(task: dict[str, Any]) -> Any:
    """What answers a task as the card itself does."""
    match task["kind"]:
        case "neck":
            return task["accepts"][0]
        case "notes":
            by_text = {note["text"]: note for row in DECK["pads"]["notes"] for note in row}
            # Double signs have no key: any other spelling.
            return [
                by_text.get(name, {"text": "?", "pitchClass": midi % 12})
                for name, midi in zip(task["names"], task["midi"], strict=True)
            ]
        case "degrees":
            return [each["semitones"] for each in task["asked"]]
        case "choice":
            return task["right"]
    chord = task["readings"][0] if task["readings"] else {"root": None, "quality": None, "needs": []}
    names = ("root", "structure", "inversion")
    return {
        "root": chord["root"],
        "quality": chord["quality"],
        "tensions": chord["needs"],
        "layers": [{name: layer[name] for name in names} for layer in task["layers"]],
        "degrees": [each["semitones"] for each in task["degrees"]],
    }


@pytest.mark.parametrize("name", ["weeks-01-02-one-layer", "weeks-03-05-third-and-seventh-below"])
def test_what_a_card_tells_is_a_right_answer_to_it(
    checkout: Path, shelf_deck: Callable[[str], Deck], name: str
) -> None:
    """Every card of two decks of the shelf."""
    deck = decoded(shelf_deck(name))
    functions = Functions(checkout / "drills/page", "checks/check.js", "check")
    whole = {key: deck[key] for key in ("instrument", "pads")}
    for card in deck["cards"]:
        if card["task"] is not None:
            result = functions.call("check", card["task"], right_answer(card["task"]), card, whole)
            assert result["isRight"], (card["drill"], card["task"], result)


# --- neck ----------------------------------------------------------------------------------------


def test_any_accepted_grip_is_right(check: Check) -> None:
    """The shown grip needs no word; another accepted one is right too, and so said."""
    assert check(NECK, GRIP) == {"isRight": True, "findings": []}
    assert check(NECK, TWELFTH) == {"isRight": True, "findings": [{"kind": "grip"}]}


def test_a_wrong_fret_tells_what_was_heard_and_how_far_off_it_is(check: Check) -> None:
    """F♯ for F on the B string lies one fret too high."""
    result = check(NECK, [NO, 4, 5, 5, 7, 5])
    assert result["isRight"] is False
    assert result["findings"] == [
        {"kind": "fret", "string": 4, "given": 7, "wanted": 6, "byFrets": 1, "heard": 6, "asked": 5}
    ]


def test_the_nearest_accepted_grip_is_the_one_compared_with(check: Check) -> None:
    """A slip up the neck is one slip there, not five here; that another grip is shown is said last."""
    result = check(NECK, [NO, 16, 17, 17, 17, 17])
    assert kinds(result) == ["fret", "grip"]
    assert result["findings"][0]["byFrets"] == -1


def test_a_shape_is_shifted_from_the_nearest_accepted_grip(check: Check) -> None:
    """One fret below the octave is one fret too low, not eleven too high; the shown grip is another."""
    result = check(NECK, [None if fret is None else fret - 1 for fret in TWELFTH])
    assert (result["findings"][0]["kind"], result["findings"][0]["bySemitones"]) == ("shifted", -1)
    assert kinds(result)[-1] == "grip"


def test_a_note_left_out_and_a_note_too_many_are_told(check: Check) -> None:
    """Missing notes come before those that do not belong."""
    result = check(NECK, [5, 4, 5, 5, 6, NO])
    assert result["findings"] == [
        {"kind": "missing", "string": 5, "wanted": 5, "asked": 9},
        {"kind": "extra", "string": 0, "given": 5, "heard": 9},
    ]


def test_a_right_note_on_another_string_is_one_slip(check: Check) -> None:
    """The A of the high E string sounds the same on the B string, where F is missing then."""
    result = check(NECK, [NO, 4, 5, 5, 10, NO])
    assert kinds(result) == ["string", "missing"]
    assert result["findings"][0] | {"wantedString": 5, "wanted": 5, "heard": 9} == result["findings"][0]


@pytest.mark.parametrize(
    ("given", "octaves"),
    [
        ([4 + 5, 5 + 5, 5 + 5, 6 + 4, 5 + 5, NO], 0),  # one string set lower, the same pitches
        ([NO, NO, NO, NO, NO, NO], None),
    ],
)
def test_the_same_pitches_on_other_strings_are_elsewhere(
    check: Check, given: list[int | None], octaves: int | None
) -> None:
    """Right notes where they were not asked are not the asked grip, but no slip of memory either."""
    result = check(NECK, given)
    assert result["isRight"] is False
    assert result.get("isElsewhere", False) is (octaves is not None)
    if octaves is not None:
        assert result["findings"][0] == {"kind": "elsewhere", "octaves": 0, "strings": [1, 2, 3, 4, 5]}


def test_an_octave_away_is_elsewhere_for_pitches_too(check: Check) -> None:
    """By pitches, the same intervals twelve frets up are told as an octave too high."""
    result = check(PITCHES, TWELFTH)
    assert (result["isRight"], result["isElsewhere"]) == (False, True)
    assert result["findings"][0]["octaves"] == 1


def test_an_octave_away_on_the_asked_strings_names_no_strings(check: Check) -> None:
    """Those were right."""
    result = check(NECK | {"accepts": [GRIP]}, TWELFTH)
    assert result["isElsewhere"] is True
    assert result["findings"][0] == {"kind": "elsewhere", "octaves": 1, "strings": []}


def test_the_grip_of_the_question_is_no_answer_to_it(check: Check) -> None:
    """The drill cross: what the question shows is copied, nothing is remembered; any other place is."""
    shown = [9, 10, 10, 10, 10, NO]
    markers = [{"string": string, "fret": fret} for string, fret in enumerate(shown) if fret is not None]

    def is_elsewhere(markers: list[dict[str, int]]) -> bool:
        card = CARD | {"front": {"picture": {"markers": markers}}}
        found: bool = check(NECK, shown, card)["isElsewhere"]
        return found

    assert not is_elsewhere(markers)
    assert is_elsewhere(markers[1:])
    assert is_elsewhere([*markers[1:], markers[0] | {"fret": 8}])


def test_another_inversion_is_the_right_notes_in_another_order(check: Check) -> None:
    """Told first, with what was asked from low to high."""
    result = check(NECK, [NO, 10, 10, 10, 10, 9])
    assert result["isRight"] is False
    assert "isElsewhere" not in result
    assert result["findings"][0] == {"kind": "order", "asked": [1, 7, 0, 5, 9]}
    assert "order" not in kinds(result)[1:]
    assert len(result["findings"]) > 1


def test_the_right_notes_and_one_more_are_not_in_another_order(check: Check) -> None:
    """Each pitch class as often as it was asked, or it is no matter of order."""
    assert "order" not in kinds(check(NECK, [3, 10, 10, 10, 10, 9]))


def test_by_pitches_any_place_of_the_same_sound_is_right(check: Check) -> None:
    """What sounds is asked, not where it lies."""
    moved = [9, 10, 10, 10, 10, NO]
    result = check(PITCHES, moved)
    assert result == {"isRight": True, "findings": [{"kind": "grip"}]}


def test_by_pitches_a_right_note_elsewhere_is_no_slip(check: Check) -> None:
    """Only the wrong one of two moved notes is told, with where it belongs."""
    # A stands on the B string, where F should be; F lies on the high E string, a half step too high.
    result = check(PITCHES, [NO, 4, 5, 5, 10, 2])
    assert result["findings"] == [
        {
            "kind": "pitch",
            "string": 5,
            "given": 2,
            "wantedString": 4,
            "wanted": 6,
            "heard": 6,
            "bySemitones": 1,
            "asked": 5,
        }
    ]


def test_a_shape_at_the_wrong_place_is_one_slip(check: Check) -> None:
    """All notes too low by one fret: told as a shift, before the notes one by one."""
    result = check(NECK, [None if fret is None else fret - 1 for fret in GRIP])
    assert result["findings"][0] == {
        "kind": "shifted",
        "bySemitones": -1,
        "isSameStrings": True,
        "string": 1,
        "asked": 1,
    }
    assert kinds(result).count("fret") == 5
    assert "isElsewhere" not in result
    one_note = NECK | {"accepts": [[NO, 4, NO, NO, NO, NO]]}
    assert kinds(check(one_note, [NO, 3, NO, NO, NO, NO])) == ["fret"]


@pytest.mark.parametrize("string", range(1, 6))
@pytest.mark.parametrize("fret", range(0, 21, 3))
def test_a_wrong_note_is_heard_as_music21_hears_it(check: Check, string: int, fret: int) -> None:
    """Any fret of any string gives the pitch class that music21 gives its pitch (outside check)."""
    given = [*GRIP[:string], fret, *GRIP[string + 1 :]]
    if fret == GRIP[string]:
        assert check(NECK, given)["isRight"]
        return
    found = check(NECK, given)["findings"][0]
    heard, asked = (Pitch(midi=OPEN_MIDI[string]).transpose(each) for each in (fret, GRIP[string] or 0))
    assert (found["heard"], found["asked"]) == (heard.pitchClass, asked.pitchClass)
    assert found["byFrets"] == heard.midi - asked.midi


# --- notes ---------------------------------------------------------------------------------------


def test_every_spelling_that_music21_hears_alike_counts(check: Check) -> None:
    """Each of the 21 names in each place is right just when the pitch classes agree (outside check)."""
    own = spelled("D♭ G C F A")

    def heard(text: str) -> int:
        return Pitch(text.replace("♭", "-").replace("♯", "#")).pitchClass  # music21 writes a flat as -

    for at, wanted in enumerate(NOTES["names"]):
        for row in DECK["pads"]["notes"]:
            for note in row:
                given = [*own[:at], note, *own[at + 1 :]]
                is_alike = heard(note["text"]) == heard(wanted)
                assert check(NOTES, given)["isRight"] is is_alike, (note, wanted)


def test_another_spelling_is_right_and_told(check: Check) -> None:
    """C♯ for D♭ sounds the same; each pair is told once."""
    result = check(NOTES, spelled("C♯ G B♯ F A"))
    pairs = [{"given": "C♯", "asked": "D♭"}, {"given": "B♯", "asked": "C"}]
    assert result == {"isRight": True, "findings": [{"kind": "spelled", "pairs": pairs}]}


def test_a_wrong_note_tells_its_place_and_both_pitch_classes(check: Check) -> None:
    """The fourth from below."""
    result = check(NOTES, spelled("D♭ G C F♯ A"))
    assert result["findings"] == [{"kind": "note", "place": 3, "given": "F♯", "heard": 6, "asked": 5}]


def test_the_right_notes_in_another_order_are_wrong_and_so_told(check: Check) -> None:
    """Low to high was asked."""
    result = check(NOTES, spelled("G D♭ C F A"))
    assert result["isRight"] is False
    assert kinds(result) == ["order", "note", "note"]
    assert result["findings"][0]["asked"] == [1, 7, 0, 5, 9]


# --- degrees -------------------------------------------------------------------------------------


def test_a_degree_counts_by_its_height(check: Check) -> None:
    """The key of ♭5 and ♯11 is right, and what it is called here is told."""
    assert check(SPOT, [6]) == {
        "isRight": True,
        "findings": [{"kind": "called", "text": "♯11", "others": ["♭5"]}],
    }
    assert check(SPOT, [7])["findings"] == [{"kind": "degree", "heard": 10, "asked": 9, "text": "♯11"}]


def test_degrees_are_asked_low_to_high(check: Check) -> None:
    """The right two the wrong way round are told as such; one off is told alone."""
    assert check(SPLIT, [10, 4]) == {"isRight": True, "findings": []}
    assert check(SPLIT, [4, 10])["findings"] == [{"kind": "order", "asked": [1, 7]}]
    assert kinds(check(SPLIT, [10, 3])) == ["degree"]


# --- parts ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("more", [[], ["9"]])
def test_a_chord_is_right_with_what_it_needs_and_with_what_it_allows(check: Check, more: list[str]) -> None:
    """The 9 below a 13 may be said or left unsaid."""
    tensions = [*CHORD["needs"], *(place("tensions", text) for text in more)]
    assert check(NAME, NAME_GIVEN | {"tensions": tensions}) == {"isRight": True, "findings": []}


def test_any_reading_counts_and_the_cards_own_is_told(check: Check) -> None:
    """The tritone partner is the same notes."""
    other = {"root": 9, "tensions": [place("tensions", "♯9"), place("tensions", "♭13")]}
    result = check(NAME, NAME_GIVEN | other)
    assert result["isRight"] is True
    assert result["findings"] == [{"kind": "reading", "given": "A7♯9♭13", "asked": "E♭13♯11"}]


@pytest.mark.parametrize(
    ("given", "found"),
    [
        ({"root": 2}, {"root": {"given": 2, "asked": 3}}),
        ({"quality": place("qualities", "m7")}, {"quality": {"given": 2, "asked": 1}}),
        ({"tensions": [place("tensions", "13")]}, {"missing": [place("tensions", "♯11")]}),
        (
            {"tensions": [*CHORD["needs"], place("tensions", "♭9")]},
            {"extra": [place("tensions", "♭9")]},
        ),
    ],
)
def test_each_part_of_a_chord_that_is_off_is_told(
    check: Check, given: dict[str, Any], found: dict[str, Any]
) -> None:
    """Root, quality, a tension missing, a tension too many; nothing else is blamed."""
    nothing: dict[str, Any] = {
        "kind": "chord",
        "text": "E♭13♯11",
        "root": None,
        "quality": None,
        "missing": [],
        "extra": [],
    }
    assert check(NAME, NAME_GIVEN | given) == {"isRight": False, "findings": [nothing | found]}


def test_nobody_is_sent_to_another_root(check: Check) -> None:
    """A near miss of the tritone partner's name is told as the card's own chord."""
    result = check(NAME, NAME_GIVEN | {"root": 9, "tensions": [place("tensions", "♯9")]})
    assert result["findings"][0]["text"] == "E♭13♯11"
    assert result["findings"][0]["root"] == {"given": 9, "asked": 3}


@pytest.mark.parametrize(
    "part",
    [{"root": 0}, {"structure": place("structures", "minor triad")}, {"inversion": 1}, {"inversion": None}],
)
def test_each_part_of_a_layer_that_is_off_is_told(check: Check, part: dict[str, Any]) -> None:
    """Root, structure and inversion, with what was given and asked."""
    result = check(NAME, NAME_GIVEN | {"layers": [LAYER_GIVEN | part]})
    ((name, given),) = part.items()
    nothing = {"kind": "layer", "role": "upper", "text": LAYER["text"]}
    off: dict[str, Any] = {
        "root": None,
        "structure": None,
        "inversion": None,
        name: {"given": given, "asked": LAYER[name]},
    }
    assert result == {"isRight": False, "findings": [nothing | off]}


def test_a_layer_without_one_root_takes_each_of_its_roots(check: Check) -> None:
    """An augmented triad divides the octave evenly: any of its notes may be its root."""
    even = LAYER | {"root": 5, "otherRoots": [9, 1], "inversion": None}
    task = NAME | {"layers": [even]}
    given = LAYER_GIVEN | {"inversion": None}
    for root in range(12):
        result = check(task, NAME_GIVEN | {"layers": [given | {"root": root}]})
        assert result["isRight"] is (root in (5, 9, 1))


def test_what_each_upper_note_is_counts_by_its_height(check: Check) -> None:
    """A wrong degree of the drill join is told as a degree of the chord."""
    right = NAME_GIVEN | {"layers": [], "degrees": [9, 2]}
    assert check(JOIN, right)["isRight"]
    result = check(JOIN, right | {"degrees": [8, None]})
    assert result["findings"] == [
        {"kind": "degree", "heard": 11, "asked": 0, "text": "13"},
        {"kind": "degree", "heard": None, "asked": 5, "text": "9"},
    ]


def test_a_layer_alone_can_be_asked(check: Check) -> None:
    """The drill split asks for no chord."""
    given = {"root": None, "quality": None, "tensions": [], "layers": [LAYER_GIVEN], "degrees": []}
    assert check(NAME | {"readings": []}, given) == {"isRight": True, "findings": []}


# --- choice --------------------------------------------------------------------------------------


def test_a_choice_is_right_or_tells_both(check: Check) -> None:
    """What was chosen, what it was."""
    assert check(HEAR, 1) == {"isRight": True, "findings": []}
    off = {"kind": "choice", "given": HEAR["options"][0], "asked": HEAR["options"][1]}
    assert check(HEAR, 0) == {"isRight": False, "findings": [off]}
