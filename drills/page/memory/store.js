// What the page remembers: the journal of reviews, what follows from it for each card, and a few settings.
// All decks of a site share it.
//
// Three stores: `journal` holds each card's rows (see journal.js), `memories` what follows from them, so that
// a start need not read the journal, and `meta` the rest. Whatever changes a card reads its rows, adds to
// them and writes both in one transaction: two tabs cannot overwrite one another, and a tab that is killed
// leaves all of it or nothing. Cards are never taken out: one that is gone from a deck may be in the next.
//
// Memories lie in drawers by the last letter of their card, 64 at most: a browser reads 64 large values four
// times as fast as 10,000 small ones.

import { chance } from "./daily.js";
import { makeMemoryDatabase, openDatabase } from "./database.js";
import {
  cleanStudent,
  extend,
  foldCard,
  merge,
  newReview,
  newUndo,
  PageError,
  readProgress,
  recordOf,
  rowOf,
  writeProgress,
} from "./journal.js";
import { PACE } from "./schedule.js";

/**
 * @typedef {import("./journal.js").Kept} Kept
 * @typedef {import("./journal.js").JournalRecord} JournalRecord
 *
 * @typedef {Object} Marked
 * @property {import("./journal.js").Review & { card: string }} review its id is good for `unmark`
 * @property {Kept} kept
 * @property {PageError | null} fault "full" or a refusal: the mark counts and will be written with the next
 *   one that can be, and until then a progress file holds it; but it is lost when the page closes before
 *
 * @typedef {Awaited<ReturnType<typeof openStore>>} Store
 */

/**
 * Opens what is kept on this device. Where the browser refuses, everything works for as long as the page is
 * open.
 *
 * @param {Object} given
 * @param {IDBFactory | null} [given.indexedDB]
 * @param {() => string} [given.newId] 8 url-safe characters by chance
 * @param {typeof BroadcastChannel} [given.Channel] tells other tabs; there are browsers without one
 * @param {StorageManager} [given.storage]
 * @param {number} [given.patience_ms] how long to wait for the browser's answer
 */
export async function openStore({
  indexedDB = null,
  newId = randomId,
  Channel = globalThis.BroadcastChannel,
  storage = globalThis.navigator?.storage,
  patience_ms = 3000,
}) {
  const { keeper, found } = await openKeeper({ indexedDB, patience_ms });
  const channel = openChannel(Channel);
  const inTurn = makeTurns();
  const changed = () => channel?.postMessage("changed");
  const journal = makeJournal(keeper, found.drawers, changed);
  const meta = makeMeta(keeper, changed);
  return {
    /** False where storage was refused: progress ends with the page, unless it is saved to a file. */
    isKept: keeper.fault === null,
    /** Why not: "refused", or "newer-page" when a newer page has been here. @type {PageError | null} */
    fault: keeper.fault,
    /** What there was at the opening, see `memories` and `settings`. */
    found: { memories: journal.known, settings: found.settings },
    /** Of every card ever met; always the same map, kept up to date. @returns {Promise<Map<string, Kept>>} */
    memories: () => inTurn(journal.memories),
    /** @returns {Promise<Marked>} */
    mark: ({ card, mark, when, took_ms, pace = PACE }) =>
      inTurn(() => journal.mark(card, { id: newId(), mark, when, took_ms, recall: pace.targetRecall })),
    /** @returns {Promise<{ card: string, kept: Kept | null, fault: PageError | null }>} null: unseen */
    unmark: (reviewId, when = Date.now()) => inTurn(() => journal.unmark(reviewId, { id: newId(), when })),
    /** Whatever was saved last, or null. */
    settings: () => inTurn(() => meta.get("settings")),
    saveSettings: (settings) => inTurn(() => meta.set("settings", settings)),
    /** @returns {Promise<number | null>} ms */
    lastExport: () => inTurn(() => meta.get("last export")),
    noteExport: (when) => inTurn(() => meta.set("last export", when)),
    /** The name that the last progress file bore. @returns {Promise<string>} */
    student: () => inTurn(async () => (await meta.get("student")) ?? ""),
    /**
     * All that is known as one file. Where the store cannot be read, what is not written to it yet: that can
     * be merged with the rest later.
     *
     * @returns {Promise<string>}
     * @throws when the store cannot be read and nothing is unwritten
     */
    exportText: ({ when, student = null }) =>
      inTurn(async () => {
        await meta.set("student", cleanStudent(student));
        return writeProgress({ cards: await journal.all(), saved: when, student });
      }),
    /**
     * Takes in a progress file; what is here already is not taken twice.
     *
     * @returns {Promise<{ added: number, known: number, cards: number, lost: number }>} records new and
     *   known, cards with new ones, and records that the file has lost
     * @throws {PageError} and nothing has changed
     */
    importText: (text) => inTurn(() => journal.takeIn(readProgress(text))),
    /** Asks the browser not to clear what is kept. @returns {Promise<"granted" | "refused" | "unknown">} */
    askToPersist: () => (keeper.fault === null ? askToPersist(storage) : Promise.resolve("refused")),
    /** Tells when another tab wrote; and when a newer page took over, so that this one should be reloaded. */
    watch(callback, onClosed = () => {}) {
      channel?.addEventListener("message", () => callback());
      keeper.onClosed = onClosed;
    },
    close() {
      channel?.close();
      keeper.close();
    },
  };
}

