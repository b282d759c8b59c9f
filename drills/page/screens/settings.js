// What a student can set. Everything is kept at once; there is nothing to confirm.

import { choices, list, numberField, tick } from "./controls.js";
import { button, h } from "../dom.js";
import { RANGES } from "../settings.js";
import { WORDS } from "../words.js";
import { progressPart } from "./progress.js";
import { part, screenTop } from "./top.js";

/** @param {Object} app @returns {import("../shell/route.js").Screen} */
export function settingsScreen(app) {
  const words = WORDS.settings;
  const set = (change) => keep(app, change);
  const element = h("div", { class: "screen settings" },
    screenTop(app, words.title),
    h("p", { class: "quiet" }, words.atOnce),
    part(words.neckPart, handChoice(app, set), neckChoice(app, set)),
    part(words.soundPart, ...soundControls(app, set)),
    part(words.lookPart, themeChoice(app, set), namesChoice(app, set)),
    part(words.dayPart, ...dayControls(app, set)),
    progressPart(app));
  return { element, title: words.title };
}

function keep(app, change) {
  app.settings = { ...app.settings, ...change };
  app.store.saveSettings(app.settings);
  app.applySettings();
}

const picked = (legend, name, texts, app, set) => choices({
  legend,
  options: Object.entries(texts).map(([value, text]) => ({ value, text })),
  value: app.settings[name],
  onPick: (value) => set({ [name]: value }),
});

const handChoice = (app, set) => picked(WORDS.settings.hand, "hand", WORDS.settings.hands, app, set);
const neckChoice = (app, set) => picked(WORDS.settings.neck, "neck", WORDS.settings.necks, app, set);
const themeChoice = (app, set) => picked(WORDS.settings.theme, "theme", WORDS.settings.themes, app, set);
const namesChoice = (app, set) => [
  picked(WORDS.settings.names, "names", WORDS.settings.nameKinds, app, set),
  h("p", { class: "quiet small" }, WORDS.settings.namesNote),
];

function soundControls(app, set) {
  const words = WORDS.settings;
  return [
    tick({ text: words.soundOn, isOn: app.settings.isSoundOn, onTurn: (isSoundOn) => set({ isSoundOn }) }),
    numberField({
      label: words.a4,
      unit: words.hertz,
      value: app.settings.a4_hz,
      range: RANGES.a4_hz,
      step: 1,
      words: WORDS.shared,
      onSet: (a4_hz) => set({ a4_hz }),
    }),
    h("div", { class: "row" }, button(words.hearA, () => app.sound.chord([69]))),
    h("p", { class: "quiet small" }, app.sound.failure ?? words.soundNote),
  ];
}

function dayControls(app, set) {
  const words = WORDS.settings;
  const own = numberField({
    label: words.ownFresh,
    value: app.settings.freshPerDay ?? app.deck.freshPerDay,
    range: RANGES.freshPerDay,
    step: 1,
    words: WORDS.shared,
    onSet: (freshPerDay) => set({ freshPerDay }),
  });
  own.hidden = app.settings.freshPerDay === null;
  const pick = (isOwn) => {
    own.hidden = !isOwn;
    set({ freshPerDay: isOwn ? Number(own.querySelector("input").value) : null });
  };
  return [
    choices({
      legend: words.fresh,
      options: [
        { value: false, text: words.freshOfDeck(app.deck.freshPerDay) },
        { value: true, text: words.freshOwn },
      ],
      value: app.settings.freshPerDay !== null,
      onPick: pick,
    }),
    own,
    list({
      label: words.dayStart,
      options: Array.from({ length: 24 }, (_, hour) => ({ value: String(hour), text: words.hour(hour) })),
      value: String(app.settings.dayStartHour),
      onPick: (hour) => set({ dayStartHour: Number(hour) }),
    }),
  ];
}
