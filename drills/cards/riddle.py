"""No card is a riddle: one question has one answer.

Within a deck two voicings can ask the same thing. Where the answer is the same too, one card is enough;
where it is not, each question says a little more.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import replace

from drills.cards.card import Card
from drills.cards.order import Asked


def without_riddles(asked: Iterable[Asked]) -> list[Asked]:
    """The cards, repeats left out, and questions that would fit several answers told apart."""
    by_question: dict[tuple[str, object], list[Asked]] = defaultdict(list)
    for each in asked:
        by_question[each.card.drill, each.card.front].append(each)
    kept: list[Asked] = []
    for alike in by_question.values():
        first = alike[0].card
        different = [each for each in alike if not _answers_alike(each.card, first)]
        kept += [_told_apart(each) for each in (alike[0], *different)] if different else alike[:1]
    return kept


def _answers_alike(card: Card, other: Card) -> bool:
    return card.back.picture == other.back.picture and card.back.head == other.back.head


def _told_apart(each: Asked) -> Asked:
    """The card with its highest degree told on the question."""
    highest = each.subject.voicing.degrees[-1].shown
    front = replace(each.card.front, lines=(*each.card.front.lines, f"{highest} is the highest note"))
    return replace(each, card=replace(each.card, front=front))
