"""The journal: what follows from reviews, how two journals are merged, and the file that carries one.

Outside check: memories equal those of the Python library `fsrs`, an implementation of FSRS-6 that is not
ours.
"""

from __future__ import annotations

import json
import random
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any, TypeAlias

import fsrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from .scripted import Call, scripted

Row: TypeAlias = list[Any]
Cards: TypeAlias = dict[str, list[Row]]

START_MS = 1_764_000_000_000  # a day in November 2025
MINUTE_MS, DAY_MS = 60_000, 86_400_000
CARD, OTHER = "k3Jx0aQ_9dfT", "z-5Tq1mmA0bB"
SAVED_MS = START_MS + 90 * DAY_MS


@pytest.fixture(scope="module")
def call(checkout: Path) -> Call:
    """journal.js with rows for records and plain objects for maps."""
    return scripted(
        checkout / "drills/page",
        """
        import { chance } from "./memory/daily.js";
        import {
          cleanStudent, foldCard, merge, MOST_BYTES, newReview, newUndo, readProgress, recordOf, rowOf,
          writeProgress,
        } from "./memory/journal.js";
        import { PACE } from "./memory/schedule.js";
        import { WORDS } from "./words.js";
        const records = (rows) => rows.map(recordOf);
        const written = (cards) =>
          new Map(Object.entries(cards).map(([card, rows]) => [card, records(rows)]));
        const asRead = ({ cards, ...rest }) =>
          ({ ...rest, cards: Object.fromEntries([...cards].map(([card, list]) => [card, list.map(rowOf)])) });
        const read = (text) => {
          try { return asRead(readProgress(text)); } catch (error) { return { code: error.code }; }
        };
        const known = {
          read,
          readAll: (texts) => texts.map(read),
          readHuge: () => read(" ".repeat(MOST_BYTES + 1)),
          readCounting: (text) => {
            const { parse } = JSON;
            let count = 0;
            JSON.parse = (...given) => { count += 1; return parse(...given); };
            try { return { ...read(text), count }; } finally { JSON.parse = parse; }
          },
          row: (row) => { const record = recordOf(row); return record && rowOf(record); },
          fold: (card, rows) => foldCard(card, records(rows), PACE, chance),
          foldPlainly: (card, rows) => foldCard(card, records(rows), PACE, () => null),
          merge: (some, others) => merge(records(some), records(others)).map(rowOf),
          write: (cards, saved, student) => writeProgress({ cards: written(cards), saved, student }),
          newReview: (given, rows) => rowOf(newReview(given, records(rows))),
          newUndo: (given) => rowOf(newUndo(given)),
          cleanStudent,
          told: (code) => WORDS.progress[code],
          toldLost: (count) => WORDS.progress.lost(count),
        };
        """,
    )


# --- records by chance -------------------------------------------------------------------------------

IDS = [f"{letter}bcd-_12" for letter in "abcdefgh"]
"""Few, so that journals share records, and undos find their reviews."""

reviews = st.builds(
    lambda id_, when, mark, took, recall, place: [id_, when, mark, took, recall, place][: 6 if place else 5],
    st.sampled_from(IDS),
    st.integers(START_MS, START_MS + 9 * DAY_MS),
    st.integers(1, 4),
    st.integers(0, 3_600_000),
    st.sampled_from([0.9, 0.85, 0.95]),
    st.none() | st.integers(START_MS, START_MS + 9 * DAY_MS),
)
undos = st.builds(
    lambda id_, when, undone: [f"u{id_[1:]}", when, 0, undone],
    st.sampled_from(IDS),
    st.integers(START_MS, START_MS + 9 * DAY_MS),
    st.sampled_from(IDS),
)
journals = st.lists(reviews | undos, max_size=12)


def history(chance: random.Random, length: int) -> list[Row]:
    """A likely history of one card: marks at growing gaps."""
    rows, when = [], START_MS + chance.randrange(90 * DAY_MS)
    for nth in range(length):
        rows.append(
            [f"{chance.randrange(10**8):08}", when, chance.choice([1, 2, 3, 3, 4]), chance.randrange(20_000)]
        )
        when += chance.choice([MINUTE_MS, 10 * MINUTE_MS, DAY_MS * (nth + 1)]) + chance.randrange(MINUTE_MS)
    return rows


def term(chance: random.Random, cards: int = 300) -> Cards:
    """The journal of a term: ten reviews a card."""
    return {f"{chance.randrange(10**12):012}": history(chance, 10) for _ in range(cards)}


# --- what follows ------------------------------------------------------------------------------------


