"""The page brings cards back when the reference library would.

Outside check: the Python library `fsrs`, an implementation of FSRS-6 that is not ours, with its own spread
switched off. Everything it computes is compared without tolerance.
"""

from __future__ import annotations

import itertools
import random
from dataclasses import dataclass
from datetime import timedelta
from typing import Any, TypeAlias

import fsrs
import pytest
from fsrs.scheduler import DEFAULT_PARAMETERS

from .conftest import Call
from .reference import memory_of, milliseconds, moment

SECOND_MS, HOUR_MS, DAY_MS = 1000, 3_600_000, 86_400_000
START_MS = 1_764_000_000_000  # a day in November 2025
FAR_MS = 90_000_000_000_000  # in the year 4821; Python's calendar ends with 9999

Event: TypeAlias = tuple[int, int, int]
"""A mark, its moment in ms, and which pace was set then."""


@dataclass(frozen=True, slots=True)
class Pace:
    """What the student or the deck may set."""

    recall: float = 0.9
    settling: tuple[int, ...] = (60, 600)
    slipped: tuple[int, ...] = (600,)
    maximum_days: int = 36500
    weights: tuple[float, ...] = DEFAULT_PARAMETERS

    def ours(self) -> dict[str, Any]:
        """As schedule.js takes it."""
        return {
            "targetRecall": self.recall,
            "settlingSteps": self.settling,
            "slippedSteps": self.slipped,
            "maximumDays": self.maximum_days,
            "weights": self.weights,
        }

    def theirs(self, *, is_spread: bool = False) -> fsrs.Scheduler:
        """As the reference takes it."""
        return fsrs.Scheduler(
            self.weights,
            self.recall,
            [timedelta(seconds=step) for step in self.settling],
            [timedelta(seconds=step) for step in self.slipped],
            self.maximum_days,
            is_spread,
        )


def reference(paces: list[Pace], history: list[Event]) -> list[dict[str, Any]]:
    """The memories after each event as the reference has them."""
    schedulers = [pace.theirs() for pace in paces]
    card = fsrs.Card(card_id=1)
    memories = []
    for mark, when, pace in history:
        card, _ = schedulers[pace].review_card(card, fsrs.Rating(mark), moment(when))
        memories.append(memory_of(card))
    return memories


def check(schedule: Call, paces: list[Pace], histories: list[list[Event]]) -> list[list[dict[str, Any]]]:
    """Both sides agree on every memory of every history, to the last bit; returns them."""
    ours: list[list[dict[str, Any]]] = schedule("play", [pace.ours() for pace in paces], histories)
    assert len(ours) == len(histories)
    for history, memories in zip(histories, ours, strict=True):
        assert memories == reference(paces, history), history
    return ours


# --- random histories --------------------------------------------------------------------------------


def random_pace(chance: random.Random) -> Pace:
    """Recalls of real decks and far beyond them, no step to four, short and long limits."""
    settling, slipped = (tuple(chance.sample(range(1, 90_000), chance.randrange(5))) for _ in range(2))
    recall = chance.uniform(0.7, 0.97) if chance.random() < 0.7 else chance.uniform(0.01, 0.9999)
    return Pace(recall, settling, slipped, chance.choice([1, 2, 30, 365, 36500, 36500, 36500]))


def random_history(chance: random.Random, paces: list[Pace], length: int) -> list[Event]:
    """Marks at due moments and early, late, the same day, around full days, at once and before the last."""
    history: list[Event] = []
    schedulers = [pace.theirs() for pace in paces]
    card, when, pace = fsrs.Card(card_id=1), START_MS, chance.randrange(len(paces))
    for _ in range(length):
        mark = chance.choices([1, 2, 3, 4], [3, 2, 6, 2])[0]
        history.append((mark, when, pace))
        card, _ = schedulers[pace].review_card(card, fsrs.Rating(mark), moment(when))
        due = round(milliseconds(card.due) or 0)
        when = chance.choice([
            due,
            due,
            when + int((due - when) * chance.uniform(0, 1)),
            due + int((due - when) * chance.expovariate(2)),
            due + chance.randrange(10 * DAY_MS),
            when + chance.randrange(DAY_MS),
            when + chance.randrange(4) * DAY_MS + chance.choice([-1, 0, 1]),
            when,
            when - chance.randrange(3 * DAY_MS),
        ])  # fmt: skip
        if when > FAR_MS:
            break
        if chance.random() < 0.1:  # the student changes the settings
            pace = chance.randrange(len(paces))
    return history


