// The answer: the neck with everything on it, what was off and why, the sound, and the mark.

import { announce, button, h } from "../dom.js";
import { faceHead, faceLayers, faceLines } from "./face.js";
import { explain } from "../checks/findings.js";
import { drawNeck, neckWords } from "../necks/neck.js";
import { isLeftHanded } from "../settings.js";
import { signed } from "../signs.js";
import { ARPEGGIO_S } from "../sounds/sound.js";
import { WORDS } from "../words.js";
import { markStops } from "./marks.js";

const REST_S = 0.9; // between an arpeggio's last note and the chord

/**
 * @param {Object} app
 * @param {import("../deck.js").Card} card
 * @param {import("./play.js").Outcome} outcome
 * @param {(mark: import("../memory/schedule.js").Mark) => void} onMarked
 * @returns {{ element: HTMLElement, goOn(): void, pick(mark: number): void, chosen(): number, leave(): void }}
 *   `pick` and `chosen` are about the mark
 */
export function answerView(app, card, outcome, onMarked) {
  const stops = markStops(outcome.mark);
  const stopSound = playOnce(app, card);
  const next = button(WORDS.play.next, mark, { class: "main" });

  function mark() {
    if (next.disabled) return;
    next.disabled = true;
    stopSound();
    onMarked(stops.mark());
  }
  const element = h("div", { class: "answer" },
    answerFace(app, card, outcome, stopSound),
    h("div", { class: "doing" }, stops.element, next));
  return { element, goOn: mark, pick: stops.pick, chosen: stops.mark, leave: stopSound };
}

/** What was asked for comes first; facts to look up come last, and may have to be scrolled to. */
function answerFace(app, card, outcome, stopSound) {
  const { back } = card;
  return h("div", { class: "face" },
    faceHead(back),
    faceLayers(back),
    back.picture && answeredNeck(app, card, outcome.result),
    outcome.result && verdict(app, card, outcome.result),
    soundRow(app, card, stopSound),
    faceLines(back, app.deck, app.settings));
}

function verdict(app, card, result) {
  const [first, ...rest] = explain(result, card, app.deck, app.settings);
  announce(WORDS.shared.heard([first, ...rest].join(" ")));
  return h("p", { class: result.isRight ? "verdict" : "verdict off" },
    h("strong", null, signed(first)), " ", signed(rest.join(" ")));
}

function answeredNeck(app, card, result) {
  const { instrument } = app.deck;
  const { picture } = card.back;
  return h("figure", { class: "neck" }, drawNeck(picture, instrument, {
    isLeftHanded: isLeftHanded(app.settings, instrument),
    direction: app.settings.neck,
    label: neckWords(picture, instrument),
    wrong: card.task?.kind === "neck" && result ? wrongNotes(card, result) : [],
  }));
}

/** What was tapped beside the right notes stays on the neck. */
function wrongNotes(card, { findings }) {
  return findings
    .filter((finding) => Number.isInteger(finding.given) && Number.isInteger(finding.string))
    .map(({ string, given, heard }) => ({ string, fret: given, text: card.names.degrees[heard] }));
}

function soundRow(app, card, stopSound) {
  const { sound } = app;
  const { midi } = card.sound;
  if (midi.length === 0) return null;
  const heard = (play) => () => {
    stopSound();
    play();
  };
  return h("div", { class: "row sounds" },
    button(WORDS.play.arpeggio, heard(() => sound.arpeggio(midi))),
    button(WORDS.play.chord, heard(() => sound.chord(midi))));
}

/** Once by itself, note by note and then together, after the answer could be seen. */
function playOnce(app, { sound: { midi } }) {
  if (!app.settings.isSoundOn || midi.length === 0) return () => {};
  let timer = setTimeout(() => {
    app.sound.arpeggio(midi);
    timer = setTimeout(() => app.sound.chord(midi), 1000 * (midi.length * ARPEGGIO_S + REST_S));
  }, 60);
  return () => {
    clearTimeout(timer);
    app.sound.hush();
  };
}
