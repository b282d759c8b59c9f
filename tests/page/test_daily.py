"""What a day brings.

Outside checks: the time zone database of IANA, by Python's zoneinfo, for where days begin; the Python library
`fsrs`, an implementation of FSRS-6 that is not ours, for when cards of a played week come back.
"""

from __future__ import annotations

import itertools
import random
from collections import Counter
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any, TypeAlias
from zoneinfo import ZoneInfo

import fsrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from .scripted import Call, scripted

Card: TypeAlias = dict[str, Any]
Memories: TypeAlias = dict[str, dict[str, Any]]

MINUTE_MS, HOUR_MS, DAY_MS = 60_000, 3_600_000, 86_400_000
DAWN_MS = 1_764_000_000_000 - 1_764_000_000_000 % DAY_MS + 4 * HOUR_MS  # four in the morning, November 2025
EVENING_MS = DAWN_MS + 15 * HOUR_MS
EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


@pytest.fixture(scope="module")
def call(checkout: Path) -> Call:
    """daily.js with objects for maps and ids for cards, and a student who plays."""
    return scripted(
        checkout / "drills/page",
        """
        import {
          chance, comfortable, dayEnd, dayStart, forecast, nextCard, plannedToday, stagesByKey,
          stagesByVoicing, todayCount, weakSpots,
        } from "./memory/daily.js";
        import { PACE, recall, review, UNSEEN } from "./memory/schedule.js";

        const DAY_MS = 86_400_000;
        const mapped = (memories) => new Map(Object.entries(memories ?? {}));
        const whole = (day) => ({ ...day, memories: mapped(day.memories) });
        const ids = (cards) => cards.map(({ id }) => id);
        const numbers = (seed) => () => chance("student", (seed += 1));
        // changes: [moment, minutes]; each holds from its moment on, the first before it too.
        const stepwise = (changes) => (moment) =>
          (changes.findLast(([from]) => from <= moment) ?? changes[0])[1];

        /** Marks a card; without spread unless asked. */
        function marked(card, memories, mark, now, isSpread) {
          const { first, count, ...memory } = memories.get(card.id) ?? { first: now, count: 0, ...UNSEEN };
          const next = review(memory, mark, now, PACE, isSpread ? chance(card.id, count) : null);
          memories.set(card.id, { ...next, first, count: count + 1 });
        }

        /** Plays days to their end: eight seconds a card, as well as the model foretells. */
        function play({
          cards, memories: before, days, dayStart: dawn, freshPerDay, seed, away = [], missedFirst = 0.25,
          isSpread = true, isAllClean = false, hour = 15, answer_ms = 8000,
        }) {
          const random = numbers(seed);
          const memories = mapped(before);
          const log = [];
          for (let nth = 0; nth < days; nth += 1) {
            if (nth >= away[0] && nth < away[1]) continue;
            const start = dawn + nth * DAY_MS;
            let now = start + hour * 3_600_000;
            for (;;) {
              const { card, at } = nextCard({ cards, memories, now, dayStart: start, freshPerDay });
              if (card === null && at === null) break;
              if (card === null) { now = at; continue; }
              const kept = memories.get(card.id);
              const known = !kept ? 1 - missedFirst : kept.stage === "settled" ? recall(kept, now) : 0.88;
              const right = [2, 3, 3, 3, 3, 3, 4, 3][Math.floor(random() * 8)];
              const mark = isAllClean ? 3 : random() < known ? right : 1;
              marked(card, memories, mark, now, isSpread);
              const { due } = memories.get(card.id);
              log.push({ day: nth, card: card.id, mark, when: now, isFresh: !kept, due });
              now += answer_ms;
            }
          }
          return { log, memories: Object.fromEntries(memories) };
        }

        const known = {
          play,
          dayStart: (moments, hour, changes) => moments.map((now) =>
            [dayStart(now, hour, stepwise(changes)), dayEnd(now, hour, stepwise(changes))]),
          fixedDayStart: dayStart,
          planned: (day) => {
            const plan = plannedToday(whole(day));
            return { ...plan, queue: ids(plan.queue) };
          },
          next: (day) => {
            const found = nextCard(whole(day));
            return { ...found, card: found.card?.id ?? null };
          },
          todayCount: (day) => todayCount(whole(day)),
          forecast: (day) => forecast(whole(day)),
          weakSpots: (day) => ids(weakSpots(whole(day))),
          stagesByKey: (cards, memories) => stagesByKey(cards, mapped(memories)),
          stagesByVoicing: (cards, memories, count) => stagesByVoicing(cards, mapped(memories), count),
          chances: (cards, counts) => cards.flatMap((id) => counts.map((count) => chance(id, count))),
          comfortable,
          recalls: (memories, now) => Object.fromEntries(
            Object.entries(memories).map(([id, kept]) => [id, recall(kept, now)])),
          afterMark: (card, memories, mark, now) => {
            const map = mapped(memories);
            marked(card, map, mark, now, false);
            return Object.fromEntries(map);
          },
        };
        """,
    )