// --- the database, whatever becomes of it ---------------------------------------------------------

/**
 * Holds the database open; one that was closed under the page is opened again when it is needed. What a page
 * begins with is read along with the opening, all in one go: on a phone each way to the database and back counts.
 */
async function openKeeper({ indexedDB, patience_ms }) {
  const keeper = { fault: null, onClosed() {}, use, close: () => database?.close() };
  let database = null;
  const open = () =>
    openDatabase({
      indexedDB,
      patience_ms,
      onClosed(isNewer) {
        database = null;
        if (isNewer) keeper.onClosed();
      },
    });
  async function use(work) {
    database ??= await open();
    try {
      return await work(database);
    } catch (error) {
      if (error?.name !== "InvalidStateError") throw error;
      // Closed, and nobody was told, as some phones do while a page sleeps.
      database = await open();
      return work(database);
    }
  }
  try {
    // Some browsers open and then fail to read.
    return { keeper, found: await use(beginning) };
  } catch (error) {
    keeper.fault = faultOf(error);
    database?.close();
    const inMemory = makeMemoryDatabase();
    // For good: whatever still becomes of a database that failed, what is in memory stays.
    keeper.use = (work) => work(inMemory);
    return { keeper, found: await keeper.use(beginning) };
  }
}

async function beginning(database) {
  const [drawers, settings = null] = await Promise.all([
    database.entries("memories"),
    database.get("meta", "settings"),
  ]);
  return { drawers, settings };
}

function faultOf(error) {
  if (error instanceof PageError) return error;
  return new PageError(error?.name === "QuotaExceededError" ? "full" : "refused", String(error));
}

// --- the journal ----------------------------------------------------------------------------------

function makeJournal(keeper, drawers, changed) {
  /** By card, what is unwritten. @type {Map<string, { records: JournalRecord[], kept: Kept | null }>} */
  const unwritten = new Map();
  /** What was read last, kept up to date. @type {Map<string, Kept>} */
  const memories = new Map();
  fill(drawers);

  function fill(read) {
    memories.clear();
    for (const [, inside] of read) {
      for (const [card, kept] of Object.entries(inside)) memories.set(card, kept);
    }
    for (const [card, { kept }] of unwritten) setOrDelete(memories, card, kept);
    return memories;
  }

  /**
   * Adds records to cards, along with all that is still unwritten.
   *
   * @param {Map<string, (known: JournalRecord[]) => JournalRecord[]>} additions by card
   * @returns {Promise<{ after: Map<string, After> | null, fault: PageError | null }>} after: null when
   *   nothing could even be read
   */
  async function add(additions) {
    const cards = [...new Set([...additions.keys(), ...unwritten.keys()])];
    const drawers = [...new Set(cards.map(drawerOf))];
    const from = (store) => (key) => [store, key];
    const addresses = [...cards.map(from("journal")), ...drawers.map(from("memories"))];
    let after = null;
    const decide = (values) => {
      after = new Map(cards.map((card, nth) => {
        const written = recordsOf(values[nth]);
        const known = merge(written, unwritten.get(card)?.records ?? []);
        return [card, grown(card, written, known, additions.get(card)?.(known) ?? [])];
      }));
      const contents = values.slice(cards.length);
      return changesOf(after, new Map(drawers.map((drawer, nth) => [drawer, { ...contents[nth] }])));
    };
    try {
      await keeper.use((database) => database.change(addresses, decide));
    } catch (error) {
      return { after, fault: faultOf(error) };
    }
    unwritten.clear();
    for (const [card, { kept }] of after) setOrDelete(memories, card, kept);
    changed();
    return { after, fault: null };
  }

  /** Keeps a record that could not be written. */
  function hold(card, record, kept) {
    unwritten.set(card, { records: [...(unwritten.get(card)?.records ?? []), record], kept });
    setOrDelete(memories, card, kept);
  }

  return {
    known: memories,

    memories: () =>
      keeper
        .use((database) => database.entries("memories"))
        .then(fill, (error) => (error instanceof PageError ? memories : Promise.reject(error))),

    async mark(card, given) {
      let review = null;
      const make = (known) => [(review = newReview(given, known))];
      const { after, fault } = await add(new Map([[card, make]]));
      if (fault) {
        review ??= make(unwritten.get(card)?.records ?? [])[0];
        const before = memories.get(card) ?? null;
        hold(card, review, after?.get(card).kept ?? extend(card, before, review, PACE, chance));
      }
      return { review: { ...review, id: `${card}.${review.id}`, card }, kept: memories.get(card), fault };
    },

    async unmark(reviewId, given) {
      const [card, undoes] = reviewId.split(".");
      const undo = newUndo({ ...given, undoes });
      const { after, fault } = await add(new Map([[card, () => [undo]]]));
      if (fault && !after) throw fault;
      if (fault) hold(card, undo, after.get(card).kept);
      return { card, kept: memories.get(card) ?? null, fault };
    },

    async all() {
      const found = await keeper.use((database) => database.entries("journal")).catch((refusal) => {
        if (unwritten.size === 0) throw refusal;
        return [];
      });
      const cards = new Map(found.map(([card, rows]) => [card, recordsOf(rows)]));
      for (const [card, { records }] of unwritten) cards.set(card, merge(cards.get(card) ?? [], records));
      return cards;
    },

    async takeIn({ cards, lost }) {
      const additions = new Map([...cards].map(([card, records]) => [card, () => records]));
      const { after, fault } = await add(additions);
      if (fault) throw fault;
      const gains = [...cards.keys()].map((card) => after.get(card).gain);
      const added = gains.reduce((sum, gain) => sum + gain, 0);
      const given = [...cards.values()].reduce((sum, records) => sum + records.length, 0);
      return { added, known: given - added, cards: gains.filter((gain) => gain > 0).length, lost };
    },
  };
}

