// The end of a round: one mark for all of it, noted for the cards it stands for.

import { announce, button, h, refill } from "../dom.js";
import { notice } from "../shell/notices.js";
import { markedCards } from "./round.js";
import { MARKS } from "../memory/schedule.js";
import { WORDS } from "../words.js";
import { markStops } from "./marks.js";
import { screenTop } from "./top.js";

/**
 * @param {Object} app
 * @param {{ played: import("../deck.js").Card[], again: () => void }} round
 * @returns {Node[]}
 */
export function roundEnd(app, { played, again }) {
  const words = WORDS.rounds;
  const cards = markedCards(played, app.memories);
  const top = [screenTop(app, words.title), h("p", { class: "round-head" }, words.played(played.length))];
  const buttons = [button(words.again, again, { class: "main", "data-first": true })];
  if (cards.length === 0) {
    const why = played.length > 0 ? words.nothingMet : words.nothingPlayed;
    return [...top, h("p", { class: "quiet" }, why), doing(buttons)];
  }
  const place = h("div", { class: "round-mark" });
  const ask = () => refill(place, ...askMark(app, cards, onNoted, again));
  const onNoted = (noted) => {
    refill(place, ...takeBack(app, noted, ask), doing(buttons));
    place.querySelector("[data-first]").focus();
  };
  ask();
  return [...top, place];
}

const doing = (buttons) => h("div", { class: "doing" }, buttons);

function askMark(app, cards, onNoted, again) {
  const words = WORDS.rounds;
  const stops = markStops(MARKS.clean);
  const note = async ({ target }) => {
    target.disabled = true;
    onNoted(await noteMark(app, cards, stops.mark()));
  };
  return [
    h("p", { class: "quiet" }, words.whatMarkDoes(cards.length)),
    doing([
      stops.element,
      button(words.note, note, { class: "main", "data-first": true }),
      button(words.leaveUnmarked, again),
    ]),
  ];
}

/** @returns {Promise<string[]>} the reviews' ids */
async function noteMark(app, cards, mark) {
  const noted = [];
  for (const card of cards) noted.push(await app.mark(card, mark));
  return noted;
}

function takeBack(app, noted, ask) {
  const words = WORDS.rounds;
  const undo = async ({ target }) => {
    target.disabled = true;
    for (const review of [...noted].reverse()) await app.unmark(review);
    announce(words.takenBack);
    ask();
  };
  announce(words.noted(noted.length));
  return [
    app.unwritten && notice(app.unwritten),
    h("p", null, words.noted(noted.length)),
    h("div", { class: "row" }, button(words.takeBack, undo)),
  ];
}
