"""One question has one answer within a deck."""

from __future__ import annotations

from dataclasses import replace

from drills.cards.card import Face
from drills.cards.deal import deal
from drills.cards.order import Asked
from drills.cards.riddle import without_riddles
from drills.cards.subject import Subject

from .conftest import MakeSubject

SAME_QUESTION = Face("C7", ask="Which layer on top?")


def asking(of: Subject, front: Face = SAME_QUESTION) -> Asked:
    """A card on a subject whose question is made the same."""
    card = deal(of, "place")
    assert card is not None
    return Asked(replace(card, front=front), of, 0, 0)


def test_a_repeat_with_the_same_answer_is_left_out(subject: MakeSubject) -> None:
    """The first card of a question stands for its repeats."""
    first = asking(subject("b7 3 | 13 9", "13", "C"))
    again = asking(subject("b7 3 | 13 9", "13", "C", nickname="the same"))
    assert without_riddles([first, again]) == [first]


def test_different_answers_say_the_degree_that_only_they_hold(subject: MakeSubject) -> None:
    """Each question is told what sets its answer apart."""
    flat = asking(subject("3 b7 | b9 b13", "7b9b13", "C"))
    sharp = asking(subject("3 b7 | #9 b13", "7#9b13", "C"))
    lines = [each.card.front.lines for each in without_riddles([flat, sharp])]
    assert lines == [("♭9 is in it",), ("♯9 is in it",)]


def test_the_same_degrees_in_another_order_say_their_highest(subject: MakeSubject) -> None:
    """Where no degree differs, the highest note does."""
    one = asking(subject("b7 3 | 13 9", "13", "C"))
    other = asking(subject("b7 3 | 9 13", "13", "C"))
    lines = [each.card.front.lines for each in without_riddles([one, other])]
    assert lines == [("9 is the highest note",), ("13 is the highest note",)]


def test_different_questions_are_left_as_they_are(subject: MakeSubject) -> None:
    """Nothing is added where nothing is doubtful."""
    one = asking(subject("b7 3 | 13 9", "13", "C"))
    other = asking(subject("b7 3 | 9 13", "13", "C"), Face("C13", ask="Where does it lie?"))
    assert without_riddles([one, other]) == [one, other]
