"""What the page says of an answer, in a small JavaScript engine."""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeAlias

import pytest

from drills.cards.card import Deck

from .answers_deck import (
    CARD,
    DECK,
    GRIP,
    HEAR,
    JOIN,
    LAYER_GIVEN,
    NAME,
    NAME_GIVEN,
    NECK,
    NOTES,
    PITCHES,
    SPLIT,
    SPOT,
    TWELFTH,
    place,
    spelled,
)
from .decoded import decoded
from .engine import Functions

Told: TypeAlias = Callable[..., list[str]]
NO = None


@pytest.fixture(scope="module")
def told(checkout: Path) -> Told:
    """What is said of an answer: `told(task, given)`, or with `names="plain"`."""
    check = Functions(checkout / "drills/page", "checks/check.js", "check")
    findings = Functions(checkout / "drills/page", "checks/findings.js", "explain")

    def tell(task: Any, given: Any, card: Any = CARD, deck: Any = DECK, names: str = "true") -> list[str]:
        result = check.call("check", task, given, card, deck)
        sentences: list[str] = findings.call("explain", result, card, deck, {"names": names})
        return sentences

    return tell


def test_one_wrong_note_is_told_as_in_the_study(told: Told) -> None:
    """The count, what was heard and its degree, the right note and the way to it."""
    assert told(NECK, [NO, 4, 5, 5, 7, 5]) == [
        "One note off.",
        "On the B string you had F♯, the ♯9.",
        "The 9 is F, one fret down.",
    ]


def test_plain_names_are_used_where_they_are_set(told: Told) -> None:
    """F♭ over E♭ is E then."""
    assert told(NECK, [NO, 4, 5, 5, 5, 5])[1] == "On the B string you had F♭, the ♭9."
    assert told(NECK, [NO, 4, 5, 5, 5, 5], names="plain")[1] == "On the B string you had E, the ♭9."


def test_of_many_slips_three_are_told(told: Told) -> None:
    """The count is of all."""
    assert told(NECK, [NO, 5, 7, 3, 7, 6]) == [
        "Five notes off.",
        "On the A string the ♭7 is D♭, one fret down.",
        "On the D string the 3 is G, two frets down.",
        "On the G string the 13 is C, two frets up.",
    ]


def test_strings_of_one_name_are_told_apart(told: Told) -> None:
    """Low E, high E; three strings of one name by their numbers."""
    assert told(NECK, [5, 4, 5, 5, 6, NO]) == [
        "One note off.",
        "The high E string was left out: A, the ♯11.",
        "The low E string stays silent; you had A, the ♯11.",
    ]
    open_tuning = DECK | {"instrument": DECK["instrument"] | {"names": list("DADGAD")}}
    assert told(NECK, [NO, 4, 5, 5, 6, NO], deck=open_tuning)[1] == "String 1 was left out: A, the ♯11."


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ([NO, 4, 5, NO, NO, 5], "Two notes off."),
        ([3, 4, 5, 5, 6, 5], "One note off."),
        ([3, 4, 5, NO, NO, 5], "Two notes off."),
        ([NO, 5, 6, 5, 6, 5], "Two notes off."),
    ],
)
def test_no_more_notes_are_off_than_were_asked_or_given(told: Told, given: Any, said: str) -> None:
    """A note left out and one too many are one note, played elsewhere."""
    assert told(NECK, given)[0] == said


