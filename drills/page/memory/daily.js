// What a day brings: which cards, in which order, and what the days after will ask.
//
// Pure. Everything follows from the cards' memories and the moment, so a page that was closed and opened
// again goes on where it stopped, and two pages agree.

import { MARKS, PACE, recall, review, UNSEEN } from "./schedule.js";

/**
 * @typedef {import("./journal.js").Kept} Kept
 * @typedef {import("../deck.js").Card} Card of which id, voicing, key.pitchClass, drill and isLayer are read
 *
 * @typedef {Object} Day
 * @property {Card[]} cards in the deck's order, which is the order of first appearance: layers before their
 *   wholes
 * @property {Map<string, Kept>} memories by card id; cards of other decks may be among them
 * @property {number} now ms
 * @property {number} dayStart ms, see `dayStart`
 * @property {number} [dayEnd] ms, see `dayEnd`; 24 hours after the start unless given
 * @property {number} freshPerDay
 */

const MINUTE_MS = 60_000;
const DAY_MS = 86_400_000;

/** A card that waits some minutes comes this much early rather than let the student sit and wait. */
export const EARLY_MS = 20 * MINUTE_MS;

// --- days -----------------------------------------------------------------------------------------

/**
 * When the day began that is going on.
 *
 * @param {number} now ms
 * @param {number} startHour of local time, 0 to 23
 * @param {number | ((moment: number) => number)} offset minutes east of UTC; as a function of the moment
 *   where clocks are put forward and back, so that the day on which it happens has 23 or 25 hours
 */
export function dayStart(now, startHour, offset) {
  const offset_ms = offsetOf(offset);
  return Math.min(now, startOf(localDay(now, startHour, offset_ms), startHour, offset_ms));
}

/** When the next day begins; see `dayStart`. */
export function dayEnd(now, startHour, offset) {
  const offset_ms = offsetOf(offset);
  return Math.max(now + 1, startOf(localDay(now, startHour, offset_ms) + 1, startHour, offset_ms));
}

const offsetOf = (offset) => (moment) => MINUTE_MS * (typeof offset === "function" ? offset(moment) : offset);

const localDay = (now, startHour, offset_ms) =>
  Math.floor((now + offset_ms(now) - startHour * 60 * MINUTE_MS) / DAY_MS);

/** Where an hour strikes twice, the first; where it is left out, the moment of the change. */
function startOf(day, startHour, offset_ms) {
  const local = day * DAY_MS + startHour * 60 * MINUTE_MS;
  const [before, after] = [-DAY_MS, DAY_MS].map((apart) => local - offset_ms(local + apart));
  const striking = [before, after].filter((moment) => moment + offset_ms(moment) === local);
  return striking.length > 0 ? Math.min(...striking) : before;
}

// --- what today brings ----------------------------------------------------------------------------

/**
 * The most cards that a day brings, new ones counted. Some ten times the new ones is what a deck asks day by
 * day after a term, so nobody meets it before something has piled up.
 */
export function comfortable(freshPerDay) {
  return Math.max(30, 10 * freshPerDay);
}

/**
 * Today's cards that are still to come.
 *
 * @param {Day} day
 * @returns {{ queue: Card[], due: number, fresh: number, waiting: number, done: number, later: number, eased:
 *   boolean }} queue: those that can come at once, in order, `due` known and `fresh` new ones; waiting: those
 *   already answered today that come again in some minutes; done: those that are through; later: those that
 *   are due but put off to the coming days, and eased says that there are such
 */
export function plannedToday(day) {
  const today = survey(day);
  const { due, fresh, waiting, later } = today;
  const queue = [];
  for (let left = today; left.due.length + left.fresh.length > 0; ) {
    const card = pick(left);
    queue.push(card);
    left = without(left, card);
  }
  const done = today.oldDone + today.freshDone - waiting.length;
  const counts = { due: due.length, fresh: fresh.length, waiting: waiting.length, done, later };
  return { queue, ...counts, eased: later > 0 };
}

/** How many cards today still asks for, and how many are through. @param {Day} day */
export function todayCount(day) {
  const { due, fresh, waiting, later, oldDone, freshDone } = survey(day);
  const left = due.length + fresh.length + waiting.length;
  return { left, done: oldDone + freshDone - waiting.length, later };
}

/**
 * The card that comes now. One that waited its minutes goes first; when nothing else is left, one whose
 * minutes are nearly over comes early. The card just answered comes again only when it is the last.
 *
 * @param {Day} day
 * @returns {{ card: Card | null, isEarly: boolean, at: number | null }} without a card, `at` is the moment
 *   when one will have waited its minutes, or null when the day is done
 */
