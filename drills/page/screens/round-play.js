// A round while it is played: the chord large, the next one small, the beats on a line, the neck on request.

import { announce, button, h, refill } from "../dom.js";
import { drawNeck, neckWords } from "../necks/neck.js";
import { BARS_PER_KEY, BEATS_PER_BAR, barStart, keysPlayed, placeOfBeat, roundStops } from "./round.js";
import { isLeftHanded } from "../settings.js";
import { signed } from "../signs.js";
import { keepAwake } from "../shell/wake.js";
import { WORDS } from "../words.js";

/**
 * @param {Object} app
 * @param {{ voicing: number, isNeckShown: boolean }} round
 * @param {(played: import("../deck.js").Card[]) => void} onEnd called with the cards of the keys played to
 *   the end
 * @returns {{ children: Node[], leave: () => void }}
 */
export function roundPlay(app, round, onEnd) {
  const words = WORDS.rounds;
  const stops = roundStops(app.deck, round.voicing);
  const view = playView(app, round, stops);
  const letSleep = keepAwake();
  let beat = 0;
  let shown = -1;
  let running = null;

  function onBeat(next) {
    beat = next;
    const place = placeOfBeat(beat, stops.length);
    if (place.isOver) return end();
    view.showBeat(place);
    if (place.stop !== shown) change(place.stop);
  }
  function change(stop) {
    shown = stop;
    view.showStop(stop);
    announce(WORDS.shared.heard(stops[stop].back.head));
    if (running && app.settings.hasDrone) running.drone(droneMidi(stops[stop].key.pitchClass));
  }
  function run() {
    running = clickAndDrone(app, { firstBeat: barStart(beat), onBeat });
    if (shown >= 0 && app.settings.hasDrone) running.drone(droneMidi(stops[shown].key.pitchClass));
    refill(pause, words.pause);
  }
  function rest() {
    running?.stop();
    running = null;
    refill(pause, words.goOn);
  }
  function end() {
    onEnd(stops.slice(0, keysPlayed(beat)));
  }

  const pause = button("", () => (running ? rest() : run()), { class: "main", "data-first": true });
  const stop = button(words.stop, end);
  // A page that nobody sees is slowed down by the browser: the click would stumble.
  const onHidden = () => document.hidden && running && rest();
  document.addEventListener("visibilitychange", onHidden);
  run();
  return {
    children: [view.element, h("div", { class: "doing" }, h("div", { class: "row" }, stop, pause))],
    leave() {
      document.removeEventListener("visibilitychange", onHidden);
      running?.stop();
      letSleep();
    },
  };
}

// The click and the drone under it, stopped together.
function clickAndDrone(app, { firstBeat, onBeat }) {
  const { sound, settings } = app;
  let stopDrone = () => {};
  const stopClicks = sound.clicks({ bpm: settings.clickBpm, beatsPerBar: BEATS_PER_BAR, firstBeat, onBeat });
  return {
    drone(midi) {
      stopDrone();
      stopDrone = sound.drone(midi);
    },
    stop() {
      stopClicks();
      stopDrone();
    },
  };
}

// From C2 upwards, where a bass would hold it.
const droneMidi = (pitchClass) => 36 + pitchClass;

function playView(app, round, stops) {
  const words = WORDS.rounds;
  const count = h("span", { class: "quiet" });
  const head = h("h1", { class: "round-head" });
  const next = h("p", { class: "round-next quiet" });
  const neck = h("div", { class: "round-neck" });
  const dots = Array.from({ length: BEATS_PER_BAR * BARS_PER_KEY }, () => h("i"));
  const beats = h("div", { class: "beats", "aria-hidden": "true" }, dots);
  const { title } = app.deck.voicings[round.voicing];

  const reveal = (card) => refill(neck, stillNeck(app, card));
  const hide = (card) => refill(neck, button(words.showNeck, () => reveal(card), { class: "veil" }));
  return {
    element: h("div", { class: "round-play" },
      h("p", { class: "round-title" }, h("b", null, signed(title)), count),
      h("div", null, head, next),
      beats,
      neck),
    showStop(stop) {
      const card = stops[stop];
      refill(head, signed(card.back.head));
      const after = stops[stop + 1];
      refill(next, after ? [words.next, " ", signed(after.back.head)] : words.last);
      if (round.isNeckShown) reveal(card);
      else hide(card);
    },
    showBeat({ isCountIn, stop, beatOfStop }) {
      refill(count, isCountIn ? words.countIn : words.keyOf(stop + 1, stops.length));
      beats.classList.toggle("counting-in", isCountIn);
      dots.forEach((dot, n) => dot.classList.toggle("now", n === beatOfStop));
    },
  };
}

function stillNeck(app, card) {
  const { instrument } = app.deck;
  return h("figure", { class: "neck" }, drawNeck(card.back.picture, instrument, {
    isLeftHanded: isLeftHanded(app.settings, instrument),
    direction: app.settings.neck,
    label: neckWords(card.back.picture, instrument),
  }));
}
