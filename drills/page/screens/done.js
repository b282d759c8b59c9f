// The end of a sitting: what was played, what slipped, and when the next cards come.

import { forecast } from "../memory/daily.js";
import { button, h, once } from "../dom.js";
import { MARKS } from "../memory/schedule.js";
import { signed } from "../signs.js";
import { WORDS } from "../words.js";

const MOST_SLIPPED = 6;

/**
 * @param {Object} app
 * @param {{ played: import("./play.js").Played[], what: "today" | "weak" }} sitting
 * @returns {import("../shell/route.js").Screen}
 */
export function doneScreen(app, { played, what }) {
  const words = WORDS.done;
  askToKeep(app);
  const takeBack = async () => {
    const { card, outcome, mark, review } = played.at(-1);
    if (!(await app.unmark(review))) return;
    app.unmarked = { card, outcome: { ...outcome, mark } };
    app.swap("play", what, played.slice(0, -1));
  };
  const element = h("div", { class: "screen done" },
    h("h1", null, what === "today" ? words.today : words.weak),
    h("p", { class: "quiet" }, words.played(new Set(played.map(({ card }) => card)).size)),
    played.length > 0 && markCounts(played),
    slipped(played),
    h("p", { class: "coming" }, nextTime(app)),
    h("div", { class: "doing" },
      button(WORDS.shared.home, () => app.go("home"), { class: "main" }),
      played.length > 0 && button(WORDS.play.undoMark, once(takeBack))));
  return { element, title: words.title };
}

/** How often each mark was given, on the string of the marks. */
function markCounts(played) {
  return h("dl", { class: "counts" }, Object.values(MARKS).map((mark) => {
    const count = played.filter((each) => each.mark === mark).length;
    const isNone = count === 0;
    return h("div", { class: isNone && "none" }, h("dt", null, WORDS.marks[mark]), h("dd", null, count));
  }));
}

/** The cards that were missed, each once. */
function slipped(played) {
  const cards = [...new Set(played.filter(({ mark }) => mark === MARKS.missed).map(({ card }) => card))];
  if (cards.length === 0) return null;
  const more = cards.length - MOST_SLIPPED;
  return h("section", { class: "slipped" },
    h("h2", null, WORDS.done.slipped),
    h("ul", null, cards.slice(0, MOST_SLIPPED).map((card) =>
      h("li", null, h("b", null, signed(card.back.head)), " ", h("span", { class: "quiet" }, card.drill)))),
    more > 0 && h("p", { class: "quiet" }, WORDS.done.andMore(more)));
}

/** When the next cards come and how many, in words. */
export function nextTime(app) {
  const days = forecast({ ...app.day(), pace: app.pace });
  const nth = days.findIndex(({ due, fresh }) => due + fresh > 0);
  if (nth < 0) return WORDS.done.nothingSoon;
  return WORDS.done.next(nth, days[nth].due + days[nth].fresh);
}

/** After the first cards the browser is asked once to keep what it stores. */
function askToKeep(app) {
  if (app.hasAskedToKeep) return;
  const { dayStart } = app.day();
  const isFirstDay = [...app.memories.values()].every(({ first }) => first >= dayStart);
  if (!isFirstDay || app.memories.size === 0) return;
  app.hasAskedToKeep = true;
  app.store.askToPersist();
}