export function nextCard(day) {
  const today = survey(day);
  const dueBy = (moment) => (card) => day.memories.get(card.id).due <= moment;
  const others = today.waiting.filter((card) => card !== today.recent[0]);
  const isOpen = today.due.length + today.fresh.length > 0;
  const [isReady, isSoon] = [dueBy(day.now), dueBy(day.now + EARLY_MS)];
  const card = others.find(isReady) ?? (isOpen ? pick(today) : today.waiting.find(isReady));
  if (card) return { card, isEarly: false, at: null };
  const early = others.find(isSoon) ?? today.waiting.find(isSoon);
  if (early) return { card: early, isEarly: true, at: null };
  const [first] = today.waiting;
  return { card: null, isEarly: false, at: first ? day.memories.get(first.id).due : null };
}

/**
 * The day's cards sorted out. A card counts as met today when it was last marked today, so the number of new
 * cards and the load of the day hold however often the page is opened. A card settled today is done even when
 * the day has 25 hours and its wait of 24 ends within it.
 */
function survey({ cards, memories, now, dayStart: start, dayEnd: end = start + DAY_MS, freshPerDay }) {
  const isToday = (moment) => moment >= start && moment < end;
  const [unseen, overdue, waiting, met] = [[], [], [], []];
  let freshDone = 0;
  for (const card of cards) {
    const kept = memories.get(card.id);
    if (!kept) unseen.push(card);
    else if (isToday(kept.last)) {
      met.push(card);
      if (isToday(kept.first)) freshDone += 1;
      if (kept.stage !== "settled") waiting.push(card);
    } else if (dueMoment(kept, now) < end) overdue.push(card);
  }
  const oldDone = met.length - freshDone;
  const most = comfortable(freshPerDay);
  const due = mostUrgent(overdue, Math.max(0, most - oldDone), memories, now);
  const room = Math.min(freshPerDay, most - oldDone - overdue.length) - freshDone;
  const at = (name) => (one, other) => memories.get(one.id)[name] - memories.get(other.id)[name];
  return {
    due,
    fresh: unseen.slice(0, Math.max(0, room)),
    waiting: waiting.sort(at("due")),
    recent: met.sort(at("last")).slice(-2).reverse(),
    oldDone,
    freshDone,
    later: overdue.length - due.length,
  };
}

/**
 * A mark that lies more than a day ahead was made by a clock that was wrong; how long ago it really was,
 * nobody knows, so the card is due. (Once it is marked by the right clock it waits as usual.)
 */
const dueMoment = (kept, now) => (kept.last > now + DAY_MS ? now : kept.due);

/**
 * The cards least likely to be known still, when there are more than a day should bring.
 *
 * One answer lifts each of them to the same height, so the lowest gain most. Played through (a term, then 21
 * or 60 days away, then six weeks of 50 cards a day; 12 students by chance), lowest first kept most in
 * memory, on average 95.2 % and 95.0 % of all cards, and asked fewest answers, 1,353 and 1,578. Highest
 * first, which saves what is not yet lost, came to 94.9 % and 94.3 % with 1,373 and 1,684; by what another
 * week of waiting would cost, 95.0 % and 94.4 % with 1,434 and 1,768.
 */
function mostUrgent(overdue, most, memories, now) {
  if (overdue.length <= most) return overdue;
  return overdue
    .map((card) => ({ card, known: recall(memories.get(card.id), now) }))
    .sort((one, other) => one.known - other.known)
    .slice(0, most)
    .map(({ card }) => card);
}

// --- in which order -------------------------------------------------------------------------------

/**
 * The next of the cards that can come at once: new ones in their own order, strewn evenly among the known
 * ones, of which layers come before wholes.
 */
function pick({ due, fresh, oldDone, freshDone, recent }) {
  const [allDue, allFresh] = [oldDone + due.length, freshDone + fresh.length];
  const isFreshsTurn = (2 * freshDone + 1) * allDue < (2 * oldDone + 1) * allFresh;
  if (due.length === 0 || (fresh.length > 0 && isFreshsTurn)) return fresh[0];
  const layers = due.filter((card) => card.isLayer);
  return leastAlike(layers.length > 0 ? layers : due, recent);
}

function without(today, card) {
  const recent = [card, ...today.recent.slice(0, 1)];
  return card === today.fresh[0]
    ? { ...today, recent, fresh: today.fresh.slice(1), freshDone: today.freshDone + 1 }
    : { ...today, recent, due: today.due.filter((each) => each !== card), oldDone: today.oldDone + 1 };
}

const TRAITS = Object.freeze([(card) => card.voicing, (card) => card.key.pitchClass, (card) => card.drill]);

/**
 * The card that shares least with the two before it: voicing, key, drill. Among equals one of the largest
 * groups, so that cards which are all alike do not pile up at the end of the day.
 */
function leastAlike(cards, [previous, one]) {
  const counts = TRAITS.map((trait) => {
    const count = new Map();
    for (const card of cards) count.set(trait(card), (count.get(trait(card)) ?? 0) + 1);
    return count;
  });
  const shared = (card, other) => (other ? TRAITS.filter((trait) => trait(card) === trait(other)).length : 0);
  const crowd = (card) => TRAITS.reduce((sum, trait, nth) => sum + counts[nth].get(trait(card)), 0);
  const price = (card) => (2 * shared(card, previous) + shared(card, one)) * 3 * cards.length - crowd(card);
  return leastBy(cards, price);
}

