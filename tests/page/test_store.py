"""What the page remembers, in a real browser: tabs, killed pages, storage full, refused, slow or newer."""

from __future__ import annotations

import json
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from .conftest import Served
from .engine import bundled

if TYPE_CHECKING:
    from playwright.sync_api import BrowserContext, Page

START_MS = 1_764_000_000_000
MINUTE_MS, DAY_MS = 60_000, 86_400_000
CARD, OTHER = "k3Jx0aQ_9dfT", "z-5Tq1mmA0bB"

ENTRY = """
import { chance } from "./memory/daily.js";
import { foldCard, readProgress, recordOf } from "./memory/journal.js";
import { PACE } from "./memory/schedule.js";
import { openStore } from "./memory/store.js";

const plain = globalThis.plain = (map) => Object.fromEntries(map);
const mark = (card, mark, when) => ({ card, mark, when, took_ms: 900 });

/** The store as JSON sees it, and what a test does with it. */
globalThis.start = async (how = {}) => {
  const store = await openStore({ indexedDB, ...how });
  globalThis.heard = 0;
  globalThis.takeovers = 0;
  store.watch(() => (heard += 1), () => (takeovers += 1));
  globalThis.store = store;
  return { isKept: store.isKept, fault: store.fault && store.fault.code };
};
globalThis.marks = async (list) => {
  const done = [];
  for (const [card, given, when, recall = 0.9] of list) {
    const pace = { ...PACE, targetRecall: recall };
    const { review, kept, fault } = await store.mark({ ...mark(card, given, when), pace });
    done.push({ review, kept, fault: fault && fault.code });
  }
  return done;
};
globalThis.memories = async () => plain(await store.memories());
globalThis.failing = async (work) => {
  try { await work(); return null; } catch (error) { return error.code; }
};
/** Marks without end, each as soon as the one before is written. */
globalThis.burst = async (cards) => {
  for (let nth = 0; ; nth += 1) {
    const when = 1_764_000_000_000 + nth * 1000;
    await Promise.all(cards.map((card) => store.mark(mark(card, 1 + (nth % 4), when))));
    globalThis.written = nth + 1;
  }
};
/** Reads a file of so many cards, each with one record. */
globalThis.readMany = (count) => {
  const line = (card) => `"${String(card).padStart(12, "0")}":[["abcdefgh",1764000000000,3,9]]`;
  const lines = Array.from({ length: count }, (_, card) => line(card));
  const head = JSON.stringify({ format: "layered-voicing drills progress", version: 1, count });
  const { cards, lost } = readProgress(`${head.slice(0, -1)},"cards":{${lines.join(",")}}}`);
  return { cards: cards.size, lost };
};
/** Of each card what is kept, and what follows from its journal. */
globalThis.bothWays = async () => {
  const { cards } = readProgress(await store.exportText({ when: 0 }));
  const folded = [...cards].map(([card, records]) => [card, foldCard(card, records, PACE, chance)]);
  return { kept: await memories(), folded: Object.fromEntries(folded.filter(([, kept]) => kept !== null)) };
};
"""


@pytest.fixture
def tab(phone: BrowserContext, served: Served, tmp_path: Path, checkout: Path) -> Callable[[], Page]:
    """Opens tabs of one phone on a page that knows the store's functions."""
    script = bundled(checkout / "drills/page", ENTRY)
    (tmp_path / "store.js").write_text(script, encoding="utf-8")
    page_text = '<!doctype html><meta charset="utf-8"><title>store</title><link rel="icon" href="data:,">'
    (tmp_path / "index.html").write_text(page_text + '<script src="store.js"></script>', encoding="utf-8")
    address = served(tmp_path)

    def open_tab() -> Page:
        page = phone.new_page()
        page.goto(address)
        return page

    return open_tab


def started(tab: Callable[[], Page], how: str = "{}") -> Page:
    """A tab with its store open."""
    page = tab()
    page.evaluate(f"start({how})")
    return page


def marks(page: Page, *given: tuple[Any, ...]) -> list[dict[str, Any]]:
    """Marks cards: card, mark, moment, and a target recall if it is not the usual one."""
    done: list[dict[str, Any]] = page.evaluate("(list) => marks(list)", [list(each) for each in given])
    return done


