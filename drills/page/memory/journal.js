// The journal of one student: every review as it happened, what follows from them, and the file that carries
// them.
//
// Pure. A record is never changed; taking a review back is a record too. So two journals are merged by taking
// what is in either, and a card's memory follows from its records alone, in whatever order they came.
//
// THE PROGRESS FILE is JSON in UTF-8, one line a card, so that a person can look into it and a broken file
// can be saved line by line. The class report (Python) reads the same file.
//
//   {
//   "format": "layered-voicing drills progress",
//   "version": 1,                      raised when an older page could no longer read it rightly
//   "saved": 1764000000000,            when the file was written
//   "student": "Alto table, Tuesday",   free text of at most 80 characters, or ""
//   "count": 3,                        how many records follow, so that a loss is noticed
//   "cards": {
//   "k3Jx0aQ_9dfT": [["Xy3_aZ12",1763900000000,3,5321],["b0cE-f99",1763900660000,1,812,0.85]],
//   "z-5Tq1mmA0bB": [["0aaBcD34",1763990000000,0,"Xy3_aZ13"]]
//   }
//   }
//
// A card is its id: 12 url-safe characters, from what the card asks (the same in every deck). Moments are
// whole milliseconds since 1970 UTC. A record is one of
//
//   review  [id, moment, mark, took_ms, recall, place]
//           id      8 url-safe characters, by chance, unlike any other of this card
//           mark    1 missed, 2 shaky, 3 clean, 4 instant
//           took_ms from the question shown to the first tap; at most an hour
//           recall  the target recall then; left out when 0.9
//           place   left out unless the clock stood no later than at a review already known: where the record
//                   belongs among the moments of its card (`recall` is then written even when 0.9)
//   undo    [id, moment, 0, id of the review that it takes back]
//
// Lines are sorted by card, records by place or moment, then id: the same journal, the same bytes.

import { PACE, review, UNSEEN } from "./schedule.js";

/**
 * @typedef {Object} Review
 * @property {string} id
 * @property {number} when ms
 * @property {import("./schedule.js").Mark} mark
 * @property {number} took_ms
 * @property {number} recall the target recall that decided when the card comes back
 * @property {number | null} place see above; null: `when` is its place
 *
 * @typedef {{ id: string, when: number, undoes: string }} Undo
 * @typedef {Review | Undo} JournalRecord
 * @typedef {Array<string | number>} Row a record as it is written in files and in the store
 *
 * @typedef {import("./schedule.js").Memory & { first: number, count: number }} Kept what follows for one
 *   card: its memory, the moment of its first review, and how many reviews count
 */

/** A review takes some 36 bytes: 150 a day, every day for ten years. A phone holds what this unfolds to. */
export const MOST_BYTES = 20_000_000;
export const MOST_STUDENT_CHARACTERS = 80;
/** Ten years of 50 fresh cards a day, as many as the settings give: every start unpacks them all. */
const MOST_CARDS = 200_000;

const FORMAT = "layered-voicing drills progress";
const VERSION = 1;
const HEAD = Object.freeze(["format", "version", "saved", "student", "count"]);

/** How a line of the file begins that says something. */
const MEMBER = /^\s*"[\w-]+"\s*:/;
const CARD_ID = /^[\w-]{12}$/;
const RECORD_ID = /^[\w-]{8}$/;
const UNDO_MARK = 0;
const MOST_TOOK_MS = 3_600_000;
const LATEST_MS = 7_258_118_400_000; // the year 2200: no clock says more
const LAST_PLACE = 2 * LATEST_MS;
const OURS_MS = 1_735_689_600_000; // 2025, before there was a page: a clock that says less was never set

/** What went wrong, by a code for which words.js has the sentence. */
export class PageError extends Error {
  /**
   * @param {"foreign" | "damaged" | "newer" | "too-big" | "full" | "refused" | "newer-page"} code
   * @param {string} [detail] for developers
   */
  constructor(code, detail = "") {
    super(detail ? `${code}: ${detail}` : code);
    this.name = "PageError";
    this.code = code;
  }
}

// --- records --------------------------------------------------------------------------------------

/**
 * A review fit to be kept. A clock may be wrong: what it says is kept as the moment, and a place is added
 * where that would put the review before one that the student had already done.
 *
 * @param {{ id: string, mark: import("./schedule.js").Mark, when: number, took_ms: number, recall: number }}
 *   given
 * @param {JournalRecord[]} known the card's records so far
 * @returns {Review}
 */
