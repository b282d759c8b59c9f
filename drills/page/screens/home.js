// Home: what today brings, where one stands at a glance, and one button to play.

import { drawStageBar } from "../progress/bars.js";
import { plannedToday, stagesByKey, stagesByVoicing, weakSpots } from "../memory/daily.js";
import { afterPaint, button, h, refill } from "../dom.js";
import { signed, withRanges } from "../signs.js";
import { hasRounds } from "./round.js";
import { drawWheel } from "../progress/wheel.js";
import { WORDS } from "../words.js";
import { nextTime } from "./done.js";

const MOST_VOICINGS = 3;

let hasBeenSeen = false; // since the page was opened

/** @param {Object} app @returns {import("../shell/route.js").Screen} */
export function homeScreen(app) {
  const { deck } = app;
  const today = plannedToday(app.day());
  const count = today.queue.length + today.waiting;
  app.tellWhenFileIsDue();
  const [wheel, rows] = [h("div", { class: "keys" }), h("ul", { class: "voicings" })];
  const fill = () => {
    refill(wheel, ...keys(app));
    refill(rows, ...voicings(app));
  };
  if (hasBeenSeen) fill();
  else afterPaint(fill); // the button to play comes first
  hasBeenSeen = true;
  const element = h("div", { class: "screen home" },
    app.notices.element,
    h("h1", null, withRanges(deck.title)),
    isNew(app) && deck.about.length > 2 && h("p", { class: "about" }, deck.about[0]),
    count > 0 ? todayLine(today, count) : doneLine(app),
    wheel,
    rows,
    ways(app),
    doing(app, count));
  return { element, title: WORDS.home.title };
}

/** Whether no card of the deck has been met: what it is about is said at first, and later on in the help. */
const isNew = ({ deck, memories }) => !deck.cards.some(({ id }) => memories.has(id));

function todayLine({ fresh, eased, later }, count) {
  const words = WORDS.home;
  return h("div", { class: "today" },
    h("p", { class: "count" }, count),
    h("div", { class: "told" },
      h("p", null, words.toPlay),
      fresh > 0 && h("p", null, words.fresh(fresh, count)),
      eased && h("p", null, words.eased(later))));
}

function doneLine(app) {
  return h("div", { class: "today over" },
    h("div", { class: "told" },
      h("p", null, h("strong", null, hasPlayedToday(app) ? WORDS.home.allDone : WORDS.home.nothing)),
      h("p", null, nextTime(app))));
}

function hasPlayedToday({ memories, day }) {
  const { dayStart } = day();
  return [...memories.values()].some(({ last }) => last >= dayStart);
}

function doing(app, count) {
  const words = WORDS.home;
  const hasWeak = weakSpots({ ...app.day(), pace: app.pace, most: 1 }).length > 0;
  const play = button(words.play, () => app.go("play", "today"), { class: "main" });
  const weak = button(words.weak, () => app.go("play", "weak"), { class: count > 0 ? null : "main" });
  const rounds = button(words.rounds, () => app.go("rounds"), { class: hasWeak ? null : "main" });
  return h("div", { class: "doing" },
    h("p", { class: "caution" }, words.caution),
    count > 0 ? [play, hasWeak && weak] : [hasWeak && weak, hasRounds(app.deck) && rounds]);
}

function ways(app) {
  const words = WORDS.home.ways;
  return h("nav", { class: "ways", "aria-label": WORDS.home.waysLabel },
    Object.entries(words).map(([name, text]) => button(text, () => app.go(name))));
}

/** How settled each key is, by fourths. */
function keys(app) {
  const { deck, memories } = app;
  const stages = stagesByKey(deck.cards, memories);
  const row = (pitchClass) => ({ text: deck.keyNames[pitchClass], pitchClass, ...stages[pitchClass] });
  return [
    drawWheel(deck.fourths.map(row), { label: WORDS.home.keys }),
    h("p", { class: "quiet small", "aria-hidden": "true" }, WORDS.home.keys),
  ];
}

/** The first voicings that are not settled yet, and the way to all of them. */
function voicings(app) {
  const { deck, memories } = app;
  const stages = stagesByVoicing(deck.cards, memories, deck.voicings.length);
  const all = deck.voicings.map((voicing, at) => ({ voicing, counts: stages[at] }));
  const open = all.filter(({ counts }) => isOpen(counts));
  return [
    ...open.slice(0, MOST_VOICINGS).map(({ voicing, counts }) =>
      h("li", null, calledBriefly(voicing), drawStageBar(counts, { label: voicing.title }))),
    h("li", null, button(WORDS.home.allOfIt, () => app.go("standing"), { class: "plain" })),
  ];
}

const isOpen = ({ unseen, settling, slipped }) => unseen + settling + slipped > 0;

/** A nickname with the kind of chord; where there is none, the kind of chord with its degrees. */
function calledBriefly({ title, detail }) {
  const [chord, degrees = ""] = detail.split(" · ");
  const second = chord === title ? degrees : chord;
  return h("p", { class: "called" },
    h("b", null, signed(title)), " ", h("span", { class: "quiet small" }, signed(second)));
}