def test_memories_are_the_reference_s(call: Call) -> None:
    """Stability, difficulty and the due moment, with the target recall that held at each review."""
    chance = random.Random(11)
    for _ in range(200):
        rows = [[*row, chance.choice([0.8, 0.9, 0.95])] for row in history(chance, 8)]
        card = fsrs.Card(card_id=1)
        for _, when, mark, _, recall in rows:
            moment = datetime(1970, 1, 1, tzinfo=UTC) + timedelta(milliseconds=when)
            scheduler = fsrs.Scheduler(desired_retention=recall, enable_fuzzing=False)
            card, _ = scheduler.review_card(card, fsrs.Rating(mark), moment)
        kept = call("foldPlainly", CARD, chance.sample(rows, len(rows)))
        assert (kept["stability"], kept["difficulty"]) == (card.stability, card.difficulty)
        assert datetime(1970, 1, 1, tzinfo=UTC) + timedelta(milliseconds=kept["due"]) == card.due
        assert (kept["first"], kept["count"]) == (rows[0][1], len(rows))


def test_the_spread_is_the_card_s_own(call: Call) -> None:
    """Two cards with one history come back on different days, the same card always on the same."""
    rows = [["abcdefgh", START_MS, 4, 0], ["bcdefghi", START_MS + 30 * DAY_MS, 4, 0]]
    names = [f"card{nth:08}" for nth in range(40)]
    dues = {call("fold", name, rows)["due"] for name in names}
    assert len(dues) > 5
    assert call("fold", names[0], rows) == call("fold", names[0], rows)


@given(journals, st.randoms(use_true_random=False))
@settings(max_examples=200, deadline=None)
def test_the_order_in_which_records_come_does_not_matter(
    call: Call, rows: list[Row], chance: random.Random
) -> None:
    """The fold sorts by place and id."""
    rows = call("merge", rows, [])
    assert call("fold", CARD, chance.sample(rows, len(rows))) == call("fold", CARD, rows)


@given(journals, reviews)
@settings(max_examples=200, deadline=None)
def test_an_undo_brings_back_what_was(call: Call, rows: list[Row], review: Row) -> None:
    """Wherever the review stood; a card with no other review is as if never seen."""
    rows = [row for row in call("merge", rows, []) if row[0] != review[0] and row[3] != review[0]]
    undo = call("newUndo", {"id": "Undo-987", "when": START_MS, "undoes": review[0]})
    assert call("fold", CARD, [*rows, review, undo]) == call("fold", CARD, rows)
    assert call("fold", CARD, [undo, review]) is None


def test_a_clock_put_back_does_not_hold_a_card_back(call: Call) -> None:
    """A mark after one that lies in 2030 counts as later, and the card waits from its own moment on."""
    ahead: Row = ["aheadahe", START_MS + 1500 * DAY_MS, 3, 900]
    later = [["anotherx", START_MS - DAY_MS, 4, 900], ahead]
    mark = {"id": "nowabcde", "when": START_MS, "mark": 4, "took_ms": 1, "recall": 0.9}
    row = call("newReview", mark, later)
    assert row == ["nowabcde", START_MS, 4, 1, 0.9, ahead[1] + 1]
    kept = call("fold", CARD, [row, *later])
    assert kept["last"] == START_MS
    assert START_MS + DAY_MS <= kept["due"] < START_MS + 100 * DAY_MS
    in_time = [later[0], [*ahead[:1], START_MS, *ahead[2:]], row[:4]]
    assert kept == call(
        "fold", CARD, in_time
    )  # as if the clock had shown no more than at the mark that followed
    # The next one, by the right clock, goes after it again.
    again = call("newReview", {**mark, "id": "nextabcd", "when": START_MS + DAY_MS}, [row, *later])
    assert call("fold", CARD, [again, row, *later])["last"] == START_MS + DAY_MS
    assert call("newReview", {**mark, "when": ahead[1] + 1}, later)[4:] == []


def test_a_clock_that_was_never_set_spoils_nothing_before_it(call: Call) -> None:
    """A mark of 1970 in a history: those before keep their moments; the wait begins anew with the next."""
    rows = [["firstone", START_MS, 3, 9], ["secondon", START_MS + DAY_MS, 3, 9]]
    lost = call("newReview", {"id": "lostlost", "when": 5000, "mark": 3, "took_ms": 9, "recall": 0.9}, rows)
    kept = call("fold", CARD, [*rows, lost])
    assert (kept["first"], kept["last"], kept["stage"]) == (START_MS, 5000, "settled")
    assert kept["stability"] >= call("fold", CARD, rows)["stability"]


