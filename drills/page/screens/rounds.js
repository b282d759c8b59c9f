// Rounds: one voicing through its keys by fourths, to a click, with one mark at the end.

import { list, numberField, tick } from "./controls.js";
import { button, h, refill } from "../dom.js";
import { roundStops, roundVoicings } from "./round.js";
import { RANGES } from "../settings.js";
import { WORDS } from "../words.js";
import { roundEnd } from "./round-end.js";
import { roundPlay } from "./round-play.js";
import { screenTop } from "./top.js";

/**
 * @param {Object} app
 * @param {{ voicing?: number }} [wanted] the voicing to begin with
 * @returns {import("../shell/route.js").Screen}
 */
export function roundsScreen(app, wanted = {}) {
  const words = WORDS.rounds;
  const voicings = roundVoicings(app.deck);
  const round = { voicing: wanted.voicing ?? voicings[0], isNeckShown: false };
  const element = h("div", { class: "screen rounds" });
  let leave = () => {};

  // Each of the three views fills the same element; the one before is left first.
  const show = (view) => {
    leave();
    leave = view.leave ?? (() => {});
    refill(element, view.children);
    element.querySelector("[data-first]")?.focus();
  };
  const set = () => show({ children: setView(app, round, voicings, start) });
  const start = () => show(roundPlay(app, round, ended));
  const ended = (played) => show({ children: roundEnd(app, { played, again: set }) });

  if (voicings.length > 0) set();
  else refill(element, screenTop(app, words.title), h("p", null, words.none));
  return { element, title: words.title, leave: () => leave() };
}

function setView(app, round, voicings, start) {
  const words = WORDS.rounds;
  const keep = (change) => {
    app.settings = { ...app.settings, ...change };
    app.store.saveSettings(app.settings);
  };
  const keys = h("p", { class: "quiet small" });
  const pick = (voicing) => {
    round.voicing = voicing;
    keys.textContent = words.keys(roundStops(app.deck, voicing).map((card) => card.key.text));
  };
  pick(round.voicing);
  return [
    screenTop(app, words.title),
    h("p", { class: "quiet" }, words.about),
    h("div", { class: "round-set" },
      list({
        label: words.voicing,
        options: voicings.map((index) => ({ value: String(index), text: called(app.deck.voicings[index]) })),
        value: String(round.voicing),
        onPick: (index) => pick(Number(index)),
      }),
      keys,
      numberField({
        label: words.tempo,
        unit: words.bpm,
        value: app.settings.clickBpm,
        range: RANGES.clickBpm,
        step: 5,
        words: WORDS.shared,
        onSet: (clickBpm) => keep({ clickBpm }),
      }),
      tick({ text: words.drone, isOn: app.settings.hasDrone, onTurn: (hasDrone) => keep({ hasDrone }) }),
      tick({ text: words.neckShown, isOn: round.isNeckShown, onTurn: (isOn) => (round.isNeckShown = isOn) }),
      !app.settings.isSoundOn && h("p", { class: "quiet small" }, words.soundOff),
      h("p", { class: "quiet small" }, words.caution)),
    h("div", { class: "doing" }, button(words.start, start, { class: "main" })),
  ];
}

const called = ({ title, detail }) => (detail.startsWith(title) ? detail : `${title}: ${detail}`);
