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
    by_question: dict[tuple[str, object, object], list[Asked]] = defaultdict(list)
    for each in asked:
        by_question[each.card.drill, each.card.front, each.card.asked_sound].append(each)
    kept: list[Asked] = []
    for alike in by_question.values():
        first = alike[0].card
        different = [each for each in alike if not _answers_alike(each.card, first)]
        told = (alike[0], *different)
        kept += [_told_apart(each, told) for each in told] if different else told
    return kept


def _answers_alike(card: Card, other: Card) -> bool:
    return card.back.picture == other.back.picture and card.back.head == other.back.head


def _told_apart(each: Asked, alike: Iterable[Asked]) -> Asked:
    """The card with a degree on its question that only its own answer has; else with its highest degree."""
    others = {degree for other in alike if other is not each for degree in other.subject.voicing.degrees}
    degrees = each.subject.voicing.degrees
    own = [degree for degree in degrees if degree not in others]
    hint = f"{own[0].shown} is in it" if own else f"{degrees[-1].shown} is the highest note"
    front = replace(each.card.front, lines=(*each.card.front.lines, hint))
    return replace(each, card=replace(each.card, front=front))