function leastBy(items, price) {
  let [best, least] = [items[0], Infinity];
  for (const item of items) {
    const own = price(item);
    if (own < least) [best, least] = [item, own];
  }
  return best;
}

/**
 * A number that looks like chance and is always the same for the n-th review of a card: FNV-1a over the text,
 * then the last mixing steps of MurmurHash3 (both in the public domain), so that near counts lie far apart.
 *
 * @param {string} cardId
 * @param {number} count reviews before this one
 * @returns {number} from 0 up to, not including, 1
 */
export function chance(cardId, count) {
  let hash = 0x811c9dc5;
  for (const sign of `${cardId} ${count}`) hash = Math.imul(hash ^ sign.codePointAt(0), 0x01000193);
  hash = Math.imul(hash ^ (hash >>> 16), 0x85ebca6b);
  hash = Math.imul(hash ^ (hash >>> 13), 0xc2b2ae35);
  return ((hash ^ (hash >>> 16)) >>> 0) / 2 ** 32;
}

// --- the days ahead, and where one stands ---------------------------------------------------------

/**
 * How many cards the coming days will ask when each is answered clean on its day; the first is today, what is
 * left of it.
 *
 * @param {Day & { days?: number, pace?: Readonly<import("./schedule.js").Pace> }} given
 * @returns {{ day: number, due: number, fresh: number }[]} day: the moment at which it begins
 */
export function forecast({ days = 14, pace = PACE, ...day }) {
  const end = day.dayEnd ?? day.dayStart + DAY_MS;
  const memories = new Map(day.memories);
  const cards = coming(day, end + (days - 1) * DAY_MS, days);
  return Array.from({ length: days }, (_, nth) => {
    const start = nth === 0 ? day.dayStart : end + (nth - 1) * DAY_MS;
    const now = nth === 0 ? day.now : start + DAY_MS / 2;
    const today = survey({ ...day, cards, memories, now, dayStart: start, dayEnd: end + nth * DAY_MS });
    for (const card of [...today.due, ...today.fresh, ...today.waiting]) {
      memories.set(card.id, answeredClean(card.id, memories.get(card.id), now, pace));
    }
    return { day: start, due: today.due.length + today.waiting.length, fresh: today.fresh.length };
  });
}

/** The cards that can matter until a moment: a look at all the others on each of the days would take long. */
function coming({ cards, memories, now, dayStart: start, freshPerDay }, until, days) {
  let unseen = days * freshPerDay;
  return cards.filter(({ id }) => {
    const kept = memories.get(id);
    return kept ? dueMoment(kept, now) < until || kept.last >= start : unseen-- > 0;
  });
}

function answeredClean(id, kept, when, pace) {
  let { first, count, ...memory } = kept ?? { first: when, count: 0, ...UNSEEN };
  do {
    memory = review(memory, MARKS.clean, when, pace, chance(id, count));
    count += 1;
  } while (memory.stage !== "settled");
  return { ...memory, first, count };
}

const HARD = 6; // of 10; a card missed at first begins with 6.4, one answered clean with 2.1

/**
 * The weakest spots, weakest first: slipped cards, then by recall and difficulty. What is known well is not
 * among them.
 *
 * @param {{ cards: Card[], memories: Map<string, Kept>, now: number, most?: number,
 *   pace?: Readonly<import("./schedule.js").Pace> }} given most: at most so many
 * @returns {Card[]}
 */
export function weakSpots({ cards, memories, now, most = 20, pace = PACE }) {
  const spots = [];
  for (const card of cards) {
    const kept = memories.get(card.id);
    if (!kept) continue;
    const known = recall(kept, now, pace);
    const { difficulty, stage } = kept;
    const isSlipped = stage === "slipped";
    const isWeak = isSlipped || known < pace.targetRecall || difficulty >= HARD;
    if (isWeak) spots.push({ card, isSlipped, known, difficulty });
  }
  const weakestFirst = (one, other) =>
    other.isSlipped - one.isSlipped || one.known - other.known || other.difficulty - one.difficulty;
  return spots.sort(weakestFirst).slice(0, most).map(({ card }) => card);
}

/** How many cards of each key are at which stage, by pitch class from C. */
export function stagesByKey(cards, memories) {
  return stages(cards, memories, 12, (card) => card.key.pitchClass);
}

/** How many cards of each voicing are at which stage, in the order of the deck's voicings. */
export function stagesByVoicing(cards, memories, voicings) {
  return stages(cards, memories, voicings, (card) => card.voicing);
}

/** @returns {{ unseen: number, settling: number, settled: number, slipped: number }[]} */
function stages(cards, memories, length, placeOf) {
  const counts = Array.from({ length }, () => ({ unseen: 0, settling: 0, settled: 0, slipped: 0 }));
  for (const card of cards) counts[placeOf(card)][memories.get(card.id)?.stage ?? "unseen"] += 1;
  return counts;
}
