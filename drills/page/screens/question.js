// One question: what the card asks, the place to answer, and the buttons under it.

import { makeAnswer } from "../answers/index.js";
import { button, h } from "../dom.js";
import { faceHead, faceLayers, faceLines } from "./face.js";
import { isLeftHanded } from "../settings.js";
import { drawNeck, neckWords } from "../necks/neck.js";
import { signed } from "../signs.js";
import { WORDS } from "../words.js";

const SEEN_MS = 120;

/**
 * @typedef {Object} Given what a student did with a question
 * @property {unknown} given null when the student judges
 * @property {boolean} hasUndone
 * @property {number} first_ms from the painted question to the first tap; to the button when there was none
 */

/**
 * @param {Object} app
 * @param {import("../deck.js").Card} card
 * @param {(given: Given) => void} onAnswered
 * @returns {{ element: HTMLElement, goOn(): void, takeBack(): void, leave(): void }} what keys do
 */
export function questionView(app, card, onAnswered) {
  const { deck, settings } = app;
  const firstTap = watchFirstTap();
  let hasUndone = false;
  const maker = card.task && makeAnswer(card.task, { card, deck, settings, onChange: changed });

  const self = () => onAnswered({ given: null, hasUndone, first_ms: firstTap.read() });
  const undo = button(WORDS.play.undo, takeBack(() => maker.undo()));
  const clear = button(WORDS.play.clear, takeBack(() => maker.clear()));
  const check = button(WORDS.play.check, answer, { class: "main" });
  const show = button(WORDS.play.showMe, self, { class: maker ? null : "main" });

  function changed() {
    firstTap.tapped();
    refresh();
  }
  function refresh() {
    undo.disabled = clear.disabled = !maker.canUndo();
    check.disabled = !maker.isReady();
  }
  function takeBack(how) {
    return () => {
      hasUndone = true;
      how();
      refresh();
    };
  }
  function answer() {
    if (maker?.isReady()) onAnswered({ given: maker.given(), hasUndone, first_ms: firstTap.read() });
  }
  if (maker) refresh();

  const answering = maker && h("div", { class: `answering answering-${card.task.kind}` }, maker.element);
  // One of a few is chosen anew by choosing another.
  const steps = card.task?.kind === "choice" ? [check] : [undo, clear, check];
  const doing = h("div", { class: "doing" }, maker && h("div", { class: "row" }, steps), show);
  const isOnNeck = !maker || card.task.kind === "neck";
  const element = h("div", { class: "question" },
    questionFace(app, card, maker?.showsPicture),
    // Keys to answer with stay within reach, as a phone's own do; a neck is large, and scrolls with the rest.
    isOnNeck ? [answering, doing] : h("div", { class: "dock" }, answering, doing));
  const stopSound = prepareSound(app, card);
  return {
    element,
    goOn: maker ? answer : self,
    takeBack: () => maker?.canUndo() && undo.click(),
    leave: stopSound,
  };
}

/** What the card says before it is answered; its picture only where the place to answer does not show it. */
function questionFace(app, card, isPictureShown) {
  const { front } = card;
  const head = faceHead(front);
  return h("div", { class: "face" },
    h("div", { class: "headed" }, head, card.sound.rootMidi !== null && hearButton(app, card)),
    faceLayers(front),
    h(head ? "p" : "h1", { class: "ask" }, signed(front.ask)),
    // What there is to choose from is what one answers with.
    card.task?.kind !== "choice" && faceLines(front, app.deck, app.settings),
    front.picture && !isPictureShown && stillNeck(app, front.picture));
}

function stillNeck(app, picture) {
  const { instrument } = app.deck;
  return h("figure", { class: "neck" }, drawNeck(picture, instrument, {
    isLeftHanded: isLeftHanded(app.settings, instrument),
    direction: app.settings.neck,
    label: neckWords(picture, instrument),
  }));
}

/** For `hear` the sound is the question; for `name` the root may be heard, as it is said. */
function hearButton(app, card) {
  const text = card.drill === "hear" ? WORDS.play.hearAgain : WORDS.play.hearRoot;
  return button(text, () => hear(app, card));
}

function hear(app, card) {
  const { rootMidi, midi } = card.sound;
  if (card.drill === "hear") app.sound.rootThenChord(rootMidi, midi);
  else app.sound.chord([rootMidi]);
}

/** After the question can be seen: `hear` begins by itself, the others make their strings ready. */
function prepareSound(app, card) {
  const { midi, rootMidi } = card.sound;
  const prepare = () => app.sound.prepare(rootMidi === null ? midi : [rootMidi, ...midi]);
  const begin = () => (card.drill === "hear" ? hear(app, card) : prepare());
  const timer = setTimeout(begin, SEEN_MS);
  return () => {
    clearTimeout(timer);
    app.sound.hush();
  };
}

/** Measures from the moment at which the question could be seen. */
function watchFirstTap() {
  let seen = performance.now();
  let tapped = null;
  requestAnimationFrame(() => requestAnimationFrame((time) => (seen = time)));
  const since = () => Math.max(0, Math.round(performance.now() - seen));
  return { tapped: () => (tapped ??= since()), read: () => tapped ?? since() };
}