DRILLS = ("place", "split", "join", "name", "spell")


def deck(voicings: int = 12, keys: int = 12) -> list[Card]:
    """Each voicing's layer in some keys, then its wholes; drills and voicings by turns, keys by fourths."""
    cards: list[Card] = []
    for is_layer in (True, False):
        for turn in range(keys):
            for voicing in range(voicings):
                drill = "layer" if is_layer else DRILLS[(turn + voicing) % len(DRILLS)]
                key = {"pitchClass": turn * 5 % 12}
                name = f"{drill}.{voicing}.{turn}"
                cards.append(
                    {"id": name, "voicing": voicing, "key": key, "drill": drill, "isLayer": is_layer}
                )
    return cards


CARDS = deck()


def kept(stage: str = "settled", **values: Any) -> dict[str, Any]:
    """A memory: settled ten days ago for ten days, unless told otherwise."""
    usual = {
        "stage": stage,
        "step": None if stage == "settled" else 0,
        "stability": 10.0,
        "difficulty": 3.0,
        "due": EVENING_MS,
        "last": EVENING_MS - 10 * DAY_MS,
        "first": EVENING_MS - 40 * DAY_MS,
        "count": 5,
    }
    return usual | values


def day(memories: Memories | None = None, **values: Any) -> dict[str, Any]:
    """An evening, five new cards a day."""
    usual = {"cards": CARDS, "now": EVENING_MS, "dayStart": DAWN_MS, "freshPerDay": 5}
    return {**usual, "memories": memories or {}, **values}


def settled(count: int, **values: Any) -> Memories:
    """So many cards of the deck, all due, with stabilities of 1 day and more."""
    return {card["id"]: kept(stability=1.0 + nth, **values) for nth, card in enumerate(CARDS[:count])}


# --- days --------------------------------------------------------------------------------------------

ZONES = [
    "Europe/Berlin",
    "America/New_York",
    "America/Santiago",  # the change is at midnight
    "Australia/Lord_Howe",  # by half an hour
    "Asia/Kathmandu",
    "UTC",
]