def exported(page: Page, student: str | None = None) -> str:
    """The progress file."""
    text: str = page.evaluate("(student) => store.exportText({ when: 5, student })", student)
    return text


def records(page: Page) -> int:
    """How many records the progress file has."""
    count: int = json.loads(exported(page))["count"]
    return count


def agreeing(page: Page) -> dict[str, Any]:
    """What is kept of each card, after it was held against the journal."""
    both = page.evaluate("bothWays()")
    assert both["kept"] == both["folded"]
    kept: dict[str, Any] = both["kept"]
    return kept


# --- marks -------------------------------------------------------------------------------------------


def test_marks_outlive_the_page(tab: Callable[[], Page]) -> None:
    """Memories, journal and settings are there when it opens again."""
    page = started(tab)
    [first, second] = marks(page, (CARD, 3, START_MS), (CARD, 3, START_MS + 11 * MINUTE_MS, 0.85))
    assert first["fault"] is second["fault"] is None
    assert (first["kept"]["stage"], second["kept"]["stage"]) == ("settling", "settled")
    assert (second["kept"]["first"], second["kept"]["count"]) == (START_MS, 2)
    assert second["review"]["card"] == CARD
    assert second["review"]["recall"] == 0.85
    page.evaluate("store.saveSettings({ theme: 'dark' })")
    page.evaluate("store.noteExport(7)")
    page.close()
    page = tab()
    assert page.evaluate("start()") == {"isKept": True, "fault": None}
    assert page.evaluate("plain(store.found.memories)") == {CARD: second["kept"]}
    assert page.evaluate("store.found.settings") == {"theme": "dark"}
    assert agreeing(page) == {CARD: second["kept"]}
    assert page.evaluate("store.settings()") == {"theme": "dark"}
    assert page.evaluate("store.lastExport()") == 7


def test_an_undo_takes_back_the_mark_and_nothing_else(tab: Callable[[], Page]) -> None:
    """Also the first one, after which the card is as if never seen; and it stays undone."""
    page = started(tab)
    [first, second, other] = marks(
        page, (CARD, 3, START_MS), (CARD, 1, START_MS + MINUTE_MS), (OTHER, 4, START_MS)
    )
    undo = "(id) => store.unmark(id)"
    assert page.evaluate(undo, second["review"]["id"]) == {"card": CARD, "kept": first["kept"], "fault": None}
    assert page.evaluate(undo, first["review"]["id"]) == {"card": CARD, "kept": None, "fault": None}
    assert agreeing(page) == {OTHER: other["kept"]}
    assert records(page) == 5
    page.close()
    assert agreeing(started(tab)) == {OTHER: other["kept"]}


def test_two_tabs_do_not_overwrite_one_another(tab: Callable[[], Page]) -> None:
    """Each reads what the other has written, and is told of it."""
    one, other = started(tab), started(tab)
    one.evaluate("memories()")
    other.evaluate("memories()")
    marks(one, (CARD, 3, START_MS))
    [second] = marks(other, (CARD, 3, START_MS + 11 * MINUTE_MS))
    assert second["kept"]["count"] == 2
    one.wait_for_function("heard === 1")
    other.wait_for_function("heard === 1")
    assert one.evaluate("memories()") == other.evaluate("memories()") == {CARD: second["kept"]}
    both = [(CARD, 1 + nth % 4, START_MS + nth * DAY_MS) for nth in range(1, 21)]
    for page in (one, other):
        page.evaluate("(list) => { globalThis.done = false; marks(list).then(() => (done = true)); }", both)
    for page in (one, other):
        page.wait_for_function("done")
    assert agreeing(one)[CARD]["count"] == 42
    assert agreeing(one) == agreeing(other)


@pytest.mark.parametrize("how", ["closed", "crashed"])
def test_a_page_killed_in_mid_write_leaves_all_or_nothing(tab: Callable[[], Page], how: str) -> None:
    """Journal and memories agree afterwards, and no mark that was written is lost."""
    from playwright.sync_api import Error

    cards = [f"card{nth:08}" for nth in range(12)]
    for _ in range(3):
        page = started(tab)
        page.evaluate("(cards) => { burst(cards); }", cards)
        page.wait_for_function("globalThis.written >= 3")
        written = page.evaluate("written")
        if how == "crashed":
            with page.expect_event("crash"), suppress(Error):  # nobody is left to answer
                page.goto("chrome://crash")
        page.close()
        kept = agreeing(started(tab))
        assert all(kept[card]["count"] >= written for card in cards)


