"""hear: the question is sound, and one of its choices is right and the others can be told from it.

Outside check: the common chords and the triads on top of them are rows of
`tests/handbook/upper_structure_*.json`, each with its source; the few that are not are named here.
"""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from drills.cards.by_ear import COMMON_CHORDS, COMMON_LAYERS, MOST_CHOICES, choices
from drills.cards.card import Card, SoundSpec
from drills.cards.deal import deal
from drills.cards.order import Asked
from drills.cards.riddle import without_riddles
from drills.cards.subject import Subject
from drills.cards.task import ChoiceTask
from drills.theory.layer import name_layer

from .conftest import MakeSubject

HANDBOOK = Path(__file__).parents[1] / "handbook"
NOT_IN_THE_HANDBOOK = {("m9", "5 b7 9"), ("9", "5 b7 9"), ("13#11", "9 #11 13"), ("maj13#11", "9 #11 13")}
"""Common practice, no source."""


@pytest.fixture(scope="module")
def rootless(subject: MakeSubject) -> Subject:
    """The rootless 13♯11 over E♭."""
    return subject("b7 3 | 13 9 #11", "13#11", "Eb", "x 4 5 5 6 5")


def card(of: Subject) -> Card:
    """The card of a subject that is asked by ear."""
    made = deal(of, "hear")
    assert made is not None
    return made


def told(of: Subject) -> tuple[str, ...]:
    """The choices of a subject, the right one first."""
    task = card(of).quiz
    assert task is not None
    assert isinstance(task.task, ChoiceTask)
    options, right = task.task.options, task.task.right
    return (options[right], *options[:right], *options[right + 1 :])


def one_layer(of: Subject) -> Subject:
    """A subject with all its notes in one layer."""
    sounding = of.sounding
    voicing = replace(sounding.voicing, sizes=(len(sounding.voicing.degrees),))
    return replace(of, place=replace(of.place, sounding=replace(sounding, voicing=voicing)))


def test_the_question_is_all_sound(rootless: Subject) -> None:
    """It shows no neck and no degree; the root sounds, then the voicing; the choices stand below."""
    made = card(rootless)
    assert made.asked_sound == SoundSpec((49, 55, 60, 65, 69), 39)
    assert made.front.picture is None
    assert made.front.head == "over E♭"
    assert made.front.ask == "Which chord, which layer on top?"
    assert made.front.lines == tuple(sorted(told(rootless)))
    assert made.identity.endswith("over 3 hear on 40.45.50.55.59.64")


def test_the_answer_says_the_choice_and_all_the_rest(rootless: Subject) -> None:
    """First what was asked, then notes, grip and neck."""
    back = card(rootless).back
    assert back.lines[0] == "13♯11, major triad on the 9"
    assert "D♭ G | C F A" in back.lines
    assert back.picture is not None


@pytest.mark.parametrize(
    ("degrees", "suffix", "right"),
    [
        ("b7 3 | 13 9 #11", "13#11", "13♯11, major triad on the 9"),
        ("5 b3 | 11 b7 9", "m11", "m11, major triad on the ♭7"),
        ("3 b7 | 9 5", "9", "9, 9 and 5 on top"),
        ("1 5 3 | 7", "maj7", "△7, 7 on top"),
        ("1 | 3 5 1", "", "major, major triad on the 1"),
        ("7 3 | 6 9 5", "maj13", "△13, quartal stack on the 6"),
    ],
)
def test_a_choice_is_a_kind_of_chord_and_its_upper_layer(
    subject: MakeSubject, degrees: str, suffix: str, right: str
) -> None:
    """Whatever the key, and whatever lies below; layers of one and two notes by their degrees."""
    for key in ("C", "E"):
        assert told(subject(degrees, suffix, key))[0] == right


def test_there_are_six_choices_each_once(rootless: Subject) -> None:
    """One of them right, in an order that gives nothing away."""
    found = told(rootless)
    assert len(set(found)) == len(found) == MOST_CHOICES
    assert card(rootless).front.lines == tuple(sorted(found))


def test_the_other_voicings_of_the_deck_come_first(subject: MakeSubject, rootless: Subject) -> None:
    """Then common ones; the deck's own voicing is no second choice."""
    others = (
        subject("7 3 | 9 5 7", "maj9", "C"),
        subject("b7 3 | 13 9 #11", "13#11", "C"),
        subject("3 b7 | b13 b9", "7b9b13", "A"),
    )
    found = told(replace(rootless, beside=(rootless, *others)))
    assert {"△9, major triad on the 5", "7♭9♭13, ♭13 and ♭9 on top"} < set(found[1:])
    assert len(found) == MOST_CHOICES