def test_two_marks_at_one_moment_keep_their_order(call: Call) -> None:
    """A phone's clock counts milliseconds, and a test's may stand still."""
    rows: list[Row] = []
    for nth, mark in enumerate([4, 1, 3, 2]):
        new = {"id": f"{9 - nth}bcdefgh", "when": START_MS, "mark": mark, "took_ms": 0, "recall": 0.9}
        rows.append(call("newReview", new, rows))
    assert [row[2] for row in call("merge", rows, [])] == [4, 1, 3, 2]


@pytest.mark.parametrize(
    ("when", "took_ms", "kept"),
    [
        (START_MS + 0.4, 1200.6, [START_MS, 1201]),
        (-5, -1, [0, 0]),
        (1e18, 1e9, [7_258_118_400_000, 3_600_000]),
    ],
)
def test_whatever_a_clock_says_a_review_can_be_read_again(
    call: Call, when: float, took_ms: float, kept: list[int]
) -> None:
    """Moments and times are whole and within bounds."""
    given = {"id": "abcdefgh", "when": when, "mark": 3, "took_ms": took_ms, "recall": 0.9}
    row = call("newReview", given, [])
    assert [row[1], row[3]] == kept
    assert call("row", row) == row


def test_a_review_after_the_last_place_of_all_can_be_read_again(call: Call) -> None:
    """A file that puts a review as far on as can be written does not swallow those that follow."""
    last: Row = ["lastlast", START_MS, 3, 5, 0.9, 2 * 7_258_118_400_000]
    row = call(
        "newReview", {"id": "abcdefgh", "when": START_MS, "mark": 3, "took_ms": 5, "recall": 0.9}, [last]
    )
    assert call("row", row) == row
    assert call("fold", CARD, [last, row])["count"] == 2


# --- merging -----------------------------------------------------------------------------------------


@given(journals, journals, journals)
@settings(max_examples=200, deadline=None)
def test_merging_is_a_union(call: Call, one: list[Row], two: list[Row], three: list[Row]) -> None:
    """Commutes, associates, repeats without effect, even where two records share an id by mistake."""
    assert call("merge", one, two) == call("merge", two, one)
    assert call("merge", call("merge", one, two), three) == call("merge", one, call("merge", two, three))
    merged = call("merge", one, two)
    assert call("merge", merged, one) == call("merge", merged, merged) == merged
    assert {row[0] for row in merged} == {row[0] for row in one + two}


# --- the file ----------------------------------------------------------------------------------------


def test_the_file_is_what_its_description_says(call: Call, checkout: Path) -> None:
    """The example at the top of journal.js is written like that, byte for byte, but for its notes."""
    cards = {
        OTHER: [["0aaBcD34", 1763990000000, 0, "Xy3_aZ13"]],
        CARD: [["b0cE-f99", 1763900660000, 1, 812, 0.85], ["Xy3_aZ12", 1763900000000, 3, 5321, 0.9]],
    }
    text = call("write", cards, 1764000000000, "Alto table, Tuesday")
    source = (checkout / "drills/page/memory/journal.js").read_text(encoding="utf-8")
    lines = source.splitlines()
    shown = [line.removeprefix("//   ") for line in lines[lines.index("//   {") :]]
    shown = shown[: shown.index("//")]
    assert text.splitlines() == [line.split("   ")[0].rstrip() for line in shown]


@given(st.dictionaries(st.sampled_from([CARD, OTHER, "012345678901"]), journals), st.text(max_size=100))
@settings(max_examples=100, deadline=None)
def test_what_is_written_is_read_again(call: Call, cards: Cards, student: str) -> None:
    """All of it, and written again it is the same text."""
    cards = {card: call("merge", rows, []) for card, rows in cards.items() if rows}
    text = call("write", cards, SAVED_MS, student)
    found = call("read", text)
    assert found == {"cards": cards, "saved": SAVED_MS, "student": call("cleanStudent", student), "lost": 0}
    assert call("write", found["cards"], SAVED_MS, found["student"]) == text
    assert json.loads(text)["count"] == sum(map(len, cards.values()))


def test_the_same_journal_is_the_same_text(call: Call) -> None:
    """However the cards and records came."""
    chance = random.Random(3)
    cards = term(chance, 50)
    mixed = {
        card: chance.sample(cards[card], len(cards[card]))
        for card in chance.sample(sorted(cards), len(cards))
    }
    assert call("write", mixed, SAVED_MS, "") == call("write", cards, SAVED_MS, "")