/**
 * @typedef {Object} After a card after records were added
 * @property {JournalRecord[]} records
 * @property {Kept | null} kept
 * @property {number} gain how many of those added were new
 * @property {boolean} isNew whether it differs from what is written
 */
function grown(card, written, known, added) {
  const records = merge(known, added);
  const before = new Set(written);
  const isNew = records.some((record) => !before.has(record));
  return { records, kept: foldCard(card, records, PACE, chance), gain: records.length - known.length, isNew };
}

/** What is to be written; the drawers, as they were read, are filled anew. */
function changesOf(after, drawers) {
  const news = [...after].filter(([, { isNew }]) => isNew);
  for (const [card, { kept }] of news) {
    const inside = drawers.get(drawerOf(card));
    if (kept) inside[card] = kept;
    else delete inside[card];
  }
  const opened = new Set(news.map(([card]) => drawerOf(card)));
  return [
    ...news.map(([card, { records }]) => ["journal", card, records.map(rowOf)]),
    ...[...opened].map((drawer) => ["memories", drawer, drawers.get(drawer)]),
  ];
}

const drawerOf = (card) => card.slice(-1);

const recordsOf = (rows) => (Array.isArray(rows) ? rows.map(recordOf).filter(Boolean) : []);

function setOrDelete(map, key, value) {
  if (value) map.set(key, value);
  else map.delete(key);
}

// --- the rest -------------------------------------------------------------------------------------

/** Small values under names; what cannot be written holds while the page is open and is tried again. */
function makeMeta(keeper, changed) {
  const unwritten = new Map();
  return {
    async get(name) {
      if (unwritten.has(name)) return unwritten.get(name);
      return (await keeper.use((database) => database.get("meta", name)).catch(() => null)) ?? null;
    },
    async set(name, value) {
      unwritten.set(name, value);
      const changes = [...unwritten].map(([each, its]) => ["meta", each, its]);
      try {
        await keeper.use((database) => database.change([], () => changes));
      } catch {
        return;
      }
      unwritten.clear();
      changed();
    },
  };
}

/** One thing after another, whatever became of the one before. */
function makeTurns() {
  let last = Promise.resolve();
  return (work) => {
    const next = last.then(work);
    last = next.catch(() => {});
    return next;
  };
}

function openChannel(Channel) {
  try {
    return new Channel("layered-voicing drills");
  } catch {
    return null;
  }
}

async function askToPersist(storage) {
  try {
    return (await storage.persisted()) || (await storage.persist()) ? "granted" : "refused";
  } catch {
    return "unknown";
  }
}

/** 48 bits: among 100,000 reviews no two meet, but for one chance in 50,000. */
function randomId() {
  const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
  return [...crypto.getRandomValues(new Uint8Array(8))].map((byte) => letters[byte & 63]).join("");
}