@pytest.mark.parametrize("hour", [0, 2, 3, 4, 23])
@pytest.mark.parametrize("zone", ZONES)
def test_a_day_begins_at_its_hour_of_local_time(call: Call, zone: str, hour: int) -> None:
    """Over a year and both changes of the clock; found here by going through all quarters of hours (IANA)."""
    quarters = range(DAWN_MS - 40 * DAY_MS, DAWN_MS + 360 * DAY_MS, HOUR_MS // 4)
    changes: list[tuple[int, int]] = []
    starts: list[int] = []
    label = None
    for moment in quarters:
        local = (EPOCH + timedelta(milliseconds=moment)).astimezone(ZoneInfo(zone))
        offset = local.utcoffset() or timedelta()
        minutes = round(offset / timedelta(minutes=1))
        if not changes or changes[-1][1] != minutes:
            changes.append((moment, minutes))
        date = (local.replace(tzinfo=None) - timedelta(hours=hour)).date()
        if date != label:
            label = date
            starts.append(moment)
    chance = random.Random(1)
    starts = starts[1:]
    for start, end in itertools.pairwise(starts):
        moments = [start, start + 1, chance.randrange(start, end), end - 1]
        assert call("dayStart", moments, hour, changes) == [[start, end]] * 4, (start, end)
    lengths = Counter((end - start) / HOUR_MS for start, end in itertools.pairwise(starts))
    assert len(lengths) == (3 if len(changes) > 1 else 1)


def test_an_offset_can_be_a_number(call: Call) -> None:
    """At one in the morning in India it is still yesterday, until four."""
    one = 1_764_012_600_000  # 2025-11-25 01:00 at 5 h 30 min east
    assert call("fixedDayStart", one, 4, 330) == one - 21 * HOUR_MS
    assert call("fixedDayStart", one + 3 * HOUR_MS, 4, 330) == one + 3 * HOUR_MS


def test_a_card_settled_today_is_done_even_on_a_day_of_25_hours(call: Call) -> None:
    """Its wait of 24 hours ends before the day does."""
    memories = {CARDS[0]["id"]: kept(last=DAWN_MS + 1, due=DAWN_MS + 1 + DAY_MS)}
    long_day = day(memories, dayEnd=DAWN_MS + 25 * HOUR_MS, freshPerDay=0, now=DAWN_MS + 24 * HOUR_MS)
    assert call("next", long_day)["card"] is None
    assert call("planned", long_day)["done"] == 1
    tomorrow = day(memories, dayStart=DAWN_MS + 25 * HOUR_MS, now=DAWN_MS + 26 * HOUR_MS, freshPerDay=0)
    assert call("next", tomorrow)["card"] == CARDS[0]["id"]


# --- new cards ---------------------------------------------------------------------------------------


def test_the_first_day_brings_new_cards_in_the_deck_s_order(call: Call) -> None:
    """As many as a day may, and nothing else."""
    assert call("planned", day()) == {
        "queue": [card["id"] for card in CARDS[:5]],
        "due": 0,
        "fresh": 5,
        "waiting": 0,
        "done": 0,
        "later": 0,
        "eased": False,
    }


def test_new_cards_of_today_count_however_often_the_page_is_opened(call: Call) -> None:
    """Those first seen today, in whatever stage they are; not those of yesterday or of another deck."""
    memories = {
        CARDS[0]["id"]: kept(first=EVENING_MS, last=EVENING_MS, due=EVENING_MS + 2 * DAY_MS),
        CARDS[1]["id"]: kept("settling", first=DAWN_MS, last=EVENING_MS, due=EVENING_MS + MINUTE_MS),
        CARDS[2]["id"]: kept(first=DAWN_MS - 1, last=DAWN_MS - 1, due=EVENING_MS + 2 * DAY_MS),
        "of another deck": kept(first=EVENING_MS, last=EVENING_MS, due=EVENING_MS + 2 * DAY_MS),
    }
    plan = call("planned", day(memories))
    assert plan["queue"] == [card["id"] for card in CARDS[3:6]]
    assert (plan["fresh"], plan["waiting"], plan["done"]) == (3, 1, 1)
    assert call("planned", day(memories, freshPerDay=2))["fresh"] == 0
    assert call("planned", day(memories, freshPerDay=0))["fresh"] == 0


def test_new_cards_are_strewn_among_the_others(call: Call) -> None:
    """Neither all first nor all last."""
    queue = call("planned", day(settled(30)))["queue"]
    unseen = [card["id"] for card in CARDS[30:35]]
    places = [queue.index(name) for name in unseen]
    assert places == sorted(places)
    assert len(queue) == 35
    assert max(b - a for a, b in itertools.pairwise([-1, *places, 35])) <= 8


# --- order -------------------------------------------------------------------------------------------


def test_layers_come_before_wholes(call: Call) -> None:
    """Among what is due."""
    mixed = random.Random(2).sample(CARDS, 40)
    plan = call("planned", day({card["id"]: kept() for card in mixed}, freshPerDay=0))
    is_layer = [name.startswith("layer") for name in plan["queue"]]
    assert is_layer == sorted(is_layer, reverse=True)
    assert 5 < sum(is_layer) < 35


@pytest.mark.parametrize("seed", range(6))
def test_neighbours_seldom_share_voicing_key_or_drill(call: Call, seed: int) -> None:
    """Forty cards by chance, six voicings in eight keys and five drills: hardly two neighbours share one."""
    every = list(itertools.product(range(6), range(8), DRILLS))
    traits = {f"{nth}": trait for nth, trait in enumerate(random.Random(seed).sample(every, 40))}
    due: list[Card] = [
        {"id": name, "voicing": voicing, "key": {"pitchClass": key}, "drill": drill, "isLayer": False}
        for name, (voicing, key, drill) in sorted(traits.items(), key=lambda item: item[1])
    ]
    queue = call("planned", day({card["id"]: kept() for card in due}, cards=due))["queue"]
    shared = [
        sum(a == b for a, b in zip(traits[one], traits[other], strict=True))
        for one, other in itertools.pairwise(queue)
    ]
    assert len(queue) == 40
    assert max(shared) <= 1
    assert sum(shared) <= 2


@given(st.sets(st.integers(0, len(CARDS) - 1), max_size=60), st.integers(0, 8))
@settings(max_examples=30, deadline=None)
def test_cards_come_one_by_one_as_the_plan_says(call: Call, due: set[int], fresh: int) -> None:
    """Played instantly, which leaves nothing to wait for, the day is its queue."""
    memories = {CARDS[nth]["id"]: kept(stability=1.0 + nth) for nth in due}
    today = day(memories, freshPerDay=fresh)
    plan = call("planned", today)
    came = []
    now = EVENING_MS
    while (name := call("next", {**today, "memories": memories, "now": now})["card"]) is not None:
        came.append(name)
        card = next(card for card in CARDS if card["id"] == name)
        memories = call("afterMark", card, memories, 4, now)
        count = call("todayCount", {**today, "memories": memories, "now": now})
        assert (count["done"], count["left"]) == (len(came), len(plan["queue"]) - len(came))
        now += 8000
    assert came == plan["queue"]


# --- minutes -----------------------------------------------------------------------------------------


def waiting(minutes: dict[int, float], last_minutes_ago: dict[int, float] | None = None) -> Memories:
    """Cards by their number in the deck that are settling and due in so many minutes."""
    ago = last_minutes_ago or {}
    return {
        CARDS[nth]["id"]: kept(
            "settling",
            first=DAWN_MS,
            last=EVENING_MS - round(ago.get(nth, 5 + nth) * MINUTE_MS),
            due=EVENING_MS + round(wait * MINUTE_MS),
        )
        for nth, wait in minutes.items()
    }


def test_a_card_that_waited_its_minutes_goes_first(call: Call) -> None:
    """The one that waits longest, before what is due today and what is new."""
    memories = settled(20) | waiting({21: -1, 22: -3, 23: 2})
    assert call("next", day(memories)) == {"card": CARDS[22]["id"], "isEarly": False, "at": None}


def test_a_card_whose_minutes_are_not_over_waits_while_there_are_others(call: Call) -> None:
    """New ones are others too."""
    found = call("next", day(waiting({0: 1}), freshPerDay=2))
    assert found == {"card": CARDS[1]["id"], "isEarly": False, "at": None}


def test_when_nothing_else_is_left_a_card_comes_up_to_twenty_minutes_early(call: Call) -> None:
    """Rather than let the student wait; later ones have to wait."""
    assert call("next", day(waiting({3: 20, 4: 15}), freshPerDay=0)) == {
        "card": CARDS[4]["id"],
        "isEarly": True,
        "at": None,
    }
    late = waiting({3: 45, 4: 20.01})
    assert call("next", day(late, freshPerDay=0)) == {
        "card": None,
        "isEarly": False,
        "at": late[CARDS[4]["id"]]["due"],
    }


def test_the_card_just_answered_comes_again_only_when_it_is_the_last(call: Call) -> None:
    """Another one goes before it, due or early."""
    memories = waiting({0: -1, 1: 15}, {0: 0, 1: 9})
    assert call("next", day(memories, freshPerDay=5))["card"] == CARDS[2]["id"]
    assert call("next", day(memories, freshPerDay=0))["card"] == CARDS[0]["id"]
    assert call("next", day(waiting({0: 1, 1: 15}, {0: 0, 1: 9}), freshPerDay=0))["card"] == CARDS[1]["id"]
    assert call("next", day(waiting({0: 1}), freshPerDay=0))["card"] == CARDS[0]["id"]


def test_a_card_left_settling_yesterday_is_among_what_is_due(call: Call) -> None:
    """And the load counts it."""
    memories = {
        CARDS[0]["id"]: kept("settling", last=DAWN_MS - 1, due=DAWN_MS + MINUTE_MS, first=DAWN_MS - 1)
    }
    plan = call("planned", day(memories, freshPerDay=0))
    assert (plan["queue"], plan["due"]) == ([CARDS[0]["id"]], 1)


# --- too much at once --------------------------------------------------------------------------------


def test_a_backlog_is_eased(call: Call) -> None:
    """Of 130 due cards fifty come, those least likely to be known; nothing new; the rest is put off."""
    memories = settled(130)
    plan = call("planned", day(memories))
    recalls = call("recalls", memories, EVENING_MS)
    assert (plan["due"], plan["fresh"], plan["later"], plan["eased"]) == (50, 0, 80, True)
    assert set(plan["queue"]) == set(sorted(recalls, key=lambda name: recalls[name])[:50])
    for name in plan["queue"][:20]:
        memories[name] |= {"last": EVENING_MS, "due": EVENING_MS + 9 * DAY_MS}
    plan = call("planned", day(memories))
    assert (plan["due"], plan["done"], plan["later"]) == (30, 20, 80)
    assert call("planned", day(memories, now=EVENING_MS + DAY_MS, dayStart=DAWN_MS + DAY_MS))["due"] == 50


@pytest.mark.parametrize(("fresh", "most"), [(0, 30), (2, 30), (3, 30), (5, 50), (8, 80)])
def test_a_comfortable_day(call: Call, fresh: int, most: int) -> None:
    """Ten times the new cards, thirty at least; new ones take what room is left."""
    assert call("comfortable", fresh) == most
    plan = call("planned", day(settled(most - 2), freshPerDay=fresh))
    assert (plan["due"], plan["fresh"], plan["eased"]) == (most - 2, min(2, fresh), False)
    assert call("planned", day(settled(100), freshPerDay=fresh))["due"] == most


# --- a clock that was wrong --------------------------------------------------------------------------


def test_a_card_marked_in_the_future_does_not_wait_for_it(call: Call) -> None:
    """It is due; marked by the right clock it waits as any other, and does not count as done before."""
    ahead = EVENING_MS + 1500 * DAY_MS
    memories = {CARDS[0]["id"]: kept(last=ahead, first=ahead, due=ahead + 30 * DAY_MS)}
    today = day(memories, freshPerDay=1)
    plan = call("planned", today)
    assert (plan["due"], plan["fresh"], plan["done"]) == (1, 1, 0)
    memories = call("afterMark", CARDS[0], memories, 3, EVENING_MS)
    plan = call("planned", {**today, "memories": memories})
    assert (plan["due"], plan["done"]) == (0, 1)
    assert EVENING_MS < memories[CARDS[0]["id"]]["due"] < EVENING_MS + 400 * DAY_MS


def test_two_clocks_a_little_apart_are_no_fault(call: Call) -> None:
    """A card that another phone marked a few minutes from now waits as usual."""
    memories = {CARDS[0]["id"]: kept(last=EVENING_MS + 5 * MINUTE_MS, due=EVENING_MS + 3 * DAY_MS)}
    assert call("planned", day(memories, freshPerDay=0))["due"] == 0


# --- a term, played ----------------------------------------------------------------------------------


def per_day(log: list[dict[str, Any]], days: int) -> tuple[list[int], list[int]]:
    """Answers of each day, and different cards of each day."""
    answers = Counter(entry["day"] for entry in log)
    cards = Counter(nth for nth, _ in {(entry["day"], entry["card"]) for entry in log})
    return [answers[nth] for nth in range(days)], [cards[nth] for nth in range(days)]


TERM = {"cards": deck(35, 12), "dayStart": DAWN_MS, "days": 98, "seed": 4}


@pytest.mark.slow
@pytest.mark.parametrize(("fresh", "first_week", "last_week"), [(5, 20, 50), (8, 33, 79)])
def test_a_term_asks_what_the_plan_says(call: Call, fresh: int, first_week: int, last_week: int) -> None:
    """Fourteen weeks: answers a day as our own figures have them, within a quarter; every day comfortable.

    This student is asked 20 times a day in the first week and 53 in the last; with 8 new cards 35 and 91.
    """
    log = call("play", {**TERM, "freshPerDay": fresh})["log"]
    answers, cards = per_day(log, 98)
    weeks = [sum(answers[start : start + 7]) / 7 for start in range(0, 98, 7)]
    assert weeks[0] == pytest.approx(first_week, rel=0.25), weeks
    assert weeks[-1] == pytest.approx(last_week, rel=0.25), weeks
    assert max(cards) <= call("comfortable", fresh)
    new = Counter(entry["day"] for entry in log if entry["isFresh"])
    assert max(new.values()) == fresh
    assert sum(new.values()) > 0.85 * 98 * fresh


@pytest.mark.slow
def test_a_fortnight_away_is_made_up_for_in_comfortable_days(call: Call) -> None:
    """No day brings more than fifty cards, new ones rest meanwhile; within a fortnight all is as usual."""
    log = call("play", {**TERM, "freshPerDay": 5, "away": [56, 70]})["log"]
    _, cards = per_day(log, 98)
    assert cards[70:73] == [50, 50, 50]
    assert max(cards) == 50
    new = Counter(entry["day"] for entry in log if entry["isFresh"])
    assert new[70] == 0
    assert sum(new[nth] for nth in range(84, 98)) > 50


def test_a_played_week_comes_back_as_the_reference_has_it(call: Call) -> None:
    """Every due moment of a week's answers, steps of minutes and days, without the spread."""
    log = call("play", {**TERM, "days": 7, "freshPerDay": 8, "isSpread": False})["log"]
    scheduler = fsrs.Scheduler(enable_fuzzing=False)
    cards: dict[str, fsrs.Card] = {}
    for entry in log:
        card = cards.get(entry["card"]) or fsrs.Card(card_id=1)
        moment = EPOCH + timedelta(milliseconds=entry["when"])
        card, _ = scheduler.review_card(card, fsrs.Rating(entry["mark"]), moment)
        cards[entry["card"]] = card
        assert card.due == EPOCH + timedelta(milliseconds=entry["due"]), entry
    assert len(cards) == 56
    assert len(log) > 150


# --- the days ahead, and where one stands ------------------------------------------------------------


def test_the_forecast_is_what_a_clean_fortnight_brings(call: Call) -> None:
    """Played without a miss, every day asks as many known and new cards as was foretold."""
    before = call("play", {**TERM, "days": 30, "freshPerDay": 5})
    cards, dawn = TERM["cards"], DAWN_MS + 30 * DAY_MS
    today = {"cards": cards, "memories": before["memories"], "now": dawn + 12 * HOUR_MS, "dayStart": dawn}
    told = call("forecast", {**today, "freshPerDay": 5})
    assert [each["day"] for each in told] == [dawn + nth * DAY_MS for nth in range(14)]
    fortnight = {**TERM, "memories": before["memories"], "dayStart": dawn, "days": 14, "freshPerDay": 5}
    log = call("play", {**fortnight, "isAllClean": True, "hour": 12, "answer_ms": 0})["log"]
    for nth, each in enumerate(told):
        known = {entry["card"] for entry in log if entry["day"] == nth}
        new = {entry["card"] for entry in log if entry["day"] == nth and entry["isFresh"]}
        assert (each["due"], each["fresh"]) == (len(known - new), len(new)), nth


def test_the_forecast_begins_with_what_is_left_of_today(call: Call) -> None:
    """And eases a backlog as the days will."""
    told = call("forecast", day(settled(130)))
    assert [each["due"] for each in told[:3]] == [50, 50, 30]
    assert [each["fresh"] for each in told[:3]] == [0, 0, 5]
    assert call("forecast", day(settled(2), freshPerDay=3))[0] == {"day": DAWN_MS, "due": 2, "fresh": 3}
    done = kept(first=EVENING_MS, last=EVENING_MS, due=EVENING_MS + 90 * DAY_MS)
    told = call("forecast", day({card["id"]: done for card in CARDS[:3]}))
    assert [each["fresh"] for each in told[:2]] == [2, 5]


def test_weak_spots_are_the_weakest_first(call: Call) -> None:
    """Slipped, then least known, then hardest; what is known well is none, nor what was never seen."""
    names = [card["id"] for card in CARDS]
    fresh_in_mind: dict[str, Any] = {"last": EVENING_MS, "due": EVENING_MS + 10 * DAY_MS}
    memories = {
        names[0]: kept(**fresh_in_mind),
        names[1]: kept(stability=2.0),
        names[2]: kept(**fresh_in_mind, difficulty=6.0),
        names[3]: kept("slipped", **fresh_in_mind),
        names[4]: kept(stability=1.0),
        names[5]: kept(**fresh_in_mind, difficulty=9.0),
        names[6]: kept(**fresh_in_mind, difficulty=5.9),
    }
    weak = [names[nth] for nth in (3, 4, 1, 5, 2)]
    assert call("weakSpots", day(memories)) == weak
    assert call("weakSpots", day(memories, most=2)) == weak[:2]
    assert call("weakSpots", day()) == []


def test_stages_are_counted_by_key_and_by_voicing(call: Call) -> None:
    """Every card once; those of other decks not."""
    cards = deck(3, 2)  # keys C and F, twelve cards
    names = [card["id"] for card in cards]
    memories = {
        names[0]: kept(),  # voicing 0 in C
        names[1]: kept("settling"),  # voicing 1 in C
        names[3]: kept("slipped"),  # voicing 0 in F
        "elsewhere": kept(),
    }
    none = {"unseen": 0, "settling": 0, "settled": 0, "slipped": 0}
    by_key = call("stagesByKey", cards, memories)
    assert by_key[0] == {"unseen": 4, "settling": 1, "settled": 1, "slipped": 0}
    assert by_key[5] == {"unseen": 5, "settling": 0, "settled": 0, "slipped": 1}
    assert [by_key[key] for key in range(12) if key not in (0, 5)] == [none] * 10
    by_voicing = call("stagesByVoicing", cards, memories, 3)
    assert by_voicing[0] == {"unseen": 2, "settling": 0, "settled": 1, "slipped": 1}
    assert by_voicing[2] == {**none, "unseen": 4}


# --- chance ------------------------------------------------------------------------------------------


def fnv1a(text: str) -> int:
    """The 32-bit FNV-1a hash, written here a second time."""
    number = 0x811C9DC5
    for byte in text.encode():
        number = (number ^ byte) * 0x01000193 % 2**32
    return number


def mixed(number: int) -> int:
    """The last steps of MurmurHash3, written here a second time."""
    for shift, factor in ((16, 0x85EBCA6B), (13, 0xC2B2AE35)):
        number = (number ^ number >> shift) * factor % 2**32
    return number ^ number >> 16


def test_chance_is_the_published_hashes(call: Call) -> None:
    """Known answers of both are from memory: FNV-1a of "a" and "foobar", MurmurHash3's mix of 1."""
    assert (fnv1a("a"), fnv1a("foobar"), mixed(1)) == (0xE40C292C, 0xBF9CF968, 0x514E28B7)
    names = ["k3Jx0aQ_9dfT", "z-5Tq1mmA0bB"]
    expected = [mixed(fnv1a(f"{name} {count}")) / 2**32 for name in names for count in range(20)]
    assert call("chances", names, list(range(20))) == expected


def chi_square(counts: Counter[Any], cells: int) -> float:
    """How far counts lie from even ones."""
    even = sum(counts.values()) / cells
    return sum((counts[cell] - even) ** 2 / even for cell in range(cells))


def test_chance_is_even(call: Call) -> None:
    """Chi-square of a hundred cells stays below its 0.1 % bound, 148.2 for 99 degrees (from memory)."""
    chance = random.Random(6)
    letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"
    names = ["".join(chance.choices(letters, k=12)) for _ in range(2000)]
    numbers = call("chances", names, list(range(10)))
    assert all(0 <= number < 1 for number in numbers)
    assert chi_square(Counter(int(number * 100) for number in numbers), 100) < 148.2
    for name in ("a", "b"):  # one card's reviews, and whether one tells the next
        row = call("chances", [name], list(range(20_000)))
        assert chi_square(Counter(int(number * 100) for number in row), 100) < 148.2
        pairs = Counter(int(one * 10) * 10 + int(other * 10) for one, other in itertools.pairwise(row))
        assert chi_square(pairs, 100) < 148.2