def test_a_review_takes_less_than_sixty_bytes(call: Call) -> None:
    """In the journal of a term, names of cards included; even where a deck has a target recall of its own."""
    cards = term(random.Random(5))
    own = {card: [[*row, 0.85] for row in rows] for card, rows in cards.items()}
    for each in (cards, own):
        assert len(call("write", each, SAVED_MS, "").encode()) < 60 * 10 * len(each)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "[]",
        "null",
        "7",
        "{}",
        "\x89PNG\r\n",
        '{"format": "another"}',
        '{"cards": {}}',
        "<!doctype html><p>hello",
    ],
)
def test_a_foreign_file_is_told_apart(call: Call, text: str) -> None:
    """What does not say that it is ours."""
    assert call("read", text) == {"code": "foreign"}


def test_a_foreign_file_is_not_taken_apart(call: Call) -> None:
    """Line by line, one of 20 MB would hold the page up for minutes."""
    assert call("readCounting", "1,2,3\n" * 1000) == {"code": "foreign", "count": 0}


def test_a_newer_file_is_not_guessed_at(call: Call) -> None:
    """Its version decides before anything else is looked at."""
    text = call("write", {CARD: history(random.Random(1), 3)}, SAVED_MS, "")
    assert call("read", text.replace('"version": 1', '"version": 2')) == {"code": "newer"}


def test_a_file_beyond_all_measure_is_not_parsed(call: Call) -> None:
    """The limit is 20 MB: 150 reviews a day for ten years, of 36 bytes each as they are written."""
    assert call("readHuge") == {"code": "too-big"}
    card, *_ = cards = term(random.Random(9), 30)
    lines = call("write", cards, SAVED_MS, "").splitlines()
    (line,) = (each for each in lines if each.startswith(f'"{card}"'))
    assert 30 < len(line) / len(cards[card]) < 37
    assert 150 * 365 * 10 * 36 < 20_000_000


def test_lines_that_say_nothing_are_passed_over(call: Call) -> None:
    """A broken file of 20 MB may have ten million of them: none is taken apart only to fail."""
    cards = {CARD: call("merge", history(random.Random(5), 3), [])}
    text = call("write", cards, SAVED_MS, "")
    found = call("readCounting", "x\n" * 1000 + text)
    assert (found["cards"], found["lost"]) == (cards, 0)
    assert found["count"] == 1 + len(["format", "version", "saved", "student", "count", "cards", CARD])


def test_a_count_that_no_file_can_hold_is_not_believed(call: Call) -> None:
    """The loss that it would make is not told."""
    text = call("write", {CARD: history(random.Random(6), 3)}, SAVED_MS, "")
    assert call("read", text.replace('"count": 3', '"count": 1e300'))["lost"] == 1
    assert call("read", text.replace('"count": 3', '"count": 20000000'))["lost"] == 19_999_997


def test_of_a_file_cut_off_anywhere_the_whole_lines_are_taken(call: Call) -> None:
    """And it is told how much is missing; never is anything read that was not there."""
    cards = {card: call("merge", rows, []) for card, rows in term(random.Random(8), 12).items()}
    text = call("write", cards, SAVED_MS, "Tuesday")
    found = call("readAll", [text[:end] for end in range(0, len(text), 7)] + [text[:-1]])
    codes = [each.get("code") for each in found]
    assert "foreign" in codes
    assert "damaged" in codes
    assert set(codes) == {"foreign", "damaged", None}
    for each in found[codes.index(None) :]:
        taken = sum(map(len, each["cards"].values()))
        assert each["lost"] == 120 - taken < 120
        assert each["cards"].items() <= cards.items()
    assert found[-1]["lost"] == 0  # only the last bracket is missing


DAMAGED: list[Any] = [
    None,
    "text",
    [],
    ["abcdefgh", START_MS, 3],
    ["abcdefgh", START_MS, 3, 5, 0.9, START_MS, 1],
    ["abcdefg", START_MS, 3, 5],
    ["abcdefg<", START_MS, 3, 5],
    ["abcdefghi", START_MS, 3, 5],
    ["abcdefgh\n", START_MS, 3, 5],
    [7, START_MS, 3, 5],
    ["abcdefgh", -1, 3, 5],
    ["abcdefgh", START_MS + 0.5, 3, 5],
    ["abcdefgh", 7_258_118_400_001, 3, 5],
    ["abcdefgh", str(START_MS), 3, 5],
    ["abcdefgh", START_MS, 5, 5],
    ["abcdefgh", START_MS, -1, 5],
    ["abcdefgh", START_MS, 2.5, 5],
    ["abcdefgh", START_MS, 3, -5],
    ["abcdefgh", START_MS, 3, 3_600_001],
    ["abcdefgh", START_MS, 3, None],
    ["abcdefgh", START_MS, 3, 5, 0],
    ["abcdefgh", START_MS, 3, 5, 1.01],
    ["abcdefgh", START_MS, 3, 5, "0.9"],
    ["abcdefgh", START_MS, 3, 5, None],
    ["abcdefgh", START_MS, 3, 5, 0.9, -1],
    ["abcdefgh", START_MS, 3, 5, 0.9, None],
    ["abcdefgh", START_MS, 0, "short"],
    ["abcdefgh", START_MS, 0, "abcdefgi", 0.9],
]


