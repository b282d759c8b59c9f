"""What the reference library `fsrs` makes of marks, in our words: the outside check of all that comes back.

The library is an implementation of FSRS-6 that is not ours. Its own spread, which asks a generator of chance,
is off; ours is put in its place where a test wants it.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import fsrs

from drills.cards.card import Deck

from .conftest import Call
from .engine import Functions

DAY_MS = 86_400_000
EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
STAGES = {fsrs.State.Learning: "settling", fsrs.State.Review: "settled", fsrs.State.Relearning: "slipped"}


def moment(ms: int) -> datetime:
    """The reference counts in datetimes."""
    return EPOCH + timedelta(milliseconds=ms)


def milliseconds(when: datetime | None) -> float | None:
    """None for never."""
    return None if when is None else (when - EPOCH) / timedelta(milliseconds=1)


def memory_of(card: fsrs.Card) -> dict[str, Any]:
    """A card of the reference in our words."""
    return {
        "stage": STAGES[card.state],
        "step": card.step,
        "stability": card.stability,
        "difficulty": card.difficulty,
        "due": milliseconds(card.due),
        "last": milliseconds(card.last_review),
    }


class Reference:
    """Follows cards of one target recall.

    Args:
        target_recall: the deck's.
        wait: days of wait, spread, after days of wait, the card's id and how many reviews there were before.
    """

    def __init__(self, target_recall: float, wait: Call) -> None:
        self._scheduler = fsrs.Scheduler(desired_retention=target_recall, enable_fuzzing=False)
        self._wait = wait

    def memory(self, card: str, marks: Sequence[tuple[int, int]]) -> dict[str, Any]:
        """What is known of a card after marks with their moments, as the page keeps it."""
        known = self._known(marks)
        memory = memory_of(known)
        if known.state is fsrs.State.Review and known.last_review is not None:
            days = (known.due - known.last_review).days
            memory["due"] = marks[-1][1] + DAY_MS * self._wait(days, card, len(marks) - 1)
        return memory | {"first": marks[0][1], "count": len(marks)}

    def recall(self, marks: Sequence[tuple[int, int]], when: int) -> float:
        """How likely it is that the card is still known at a moment."""
        return self._scheduler.get_card_retrievability(self._known(marks), moment(when))

    def _known(self, marks: Sequence[tuple[int, int]]) -> fsrs.Card:
        card = fsrs.Card(card_id=1)
        for mark, when in marks:
            card, _ = self._scheduler.review_card(card, fsrs.Rating(mark), moment(when))
        return card


def reference_for(deck: Deck, page: Path) -> Reference:
    """The reference at a deck's pace, with the spread and the chance of the modules in `page`."""
    spread = Functions(page, "memory/schedule.js", "spread")
    chance = Functions(page, "memory/daily.js", "chance")

    def wait(days: int, card: str, count: int) -> int:
        spread_days: int = spread.call("spread", days, chance.call("chance", card, count), 36500)
        return spread_days

    return Reference(deck.target_recall, wait)