export function newReview({ id, mark, when, took_ms, recall }, known) {
  const moment = saneMoment(when);
  const after = known.reduce((latest, each) => Math.max(latest, placeOf(each)), -1) + 1;
  const place = moment < after ? Math.min(after, LAST_PLACE) : null;
  return { id, when: moment, mark, took_ms: within(took_ms, MOST_TOOK_MS), recall, place };
}

/** @returns {Undo} */
export function newUndo({ id, undoes, when }) {
  return { id, when: saneMoment(when), undoes };
}

/** @param {JournalRecord} record @returns {Row} */
export function rowOf(record) {
  if (record.undoes !== undefined) return [record.id, record.when, UNDO_MARK, record.undoes];
  const { id, when, mark, took_ms, recall, place } = record;
  if (place !== null) return [id, when, mark, took_ms, recall, place];
  return recall === PACE.targetRecall ? [id, when, mark, took_ms] : [id, when, mark, took_ms, recall];
}

/** The record that a row says, or null. @param {unknown} row @returns {JournalRecord | null} */
export function recordOf(row) {
  if (!Array.isArray(row) || row.length < 4 || row.length > 6) return null;
  const [id, when, mark, fourth, recall = PACE.targetRecall, place = null] = row;
  if (!isText(id, RECORD_ID) || !isWhole(when, LATEST_MS)) return null;
  if (mark === UNDO_MARK) {
    return row.length === 4 && isText(fourth, RECORD_ID) ? { id, when, undoes: fourth } : null;
  }
  const isReview = isWhole(mark, 4) && isWhole(fourth, MOST_TOOK_MS);
  const isDatedWell = place === null ? row.length < 6 : isWhole(place, LAST_PLACE);
  if (!isReview || !isDatedWell || typeof recall !== "number" || !(recall > 0 && recall <= 1)) return null;
  return { id, when, mark, took_ms: fourth, recall, place };
}

/**
 * What is in either, in order. Equal ids are the same record; should they ever differ, the same one of the
 * two is taken whichever side it came from.
 *
 * @param {JournalRecord[]} some
 * @param {JournalRecord[]} others
 * @returns {JournalRecord[]}
 */
export function merge(some, others) {
  const byId = new Map();
  for (const record of [...some, ...others]) {
    const other = byId.get(record.id);
    if (!other || written(record) < written(other)) byId.set(record.id, record);
  }
  return [...byId.values()].sort(inOrder);
}

const written = (record) => JSON.stringify(rowOf(record));
const placeOf = (record) => record.place ?? record.when;
const inOrder = (one, other) => placeOf(one) - placeOf(other) || (one.id < other.id ? -1 : 1);

const isText = (value, pattern) => typeof value === "string" && pattern.test(value);
const isWhole = (value, most) => Number.isInteger(value) && value >= 0 && value <= most;
const within = (number, most) => Math.min(Math.max(Math.round(number) || 0, 0), most);
const saneMoment = (when) => within(when, LATEST_MS);

// --- what follows from them -----------------------------------------------------------------------

/**
 * What is known of a card after its records: those not taken back, one after another.
 *
 * @param {string} card
 * @param {JournalRecord[]} records in any order
 * @param {Readonly<import("./schedule.js").Pace>} pace its target recall gives way to each review's own
 * @param {(card: string, count: number) => number} chanceOf spreads the wait after the review of that number,
 *   from 0
 * @returns {Kept | null} null: as if never seen
 */
export function foldCard(card, records, pace, chanceOf) {
  const undone = new Set(records.map((record) => record.undoes));
  const reviews = records.filter((record) => record.undoes === undefined && !undone.has(record.id));
  return likelyMoments(reviews.sort(inOrder))
    .reduce((kept, each) => extend(card, kept, each, pace, chanceOf), null);
}

/**
 * The same reviews with moments that never go back. Where they did, a clock ran ahead before: those reviews
 * were no later than the first that came after them. A clock that was never set proves nothing.
 */
function likelyMoments(reviews) {
  let latest = Infinity;
  return reviews
    .reverse()
    .map((each) => {
      const when = Math.min(each.when, latest);
      if (when >= OURS_MS) latest = when;
      return { ...each, when };
    })
    .reverse();
}

