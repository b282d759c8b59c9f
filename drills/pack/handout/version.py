"""A set of questions: which cards are asked on paper, with which numbers, in one version or two.

Conventions: two versions take different cards where there are enough of them. Numbers run through a version,
so that "7" is one question.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from drills.cards.card import Card
from drills.cards.task import NeckTask

MOST_QUESTIONS: Final = 8
"""Of one drill in one version."""

_GOLDEN: Final = 0.618
"""Multiples of it spread evenly over 0 to 1."""
_NOT_ON_PAPER: Final = ("hear",)


@dataclass(frozen=True, slots=True)
class Drill:
    """The questions of one drill.

    Attributes:
        name: of the drill.
        cards: with their numbers.
    """

    name: str
    cards: tuple[tuple[int, Card], ...]

    @property
    def ask(self) -> str:
        """What all of them ask; empty where they ask different things."""
        asked = {card.front.ask for _, card in self.cards}
        return asked.pop() if len(asked) == 1 else ""


@dataclass(frozen=True, slots=True)
class Version:
    """One set of questions.

    Attributes:
        name: A or B; empty where there is only one.
        drills: each with its cards.
    """

    name: str
    drills: tuple[Drill, ...]

    def heading(self, word: str) -> str:
        """What stands above its pages."""
        return f"{word}, version {self.name}" if self.name else word


def versions_of(cards: Sequence[Card], count: int) -> tuple[Version, ...]:
    """One or two versions, each with every drill that can be asked on paper."""
    by_drill: dict[str, list[Card]] = {}
    for card in cards:
        if card.drill not in _NOT_ON_PAPER:
            by_drill.setdefault(card.drill, []).append(card)
    return tuple(
        Version("AB"[turn] if count > 1 else "", tuple(_numbered(by_drill, turn, count)))
        for turn in range(count if by_drill else 0)
    )


def _numbered(by_drill: dict[str, list[Card]], turn: int, count: int) -> Iterator[Drill]:
    number = 1
    for name, cards in by_drill.items():
        chosen = _chosen(cards[turn::count] or cards)
        yield Drill(name, tuple(enumerate(chosen, start=number)))
        number += len(chosen)


def _chosen(cards: Sequence[Card]) -> tuple[Card, ...]:
    """Cards from all over the deck: one from each of equal stretches, at a place that goes round.

    At the same place of each, a deck whose voicings take turns would be asked about one of them only.
    """
    count = min(MOST_QUESTIONS, len(cards))
    ends = [turn * len(cards) // count for turn in range(count + 1)]
    return tuple(
        cards[first + int(turn * _GOLDEN % 1 * (last - first))]
        for turn, (first, last) in enumerate(pairwise(ends))
    )


def is_on_neck(card: Card) -> bool:
    """Whether the answer is notes on a neck that can be drawn."""
    return card.quiz is not None and isinstance(card.quiz.task, NeckTask) and card.back.picture is not None