@pytest.mark.parametrize("row", DAMAGED, ids=json.dumps)
def test_a_record_without_sense_is_left_out_and_counted(call: Call, row: object) -> None:
    """The others are taken."""
    whole = ["wholeone", START_MS, 3, 5]
    text = call("write", {CARD: [whole]}, SAVED_MS, "").replace("[[", f"[{json.dumps(row)},[")
    found = call("read", text.replace('"count": 1', '"count": 2'))
    assert (found["cards"], found["lost"]) == ({CARD: [whole]}, 1)


@pytest.mark.parametrize("card", ["short", "k3Jx0aQ_9dfTT", "k3Jx0aQ_9df<", "__proto__", ""])
def test_a_card_that_can_be_none_is_left_out_and_counted(call: Call, card: str) -> None:
    """Nothing of it is taken."""
    text = call(
        "write", {CARD: history(random.Random(2), 1), OTHER: history(random.Random(3), 2)}, SAVED_MS, ""
    )
    found = call("read", text.replace(CARD, card))
    assert (list(found["cards"]), found["lost"]) == ([OTHER], 1)


@pytest.mark.parametrize("cards", ["[]", "null", '"text"', '{"k3Jx0aQ_9dfT": 3}'])
def test_a_file_of_which_nothing_can_be_taken_is_damaged(call: Call, cards: str) -> None:
    """Rather than an empty one."""
    text = f'{{"format": "layered-voicing drills progress", "version": 1, "count": 2, "cards": {cards}}}'
    assert call("read", text) == {"code": "damaged"}


def test_an_empty_journal_is_no_damage(call: Call) -> None:
    """Saved before the first mark; a card of which nothing is left to write is not in the file."""
    assert call("write", {CARD: []}, SAVED_MS, "") == call("write", {}, SAVED_MS, "")
    assert call("read", call("write", {}, SAVED_MS, "")) == {
        "cards": {},
        "saved": SAVED_MS,
        "student": "",
        "lost": 0,
    }


def test_a_file_that_an_editor_has_laid_out_anew_is_read(call: Call) -> None:
    """As any JSON; with other line ends line by line too."""
    cards = {CARD: call("merge", history(random.Random(4), 5), [])}
    text = call("write", cards, SAVED_MS, "")
    anew = json.dumps(json.loads(text), indent=4, sort_keys=True)
    cut_off = text.replace("\n", "\r\n")[:-6]
    assert call("read", anew)["cards"] == call("read", "\ufeff" + text)["cards"] == cards
    assert call("read", cut_off) == call("read", text)


@pytest.mark.parametrize(
    ("given_text", "kept"),
    [
        ("  Table\n\tfour ", "Table four"),
        ("x" * 100, "x" * 80),
        ("𝄞" * 100, "𝄞" * 80),
        ("<b>Ann</b>", "<b>Ann</b>"),
        ("a\u202eb\u0000c", "a b c"),
        (None, ""),
        (7, ""),
    ],
)
def test_a_student_s_name_is_one_short_line(call: Call, given_text: object, kept: str) -> None:
    """As text; the page shows it as text, whatever it looks like."""
    assert call("cleanStudent", given_text) == kept
    assert json.loads(call("write", {}, SAVED_MS, given_text))["student"] == kept


@pytest.mark.parametrize("code", ["foreign", "damaged", "newer", "too-big", "full", "refused", "newer-page"])
def test_every_fault_is_told_in_words(call: Call, code: str) -> None:
    """What is wrong and what to do; a file that was refused has changed nothing."""
    text = call("told", code)
    assert len(text.split(". ")) > 1
    assert ("Nothing was changed." in text) == (code in {"foreign", "damaged", "newer", "too-big"})


def test_a_loss_is_told_with_its_size(call: Call) -> None:
    """One or many."""
    assert call("toldLost", 1).startswith("1 review could")
    assert call("toldLost", 12).startswith("12 reviews could")