def test_a_card_keeps_its_history_whatever_deck_is_open(tab: Callable[[], Page]) -> None:
    """The store never takes a card out."""
    page = started(tab)
    marks(page, (CARD, 3, START_MS))
    page.close()
    page = started(tab)
    marks(page, *((f"card{nth:08}", 3, START_MS) for nth in range(30)))
    assert CARD in agreeing(page)


def test_a_clock_put_back_loses_nothing(tab: Callable[[], Page]) -> None:
    """The later mark counts as the later one, though its moment is earlier."""
    page = started(tab)
    [_, second] = marks(page, (CARD, 3, START_MS + 1000 * DAY_MS), (CARD, 4, START_MS))
    assert second["kept"]["last"] == START_MS
    assert second["kept"]["due"] < START_MS + 100 * DAY_MS
    assert second["kept"]["count"] == 2
    agreeing(page)


# --- no room, no store -------------------------------------------------------------------------------

FULL = """() => {
  globalThis.isFull = true;
  const { put } = IDBObjectStore.prototype;
  IDBObjectStore.prototype.put = function (...given) {
    if (isFull) throw new DOMException("no room", "QuotaExceededError");
    return put.apply(this, given);
  };
}"""


def test_a_mark_for_which_there_is_no_room_is_kept_in_mind(tab: Callable[[], Page]) -> None:
    """It counts, goes into the progress file, and is written with the next one that can be."""
    page = started(tab)
    [before] = marks(page, (CARD, 3, START_MS))
    page.evaluate(FULL)
    [second, other] = marks(page, (CARD, 3, START_MS + 11 * MINUTE_MS), (OTHER, 1, START_MS))
    assert (before["fault"], second["fault"], other["fault"]) == (None, "full", "full")
    assert second["kept"]["count"] == 2
    assert agreeing(page) == {CARD: second["kept"], OTHER: other["kept"]}
    assert records(page) == 3
    undone = page.evaluate("async (id) => (await store.unmark(id)).fault.code", other["review"]["id"])
    assert undone == "full"
    assert agreeing(page) == {CARD: second["kept"]}
    text = exported(page)
    assert (
        page.evaluate("(text) => failing(() => store.importText(text))", text.replace(OTHER, "x" * 12))
        == "full"
    )
    assert exported(page) == text
    page.evaluate("isFull = false")
    [third] = marks(page, ("another_card", 3, START_MS))
    assert third["fault"] is None
    page.close()
    page = started(tab)
    assert agreeing(page) == {CARD: second["kept"], "another_card": third["kept"]}
    assert records(page) == 5


def test_the_browser_s_own_limit_is_understood(tab: Callable[[], Page], phone: BrowserContext) -> None:
    """A page whose share of the disk is used up, and then given room again."""
    page = tab()
    session, origin = phone.new_cdp_session(page), {"origin": page.evaluate("origin")}
    session.send("Storage.overrideQuotaForOrigin", origin | {"quotaSize": 1})
    page.evaluate("start()")
    [first] = marks(page, (CARD, 3, START_MS))
    assert (first["fault"], first["kept"]["count"]) == ("full", 1)
    session.send("Storage.overrideQuotaForOrigin", origin)
    [second] = marks(page, (CARD, 3, START_MS + 11 * MINUTE_MS))
    assert (second["fault"], second["kept"]["count"]) == (None, 2)
    assert agreeing(page) == {CARD: second["kept"]}
    page.close()
    assert agreeing(started(tab)) == {CARD: second["kept"]}


REFUSALS = {
    "none": "{ indexedDB: null }",
    "throwing": "{ indexedDB: { open() { throw new DOMException('no', 'SecurityError'); } } }",
    "failing": """{ indexedDB: { open() {
        const request = { error: new DOMException("no", "UnknownError") };
        setTimeout(() => request.onerror(new Event("error")));
        return request;
      } } }""",
    "hanging": "{ indexedDB: { open: () => ({}) }, patience_ms: 50 }",
    "no channel": "{ indexedDB: null, Channel: null, storage: undefined }",
}