def test_a_large_deck_offers_what_is_most_like_it(subject: MakeSubject, rootless: Subject) -> None:
    """Of many voicings, those that share the most notes."""
    uppers = ("#9 b13 1", "#11 1 3", "13 b9 3", "9 5 1", "9 3 13", "13 9 5")
    many = tuple(subject(f"3 b7 | {upper}", "7", "C") for upper in uppers)
    found = told(replace(rootless, beside=many))
    assert len(found) == MOST_CHOICES
    assert {"7, quartal stack on the 13", "7, sus2 on the 9"} < set(found)
    assert "7, major triad on the ♭13" not in found


def test_what_cannot_be_told_by_ear_is_no_choice(subject: MakeSubject) -> None:
    """A ninth chord of which no ninth sounds, with the same triad on top, would be right as well."""
    own = subject("1 5 | b7 b3 5", "m7", "C")
    silent_ninth, more = subject("1 5 | b7 b3 5", "m9", "C"), subject("1 5 | 9 b7 b3", "m9", "C")
    found = told(replace(own, beside=(silent_ninth, more)))
    assert found[0] == "m7, major triad on the ♭3"
    assert "m9, major triad on the ♭3" not in found
    assert any(text.startswith("m9, ") for text in found)


@pytest.mark.parametrize(
    ("degrees", "right", "among"),
    [
        ("1 3 5", "major triad, close, root position", "major triad, close, second inversion"),
        ("3 1 5", "major triad, open, first inversion", "major triad, open, root position"),
        ("b3 5 1", "minor triad, close, first inversion", "major triad, close, first inversion"),
        ("1 4 b7", "quartal stack, close", "major triad, close, first inversion"),
        ("1 3 5 7", "major seventh chord, close, root position", "minor seventh chord, close, root position"),
    ],
)
def test_a_layer_by_itself_is_told_by_structure_and_form(
    subject: MakeSubject, degrees: str, right: str, among: str
) -> None:
    """Among others of as many notes, its own inversions with them."""
    alone = one_layer(subject(degrees, None, "C"))
    found = told(alone)
    assert found[0] == right
    assert among in found
    assert len(found) == MOST_CHOICES
    assert card(alone).front.ask == "Which layer is it, in which form?"


def test_the_layers_of_the_deck_come_first_too(subject: MakeSubject) -> None:
    """Those of as many notes."""
    alone = subject("1 3 5", None, "C")
    beside = (subject("1 2 5", None, "C"), subject("1 5", None, "C"), subject("b7 3 | 13 9", "13", "C"))
    assert "sus2, close" in told(replace(alone, beside=beside))


def test_too_small_a_layer_is_not_asked(subject: MakeSubject) -> None:
    """Two notes have no structure to tell."""
    assert choices(subject("1 5", None, "C")) is None
    assert deal(subject("1 5", None, "C"), "hear") is None


def test_two_voicings_in_one_key_are_no_riddle(subject: MakeSubject) -> None:
    """Their words are the same and their sounds are not."""
    uppers = (("13 9 5", ""), ("9 3 13", ""), ("13 9 #11", "#11"))
    deck = tuple(
        subject(f"{low} 3 | {upper}", f"{kind}{added}", "C")
        for low, kind in (("b7", "13"), ("7", "maj13"))
        for upper, added in uppers
    )
    asked = [Asked(card(replace(each, beside=deck)), each, 0, 0) for each in deck]
    assert len({each.card.front.lines for each in asked}) == 1
    assert without_riddles(asked) == asked


def test_the_common_chords_are_those_of_the_handbooks() -> None:
    """Every pair but the ones named above is a row there."""
    rows = {
        (row["expect"]["chord"].removeprefix("C"), " ".join(row["expect"]["degrees"]))
        for path in HANDBOOK.glob("upper_structure_*.json")
        for row in json.loads(path.read_text(encoding="utf-8"))["rows"]
    }
    assert set(COMMON_CHORDS) - rows == NOT_IN_THE_HANDBOOK


def test_the_common_layers_are_called_apart() -> None:
    """No two of them have one name and form."""
    names = {(len(gaps), name_layer(gaps)) for gaps in COMMON_LAYERS}
    assert len(names) == len(COMMON_LAYERS)