/** What is known after one more review. @returns {Kept} */
export function extend(card, kept, { mark, when, recall }, pace, chanceOf) {
  const { first, count, ...memory } = kept ?? { first: when, count: 0, ...UNSEEN };
  const own = { ...pace, targetRecall: recall };
  return { ...review(memory, mark, when, own, chanceOf(card, count)), first, count: count + 1 };
}

// --- the file -------------------------------------------------------------------------------------

/**
 * @param {{ cards: Map<string, JournalRecord[]>, saved: number, student?: string | null }} progress
 * @returns {string}
 */
export function writeProgress({ cards, saved, student = "" }) {
  const lines = [...cards]
    .filter(([, records]) => records.length > 0)
    .sort(([one], [other]) => (one < other ? -1 : 1))
    .map(([card, records]) => `"${card}": ${JSON.stringify([...records].sort(inOrder).map(rowOf))}`);
  const count = [...cards.values()].reduce((sum, records) => sum + records.length, 0);
  const head = { format: FORMAT, version: VERSION, saved, student: cleanStudent(student), count };
  const members = Object.entries(head).map(([name, value]) => `"${name}": ${JSON.stringify(value)},`);
  return `{\n${members.join("\n")}\n"cards": {\n${lines.join(",\n")}\n}\n}\n`;
}

/**
 * Reads a progress file. What is whole is taken even when the file is cut off or a record makes no sense;
 * what is lost is counted.
 *
 * @param {string} text
 * @returns {{ cards: Map<string, JournalRecord[]>, saved: number | null, student: string, lost: number }}
 * @throws {PageError} "too-big", "foreign", "newer", or "damaged" when nothing can be taken
 */
export function readProgress(text) {
  if (text.length > MOST_BYTES) throw new PageError("too-big", `${text.length} characters`);
  // Looked for as text first: to take something else of that size apart would take minutes.
  const found = text.includes(FORMAT) ? parsed(text) : {};
  if (found.format !== FORMAT) throw new PageError("foreign");
  if (found.version > VERSION) throw new PageError("newer", `version ${found.version}`);
  const { cards, taken, refused } = readCards(found.cards);
  if (cards.size > MOST_CARDS) throw new PageError("too-big", `${cards.size} cards`);
  const missing = isWhole(found.count, MOST_BYTES) ? found.count - taken : 1;
  const lost = Math.max(missing, refused);
  if (taken === 0 && lost > 0) throw new PageError("damaged", `${lost} records lost`);
  const saved = isWhole(found.saved, LATEST_MS) ? found.saved : null;
  return { cards, saved, student: cleanStudent(found.student), lost };
}

/** One line of at most 80 characters; "" for anything that is no text. */
export function cleanStudent(text) {
  if (typeof text !== "string") return "";
  const line = text.replace(/[\p{C}\p{Z}\s]+/gu, " ").trim();
  return [...line].slice(0, MOST_STUDENT_CHARACTERS).join("").trim();
}

function readCards(given) {
  const cards = new Map();
  let taken = 0;
  let refused = 0;
  for (const [card, rows] of Object.entries(isObject(given) ? given : {})) {
    const list = Array.isArray(rows) && CARD_ID.test(card) ? rows : [];
    const records = merge(list.map(recordOf).filter(Boolean), []);
    taken += records.length;
    refused += Math.max(list.length, 1) - records.length;
    if (records.length > 0) cards.set(card, records);
  }
  return { cards, taken, refused };
}

function parsed(text) {
  try {
    const found = JSON.parse(text);
    return isObject(found) ? found : {};
  } catch {
    return lineByLine(text);
  }
}

/** What the whole lines of a broken file say: each is one member of the file or of its cards. */
function lineByLine(text) {
  const found = { cards: {} };
  for (const line of text.split("\n")) {
    if (!MEMBER.test(line)) continue; // millions of lines would fail one by one for minutes
    for (const [name, value] of Object.entries(memberOf(line))) {
      if (CARD_ID.test(name)) found.cards[name] = value;
      else if (HEAD.includes(name)) found[name] = value;
    }
  }
  return found;
}

function memberOf(line) {
  try {
    return JSON.parse(`{${line.trim().replace(/,$/, "")}}`);
  } catch {
    return {};
  }
}

const isObject = (value) => typeof value === "object" && value !== null && !Array.isArray(value);