@pytest.mark.parametrize(
    ("task", "given", "sentences"),
    [
        (NECK, GRIP, ["Right."]),
        (NECK, TWELFTH, ["Right.", "Another good grip of it is shown here."]),
        (
            NECK,
            [9, 10, 10, 10, 10, NO],
            ["The right notes, in another place.", "They were asked on strings 5 to 1."],
        ),
        (
            NECK,
            [NO, 16, 17, 17, 17, 17],
            [
                "One note off.",
                "On the B string you had F♭, the ♭9.",
                "The 9 is F, one fret up.",
                "Another good grip of it is shown here.",
            ],
        ),
        (
            PITCHES,
            TWELFTH,
            ["The right notes, an octave too high.", "This card asks for the octave shown here."],
        ),
        (
            NECK | {"accepts": [GRIP]},
            TWELFTH,
            ["The right notes, an octave too high.", "This card asks for the octave shown here."],
        ),
        (
            NECK,
            [NO, 10, 10, 10, 10, 9],
            ["The right notes, in another order.", "From low to high: ♭7 3 13 9 ♯11."],
        ),
        (
            NECK,
            [NO, 3, 4, 4, 5, 4],
            ["The right shape, one fret too low.", "Its lowest note is D♭, the ♭7, on the A string."],
        ),
        (
            NECK,
            [NO, 15, 16, 16, 17, 16],
            [
                "The right shape, one fret too low.",
                "Its lowest note is D♭, the ♭7, on the A string.",
                "Another good grip of it is shown here.",
            ],
        ),
        (
            NECK,
            [NO, 4, 5, 5, 10, NO],
            [
                "Two notes off.",
                "A, the ♯11, belongs on the high E string, not on the B string.",
                "The B string was left out: F, the 9.",
            ],
        ),
        (
            NECK,
            [NO, 4, 5, 5, 18, 5],
            ["One note off.", "On the B string F is right, but an octave too high."],
        ),
        (
            PITCHES,
            [NO, 4, 5, 5, 10, 2],
            ["One note off.", "On the high E string you had F♯, the ♯9; it is F, the 9, one half step down."],
        ),
        (
            PITCHES,
            [1, 4, 5, 5, 6, NO],
            ["One note off.", "On the low E string you had F, the 9; it is A, the ♯11, 28 half steps up."],
        ),
        (
            NOTES,
            spelled("D♭ G C F♯ A"),
            ["One note off.", "The fourth note from below is F, the 9; you had F♯, the ♯9."],
        ),
        (
            NOTES,
            spelled("G D♭ C F A"),
            ["The right notes, in another order.", "From low to high: ♭7 3 13 9 ♯11."],
        ),
        (
            NOTES,
            spelled("C♯ G C F A"),
            ["Right.", "It sounds the same; here C♯ is called D♭."],
        ),
        (SPOT, [6], ["Right.", "It sounds the same as ♭5; here it is called ♯11."]),
        (SPOT, [7], ["One note off.", "The ♯11 is A; you had B♭, the 5."]),
        (SPLIT, [4, 10], ["The right notes, in another order.", "From low to high: ♭7 3."]),
        (
            HEAR,
            0,
            [
                "Not that one.",
                "It was 13♯11, major triad on the 9; you chose m11, minor triad on the ♭3.",
            ],
        ),
    ],
)
def test_each_finding_has_its_sentence(told: Told, task: Any, given: Any, sentences: list[str]) -> None:
    """One short plain sentence a finding, after how it went."""
    assert told(task, given) == sentences


@pytest.mark.parametrize(
    ("given", "sentences"),
    [
        (
            {"quality": place("qualities", "m7"), "tensions": [place("tensions", "13")]},
            ["One part off.", "The chord is E♭13♯11: 7, not m7; with ♯11."],
        ),
        ({"root": 2}, ["One part off.", "The chord is E♭13♯11: root E♭, not D."]),
        (
            {"tensions": [place("tensions", each) for each in ("♭9", "♯9", "♯11", "13")]},
            ["One part off.", "The chord is E♭13♯11: without ♭9 and ♯9."],
        ),
        (
            {"layers": [LAYER_GIVEN | {"inversion": 1}]},
            [
                "One part off.",
                "The upper layer is F major triad, close, second inversion; you had first inversion.",
            ],
        ),
        (
            {"root": 9, "tensions": [place("tensions", "♯9"), place("tensions", "♭13")]},
            ["Right.", "A7♯9♭13 is the same notes by another name; this card calls them E♭13♯11."],
        ),
    ],
)
def test_parts_that_are_off_are_told(told: Told, given: dict[str, Any], sentences: list[str]) -> None:
    """A chord and a layer are told by their right name, and by what was off in it."""
    assert told(NAME, NAME_GIVEN | given) == sentences


@pytest.mark.parametrize(("names", "root"), [("true", "G♭"), ("plain", "F♯")])
def test_a_root_is_called_as_the_key_that_was_tapped(told: Told, names: str, root: str) -> None:
    """Of a chord and of a layer."""
    given = NAME_GIVEN | {"root": 6, "layers": [LAYER_GIVEN | {"root": 6}]}
    assert told(NAME, given, names=names)[1:] == [
        f"The chord is E♭13♯11: root E♭, not {root}.",
        f"The upper layer is F major triad, close, second inversion; you had {root}.",
    ]


def test_a_note_that_was_told_wrong_in_a_chord_is_named(told: Told) -> None:
    """The drill join asks what each upper note is."""
    given = NAME_GIVEN | {"layers": [], "degrees": [8, 2]}
    assert told(JOIN, given) == ["One note off.", "The 13 is C; you had C♭, the ♭13."]


def test_nothing_unnamed_is_ever_said(told: Told, shelf_deck: Callable[[str], Deck]) -> None:
    """Random answers on the neck to every card of a deck: at most four sentences, all of them whole."""
    deck = decoded(shelf_deck("weeks-03-05-third-and-seventh-below"))
    chance = random.Random(11)
    whole = {key: deck[key] for key in ("instrument", "pads", "plainNames", "keyNames")}
    for card in deck["cards"]:
        task = card["task"]
        if task is None or task["kind"] != "neck":
            continue
        given = [
            None if fret is None else chance.choice([fret, fret + 1, fret + 12, 3, None])
            for fret in task["accepts"][0]
        ]
        for names in ("true", "plain"):
            sentences = told(task, given, card, whole, names)
            assert 1 <= len(sentences) <= 4
            for sentence in sentences:
                assert sentence.endswith(".")
                assert sentence[0].isupper()
                assert not any(word in sentence for word in ("undefined", "null", "NaN", "  "))