@pytest.mark.parametrize("how", REFUSALS.values(), ids=REFUSALS)
def test_without_storage_everything_works_until_the_page_closes(tab: Callable[[], Page], how: str) -> None:
    """Marks, undo, settings, export and import."""
    page = tab()
    assert page.evaluate(f"start({how})") == {"isKept": False, "fault": "refused"}
    [first, second] = marks(page, (CARD, 3, START_MS), (CARD, 1, START_MS + MINUTE_MS))
    assert (first["fault"], second["kept"]["count"]) == (None, 2)
    page.evaluate("(id) => store.unmark(id)", second["review"]["id"])
    assert agreeing(page) == {CARD: first["kept"]}
    page.evaluate("store.saveSettings({ theme: 'dark' })")
    assert page.evaluate("store.settings()") == {"theme": "dark"}
    assert page.evaluate("store.askToPersist()") == "refused"
    text = exported(page)
    page.reload()
    page.evaluate(f"start({how})")
    assert page.evaluate("memories()") == {}
    assert page.evaluate("(text) => store.importText(text)", text) == {
        "added": 3,
        "known": 0,
        "cards": 1,
        "lost": 0,
    }
    assert agreeing(page) == {CARD: first["kept"]}


def test_a_store_that_answers_too_late_is_let_go(tab: Callable[[], Page]) -> None:
    """It is closed when it comes, so that it is in nobody's way."""
    page = tab()
    slow = """{ patience_ms: 20, indexedDB: { open(...given) {
      const late = {};
      setTimeout(() => {
        const request = indexedDB.open(...given);
        request.onupgradeneeded = (event) => late.onupgradeneeded.call(request, event);
        request.onsuccess = () => {
          const { close } = request.result;
          request.result.close = () => { globalThis.isLetGo = true; close.call(request.result); };
          late.result = request.result;
          late.onsuccess();
        };
        Object.defineProperty(late, "result", { get: () => request.result, set() {} });
      }, 60);
      return late;
    } } }"""
    assert page.evaluate(f"start({slow})")["isKept"] is False
    page.wait_for_function("globalThis.isLetGo")


def test_a_page_that_was_busy_has_not_lost_its_patience(tab: Callable[[], Page]) -> None:
    """Nobody can be heard by a page that takes its deck apart, or that sleeps; the answer counts after it."""
    page = tab()
    busy = """{ patience_ms: 400, indexedDB: { open(...given) {
      for (const until = performance.now() + 450; performance.now() < until; );
      return indexedDB.open(...given);
    } } }"""
    assert page.evaluate(f"start({busy})") == {"isKept": True, "fault": None}


def test_a_newer_page_takes_the_store_over(tab: Callable[[], Page]) -> None:
    """The older one lets go and says so; its marks are kept in mind and in a file. One later is refused."""
    old = started(tab)
    [first] = marks(old, (CARD, 3, START_MS))
    newer = tab()
    newer.evaluate("""() => new Promise((resolve, reject) => {
      const request = indexedDB.open("layered-voicing drills", 99);
      request.onblocked = () => reject(new Error("the older page holds on"));
      request.onupgradeneeded = () => request.result.createObjectStore("of the future");
      request.onsuccess = () => { request.result.close(); resolve(); };
    })""")
    old.wait_for_function("takeovers === 1")
    assert old.evaluate("failing(() => store.exportText({ when: 1 }))") == "newer-page"
    [second] = marks(old, (CARD, 3, START_MS + 11 * MINUTE_MS))
    assert (second["fault"], second["kept"]["count"]) == ("newer-page", 2)
    assert old.evaluate("memories()") == {CARD: second["kept"]}
    assert old.evaluate("(id) => failing(() => store.unmark(id))", first["review"]["id"]) == "newer-page"
    unwritten = json.loads(exported(old))
    assert unwritten["cards"] == {
        CARD: [[second["review"]["id"].split(".")[1], START_MS + 11 * MINUTE_MS, 3, 900]]
    }
    late = tab()
    assert late.evaluate("start()") == {"isKept": False, "fault": "newer-page"}


