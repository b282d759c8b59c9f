// One sitting: which card comes next, and how far it is. The day's cards follow from what is kept, so a sitting
// that was broken off needs nothing to go on.

import { nextCard, todayCount } from "./daily.js";
import { MARKS } from "./schedule.js";

/**
 * @typedef {{ card: import("../deck.js").Card, number: number, total: number }} Turn the card that comes now,
 *   and where it stands among so many, from 1
 *
 * @typedef {Object} Sitting
 * @property {() => Turn | null} next null when the sitting is over
 * @property {(card: import("../deck.js").Card, mark: import("./schedule.js").Mark) => void} noted
 * @property {(card: import("../deck.js").Card) => void} takenBack the card's last mark was taken back
 */

/**
 * The day's cards.
 *
 * @param {() => import("./daily.js").Day} day the day as it stands now
 * @returns {Sitting}
 */
export function todaySitting(day) {
  return {
    next() {
      const today = day();
      const { card } = nextCard(today);
      if (card === null) return null;
      const { left, done } = todayCount(today);
      return { card, number: done + 1, total: done + left };
    },
    noted() {},
    takenBack() {},
  };
}

/**
 * Some cards once each, whenever they are due; one that was missed comes again at the end.
 *
 * @param {import("../deck.js").Card[]} cards
 * @returns {Sitting}
 */
export function spotsSitting(cards) {
  let waiting = [...cards];
  let done = 0;
  return {
    next() {
      if (waiting.length === 0) return null;
      return { card: waiting[0], number: done + 1, total: done + waiting.length };
    },
    noted(card, mark) {
      const isMissed = mark === MARKS.missed;
      waiting = [...waiting.filter((each) => each !== card), ...(isMissed ? [card] : [])];
      if (!isMissed) done += 1;
    },
    takenBack(card) {
      if (!waiting.includes(card)) done -= 1;
      waiting = [card, ...waiting.filter((each) => each !== card)];
    },
  };
}