def test_random_histories_agree_in_more_than_a_hundred_thousand_reviews(schedule: Call) -> None:
    """Stage, step, stability, difficulty, due and last moment are the reference's, bit by bit."""
    chance = random.Random(4)
    reviews = 0
    seen: set[tuple[str, int | None]] = set()
    for _ in range(120):
        paces = [Pace(), *(random_pace(chance) for _ in range(4))]
        histories = [random_history(chance, paces, 30) for _ in range(35)]
        for memories in check(schedule, paces, histories):
            reviews += len(memories)
            seen.update((memory["stage"], memory["step"]) for memory in memories)
    assert reviews >= 100_000
    stepping = set(itertools.product(["settling", "slipped"], range(4)))
    assert seen == {("settled", None), *stepping}


# --- directed cases ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("stability", "days"), [(0.5, 1), (1.5, 2), (2.5, 2), (3.5, 4), (4.5, 4), (10.5, 10), (99.5, 100)]
)
def test_a_half_day_goes_to_the_even_day(schedule: Call, stability: float, days: int) -> None:
    """At a recall of 90 % the wait is the stability itself, so the half is exact."""
    weights = (*DEFAULT_PARAMETERS[:2], stability, *DEFAULT_PARAMETERS[3:])
    [[memory]] = check(schedule, [Pace(settling=(), weights=weights)], [[(3, START_MS, 0)]])
    assert memory["due"] == START_MS + days * DAY_MS


@pytest.mark.parametrize("opening", [(), (4, 1)], ids=["settling", "slipped"])
@pytest.mark.parametrize("taken", range(4))
def test_steps_taken_away_let_a_known_card_settle(
    schedule: Call, opening: tuple[int, ...], taken: int
) -> None:
    """A card on a step that the new settings lack settles, unless it is missed; then it starts over."""
    minutes = (60, 120, 180, 240)
    paces = [Pace(settling=minutes[:count], slipped=minutes[:count]) for count in range(5)]
    before = [*opening, *[3] * taken]
    if not before:
        before = [1]
    start = [(mark, START_MS + nth * SECOND_MS, 4) for nth, mark in enumerate(before)]
    histories = [
        [*start, (mark, START_MS + HOUR_MS, pace)] for mark, pace in itertools.product([1, 2, 3, 4], range(5))
    ]
    for history, memories in zip(histories, check(schedule, paces, histories), strict=True):
        assert memories[-2]["stage"] == ("slipped" if opening else "settling")
        assert memories[-2]["step"] == taken
        mark, _, pace = history[-1]
        if taken >= pace > 0:
            assert memories[-1]["stage"] == ("settled" if mark > 1 else memories[-2]["stage"])


def test_every_short_sequence_of_marks_agrees(schedule: Call) -> None:
    """Six marks in a row, in every order, each at its due moment by the usual steps."""
    gaps = (0, 60_000, 660_000, DAY_MS + 660_000, 3 * DAY_MS, 12 * DAY_MS)
    histories = [
        [(mark, START_MS + gap, 0) for mark, gap in zip(marks, gaps, strict=True)]
        for marks in itertools.product([1, 2, 3, 4], repeat=len(gaps))
    ]
    check(schedule, [Pace()], histories)


@pytest.mark.parametrize("mark", [1, 2, 3, 4])
def test_a_day_is_twenty_four_full_hours(schedule: Call, mark: int) -> None:
    """One millisecond decides between a second look on the same day and a recall on another."""
    around = [DAY_MS - 1, DAY_MS, DAY_MS + 1, 2 * DAY_MS - 1, 2 * DAY_MS]
    gaps = [-400 * DAY_MS, -DAY_MS, -1, 0, 1, *around, 9000 * DAY_MS]
    histories = [
        [(4, START_MS, 0), (mark, START_MS + gap, 0), (3, START_MS + gap + DAY_MS, 0)] for gap in gaps
    ]
    after = check(schedule, [Pace()], histories)
    stabilities = [memories[1]["stability"] for memories in after]
    assert stabilities[3] == stabilities[5] != stabilities[6] == stabilities[8] != stabilities[9]


@pytest.mark.parametrize("maximum_days", [1, 2, 7, 365])
def test_no_wait_is_longer_than_the_longest(schedule: Call, maximum_days: int) -> None:
    """Ten instant answers in a row, each when it is due."""
    pace, when = Pace(maximum_days=maximum_days), START_MS
    history: list[Event] = []
    for _ in range(10):
        history.append((4, when, 0))
        when = schedule("play", [pace.ours()], [history])[0][-1]["due"]
    [memories] = check(schedule, [pace], [history])
    assert memories[-1]["due"] - memories[-1]["last"] == maximum_days * DAY_MS


@pytest.mark.parametrize("recall", [0.000001, 0.01, 0.5, 0.7, 0.97, 0.999999, 1.0])
def test_extreme_target_recalls_agree(schedule: Call, recall: float) -> None:
    """From hardly ever to never wrong."""
    gaps = (0, 1, 2, 30, 400)
    histories = [
        [(mark, START_MS + gap * DAY_MS, 0) for mark, gap in zip(marks, gaps, strict=True)]
        for marks in itertools.product([1, 2, 3, 4], repeat=len(gaps))
    ]
    after = check(schedule, [Pace(recall=recall, settling=(), slipped=())], histories)
    if recall == 1.0:
        assert {memory["due"] - memory["last"] for memories in after for memory in memories} == {DAY_MS}