CLOSED = {
    "told": "() => { database.close(); database.onclose(); }",
    "in silence": "() => database.close()",
    "cleared": """() => new Promise((resolve) => {
      indexedDB.deleteDatabase("layered-voicing drills").onsuccess = resolve;
    })""",
}
"""As when the browser has taken it away for a moment, or somebody clears what the site keeps."""


@pytest.mark.parametrize("how", CLOSED)
def test_a_store_closed_under_the_page_is_opened_again(tab: Callable[[], Page], how: str) -> None:
    """The next mark is written, and nobody is told of a newer page that is not there."""
    page = tab()
    page.evaluate("""() => {
      const { open } = IDBFactory.prototype;
      IDBFactory.prototype.open = function (...given) {
        const request = open.apply(this, given);
        request.addEventListener("success", () => (globalThis.database = request.result));
        return request;
      };
    }""")
    page.evaluate("start()")
    marks(page, (CARD, 3, START_MS))
    page.evaluate(CLOSED[how])
    [second] = marks(page, (CARD, 3, START_MS + 11 * MINUTE_MS))
    assert (second["fault"], second["kept"]["count"]) == (None, 1 if how == "cleared" else 2)
    assert agreeing(page) == {CARD: second["kept"]}
    assert page.evaluate("takeovers") == 0


def test_a_store_that_failed_at_the_start_takes_nothing_with_it_later(tab: Callable[[], Page]) -> None:
    """It opened and could not be read: marks are in the page's memory, and stay there when it is closed."""
    page = tab()
    page.evaluate("""() => {
      const { getAll } = IDBObjectStore.prototype;
      IDBObjectStore.prototype.getAll = function (...given) {
        globalThis.database = this.transaction.db;
        IDBObjectStore.prototype.getAll = getAll;
        throw new DOMException("not now", "UnknownError");
      };
    }""")
    assert page.evaluate("start()") == {"isKept": False, "fault": "refused"}
    [first] = marks(page, (CARD, 3, START_MS))
    page.evaluate("database.onclose()")
    assert records(page) == 1
    assert agreeing(page) == {CARD: first["kept"]}


# --- the progress file -------------------------------------------------------------------------------


def test_a_wiped_phone_is_itself_again_after_an_import(
    tab: Callable[[], Page], phone: BrowserContext
) -> None:
    """Every memory to the last bit, and a second import adds nothing."""
    page = started(tab)
    done = marks(
        page,
        *((CARD, mark, START_MS + day * DAY_MS, 0.85) for day, mark in enumerate([3, 3, 1, 4])),
        *((OTHER, mark, START_MS + day * DAY_MS) for day, mark in enumerate([1, 2])),
    )
    page.evaluate("(id) => store.unmark(id)", done[-1]["review"]["id"])
    before, text = agreeing(page), exported(page, "Table four")
    assert page.evaluate("store.student()") == "Table four"
    phone.new_cdp_session(page).send(
        "Storage.clearDataForOrigin", {"origin": page.evaluate("origin"), "storageTypes": "all"}
    )
    page.close()
    page = started(tab)
    assert page.evaluate("memories()") == {}
    imported = "(text) => store.importText(text)"
    assert page.evaluate(imported, text) == {"added": 7, "known": 0, "cards": 2, "lost": 0}
    assert agreeing(page) == before
    assert page.evaluate(imported, text) == {"added": 0, "known": 7, "cards": 0, "lost": 0}
    assert exported(page, "Table four") == text


def test_two_phones_are_merged_in_either_order(
    tab: Callable[[], Page], new_phone: Callable[[], BrowserContext]
) -> None:
    """Both end with the same file and the same memories."""
    one, away = started(tab), new_phone().new_page()
    away.goto(one.url)
    away.evaluate("start()")
    marks(one, *((CARD, 3, START_MS + nth * DAY_MS) for nth in range(0, 8, 2)), (OTHER, 4, START_MS))
    marks(away, *((CARD, 2, START_MS + nth * DAY_MS) for nth in range(1, 8, 3)))
    texts = exported(one), exported(away)
    one.evaluate("(text) => store.importText(text)", texts[1])
    away.evaluate("(text) => store.importText(text)", texts[0])
    assert exported(one) == exported(away)
    assert agreeing(one) == agreeing(away)
    assert agreeing(one)[CARD]["count"] == 7


