// Playing: one card at a time, question, answer, mark, and on.

import { check } from "../checks/check.js";
import { weakSpots } from "../memory/daily.js";
import { announce, button, focusHeading, h, once, refill } from "../dom.js";
import { notice } from "../shell/notices.js";
import { propose } from "../memory/proposal.js";
import { MARKS } from "../memory/schedule.js";
import { spotsSitting, todaySitting } from "../memory/sitting.js";
import { WORDS } from "../words.js";
import { answerView } from "./answer.js";
import { questionView } from "./question.js";

const HEAD_ROOM = 12; // pixels above the head of a question

/**
 * @typedef {Object} Outcome what became of a question
 * @property {import("../checks/check.js").Result | null} result null when the student judges
 * @property {import("../memory/schedule.js").Mark} mark proposed, or given before and taken back
 * @property {number} first_ms see screens/question.js
 *
 * @typedef {Object} Played a mark that was given
 * @property {import("../deck.js").Card} card
 * @property {Outcome} outcome
 * @property {import("../memory/schedule.js").Mark} mark
 * @property {string} review its id in the journal
 * @property {number} wait_ms until the card comes back
 */

/**
 * @param {Object} app
 * @param {"today" | "weak"} what
 * @param {Played[]} before what was played when a mark was taken back at the end
 * @returns {import("../shell/route.js").Screen}
 */
export function playScreen(app, what = "today", before = []) {
  const element = h("div", { class: "screen play" });
  const weak = () => weakSpots({ ...app.day(), pace: app.pace });
  const sitting = what === "today" ? todaySitting(app.day) : spotsSitting(weak());
  const played = [...before];
  let now = { card: null, number: 1, total: 1 };
  let view = null;
  let outcome = null; // while an answer waits for its mark
  let isLeft = false;

  function show(next, before = null, told = null) {
    view?.leave();
    view = next;
    refill(element, h("header", { class: "play-head" }, playTop(app, now), before), told, next.element);
    scrollTo(0, 0);
    focusHeading(element);
    // The first question is made before it stands in the page.
    if (outcome === null) queueMicrotask(() => scrollToHead(element));
  }
  function showNext() {
    const next = sitting.next();
    if (next === null) return queueMicrotask(() => app.swap("done", { played, what }));
    now = next;
    show(questionView(app, now.card, answered),
      played.length > 0 && lastMark(played.at(-1), takeBack), app.unwritten && notice(app.unwritten));
  }
  function answered({ given, ...how }) {
    const { card } = now;
    const result = given === null ? null : check(card.task, given, card, app.deck);
    showAnswer({ result, mark: result ? proposed(card, result, how) : MARKS.clean, first_ms: how.first_ms });
  }
  function showAnswer(shown) {
    outcome = shown;
    show(answerView(app, now.card, outcome, note));
  }
  async function note(mark) {
    const { card } = now;
    const marked = outcome;
    outcome = null;
    const review = await app.mark(card, mark, marked.first_ms);
    if (isLeft) return app.recount();
    played.push({ card, outcome: marked, mark, review, wait_ms: app.memories.get(card.id).due - app.now() });
    sitting.noted(card, mark);
    showNext();
  }
  async function takeBack() {
    const last = played.at(-1);
    if (!(await app.unmark(last.review))) return;
    if (isLeft) return app.recount();
    played.pop();
    sitting.takenBack(last.card);
    announce(WORDS.play.takenBack);
    again(last.card, { ...last.outcome, mark: last.mark });
  }
  /** The answer of a card once more, to be marked. */
  function again(card, shown) {
    now = { ...now, ...sitting.next(), card };
    showAnswer(shown);
  }
  const letGo = onKeys({
    goOn: () => view.goOn(),
    takeBack: () => view.takeBack?.(),
    pick: (mark) => view.pick?.(mark),
    leave: () => app.go("home"),
  });
  // An answer that was seen and left without its mark waits for it.
  const { unmarked } = app;
  app.unmarked = null;
  if (unmarked) again(unmarked.card, unmarked.outcome);
  else showNext();
  return {
    element,
    title: WORDS.play.title,
    leave() {
      isLeft = true;
      letGo();
      if (outcome !== null) app.unmarked = { card: now.card, outcome: { ...outcome, mark: view.chosen() } };
      view?.leave();
    },
  };
}

const proposed = ({ task, sound }, { isRight, isElsewhere }, { hasUndone, first_ms }) =>
  propose({ kind: task.kind, isRight, isElsewhere, hasUndone, first_ms, notes: sound.midi.length });

function playTop(app, { card, number, total }) {
  const bar = h("i");
  bar.style.setProperty("--share", `${(100 * (number - 1)) / total}%`);
  return h("div", { class: "top" },
    h("p", null, WORDS.play.place(card.drill, number, total)),
    h("div", { class: "bar", "aria-hidden": "true" }, bar),
    button(WORDS.shared.home, () => app.go("home"), { class: "home" }));
}

/** What became of the card before, and the way back to it. */
function lastMark({ mark, wait_ms }, takeBack) {
  const text = WORDS.play.backIn(WORDS.marks[mark], wait_ms);
  const undo = button(WORDS.play.undoMark, once(takeBack), { class: "plain" });
  return h("div", { class: "before" }, h("p", { role: "status" }, text), undo);
}

/** Where a question does not fit on the screen, what stands above it gives way. */
function scrollToHead(element) {
  scrollTo(0, element.querySelector("h1").getBoundingClientRect().top - HEAD_ROOM);
}

/** Keys that work wherever the focus is, unless what has it takes them. @returns {() => void} lets go */
function onKeys({ goOn, takeBack, pick, leave }) {
  const listen = (event) => {
    if (event.repeat || event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return;
    const { key, target } = event;
    if (key === "Escape") leave();
    else if (key === "Backspace") takeBack();
    else if (key >= "1" && key <= "4" && key.length === 1) pick(Number(key));
    else if (key === "Enter" && !target.closest("button, a, [role=gridcell]")) goOn();
    else return;
    event.preventDefault();
  };
  document.addEventListener("keydown", listen);
  return () => document.removeEventListener("keydown", listen);
}