def test_a_thousand_misses_and_a_thousand_successes_stay_in_bounds(schedule: Call) -> None:
    """Stability stops at its floor, difficulty at 1 and 10."""
    misses = [(1, START_MS + nth * 2 * DAY_MS, 0) for nth in range(1000)]
    quick = [(1, START_MS + nth * SECOND_MS, 0) for nth in range(1000)]
    successes = [(4, START_MS + nth * DAY_MS, 0) for nth in range(1000)]
    missed, floored, known = check(schedule, [Pace()], [misses, quick, successes])
    assert missed[-1]["difficulty"] > 9.9
    assert floored[-1]["stability"] == 0.001
    assert known[-1]["difficulty"] == 1


# --- recall, constants, refusals -----------------------------------------------------------------------


def test_the_likelihood_of_recall_is_the_reference_s(schedule: Call) -> None:
    """At any moment, before the last mark too; an unseen card is not known."""
    chance = random.Random(7)
    rows, expected = [], []
    theirs = Pace().theirs()
    for _ in range(2000):
        card = fsrs.Card(
            1, fsrs.State.Review, None, chance.uniform(0.001, 900), 5.0, last_review=moment(START_MS)
        )
        when = START_MS + chance.randrange(-3 * DAY_MS, 2000 * DAY_MS)
        rows.append([memory_of(card), when])
        expected.append(theirs.get_card_retrievability(card, moment(when)))
    assert schedule("recalls", rows) == expected
    assert schedule("recalls", [[schedule("constants")["UNSEEN"], START_MS]]) == [0]


def test_weights_marks_and_pace_are_the_published_ones(schedule: Call) -> None:
    """The defaults of the page are the defaults of the model."""
    constants = schedule("constants")
    assert constants["PACE"] == {**Pace().ours(), "settlingSteps": [60, 600], "slippedSteps": [600],
                                 "weights": list(DEFAULT_PARAMETERS)}  # fmt: skip
    assert Pace().theirs() == fsrs.Scheduler(enable_fuzzing=False)
    assert constants["MARKS"] == {"missed": 1, "shaky": 2, "clean": 3, "instant": 4}


@pytest.mark.parametrize("mark", [0, 5, 2.5, None, "3"])
def test_what_is_no_mark_is_refused(schedule: Call, mark: object) -> None:
    """A damaged journal does not pass for a review."""
    assert "a mark is 1, 2, 3 or 4" in schedule("refusal", mark, START_MS)


@pytest.mark.parametrize("when", [0.5, None, "2026-01-01", 1e300])
def test_what_is_no_moment_is_refused(schedule: Call, when: object) -> None:
    """Half milliseconds, words and never are no moments."""
    assert "whole number of milliseconds" in schedule("refusal", 3, when)


# --- spread ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("maximum_days", [1, 2, 3, 30, 36500])
def test_a_wait_is_spread_over_the_days_the_reference_allows(
    schedule: Call, monkeypatch: pytest.MonkeyPatch, maximum_days: int
) -> None:
    """First and last day are the reference's; where it rounds a share we floor, so each day is as likely."""
    theirs = Pace(maximum_days=maximum_days).theirs(is_spread=True)
    for days in range(1, min(maximum_days, 400) + 1):
        first, last = (schedule("spread", days, chance, maximum_days) for chance in (0, 1 - 2**-53))
        count = last - first + 1
        for nth in range(count):
            share = (nth + 0.25) / count  # far from where rounding and flooring part
            monkeypatch.setattr("fsrs.scheduler.random", lambda share=share: share)
            wait = theirs._get_fuzzed_interval(interval=timedelta(days=days))
            assert wait.days == first + nth == schedule("spread", days, share, maximum_days)
        monkeypatch.setattr("fsrs.scheduler.random", lambda: 0.0)
        assert theirs._get_fuzzed_interval(interval=timedelta(days=days)).days == first


def test_only_a_settled_wait_is_spread(schedule: Call) -> None:
    """Steps of minutes are kept; memory itself does not depend on chance."""
    unseen, pace = schedule("constants")["UNSEEN"], Pace().ours()
    stepping, spread_out = (schedule("review", unseen, 3, START_MS, pace, chance) for chance in (None, 0.99))
    assert stepping == spread_out
    plain = schedule("review", unseen, 4, START_MS, pace)
    early, late = (schedule("review", unseen, 4, START_MS, pace, chance) for chance in (0, 0.999))
    assert early["due"] < plain["due"] < late["due"]
    assert {**early, "due": 0} == {**plain, "due": 0} == {**late, "due": 0}