def test_records_that_share_an_id_are_settled_alike_on_both_phones(tab: Callable[[], Page]) -> None:
    """As after somebody edited a file: whichever of the two came first, the same one is kept, and written."""
    page = started(tab)
    texts = []
    for card, given in ((CARD, (3, 2)), (OTHER, (2, 3))):
        for mark in given:
            row = ["abcdefgh", START_MS, mark, 900]
            head = {"format": "layered-voicing drills progress", "version": 1, "count": 1}
            texts.append(json.dumps(head | {"cards": {card: [row]}}))
    results = [page.evaluate("(text) => store.importText(text)", text) for text in texts]
    assert [(result["added"], result["cards"]) for result in results] == [(1, 1), (0, 0), (1, 1), (0, 0)]
    cards = json.loads(exported(page))["cards"]
    assert cards[CARD] == cards[OTHER] == [["abcdefgh", START_MS, 2, 900]]
    page.reload()
    page.evaluate("start()")
    kept = agreeing(page)
    assert kept[CARD] == kept[OTHER]


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ('"hello"', "foreign"),
        ('"{}"', "foreign"),
        ("(await store.exportText({ when: 1 })).replace('\"version\": 1', '\"version\": 2')", "newer"),
        ("(await store.exportText({ when: 1 })).slice(0, 150)", "damaged"),
        ("' '.repeat(20_000_001)", "too-big"),
    ],
)
def test_a_file_that_cannot_be_read_changes_nothing(tab: Callable[[], Page], text: str, code: str) -> None:
    """And is told by its code."""
    page = started(tab)
    marks(page, (CARD, 3, START_MS))
    before = exported(page)
    assert page.evaluate(f"failing(async () => store.importText({text}))") == code
    assert exported(page) == before


@pytest.mark.slow
def test_a_file_with_more_cards_than_can_be_met_is_not_taken(tab: Callable[[], Page]) -> None:
    """The limit is 200,000: 50 fresh cards a day for ten years; as many as that are still taken."""
    page = tab()
    assert page.evaluate("readMany(200_000)") == {"cards": 200_000, "lost": 0}
    assert page.evaluate("failing(async () => readMany(200_001))") == "too-big"


def test_a_promise_to_keep_is_asked_for(tab: Callable[[], Page]) -> None:
    """The browser's answer is passed on; one without an answer is unknown."""
    page = tab()
    for storage, answer in {
        "{ persisted: async () => true }": "granted",
        "{ persisted: async () => false, persist: async () => true }": "granted",
        "{ persisted: async () => false, persist: async () => false }": "refused",
        "{ persisted: async () => { throw new TypeError('opaque'); } }": "unknown",
        "null": "unknown",
    }.items():
        page.evaluate(f"start({{ storage: {storage} }})")
        assert page.evaluate("store.askToPersist()") == answer
        page.evaluate("store.close()")


@pytest.mark.slow
def test_a_large_journal_is_read_only_for_a_file(tab: Callable[[], Page]) -> None:
    """Of 10,000 cards with 100,000 reviews: neither the start nor a mark reads the journal as a whole."""
    page = started(tab)
    page.evaluate("""async () => {
      const cards = Array.from({ length: 10_000 }, (_, card) => {
        const rows = Array.from({ length: 10 }, (_, nth) => {
          const when = 1_700_000_000_000 + card * 1000 + nth * nth * 86_400_000;
          return [String(nth).padStart(8, "0"), when, 1 + (nth + card) % 4, card];
        });
        return `"${String(card).padStart(12, "0")}": ${JSON.stringify(rows)}`;
      });
      const head = '{"format": "layered-voicing drills progress", "version": 1, "count": 100000, "cards": {';
      return store.importText(`${head}${cards.join(",")}}}`);
    }""")
    page.reload()
    read = page.evaluate("""async () => {
      const { getAll } = IDBObjectStore.prototype;
      const read = [];
      IDBObjectStore.prototype.getAll = function () { read.push(this.name); return getAll.apply(this); };
      await start();
      await marks([["000000000007", 3, 1_764_000_000_000]]);
      const before = [...read];
      const { count } = JSON.parse(await store.exportText({ when: 1 }));
      return { before, after: read, count };
    }""")
    assert read == {"before": ["memories"], "after": ["memories", "journal"], "count": 100_001}
