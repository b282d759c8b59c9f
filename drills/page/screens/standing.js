// Where you are: the keys and the voicings by stage, the days to come, and what is weakest.

import { drawFortnight, drawStageBar } from "../progress/bars.js";
import { forecast, stagesByKey, stagesByVoicing, weakSpots } from "../memory/daily.js";
import { button, h } from "../dom.js";
import { recall } from "../memory/schedule.js";
import { inParts, signed } from "../signs.js";
import { drawLegend } from "../progress/stages.js";
import { drawWheel } from "../progress/wheel.js";
import { WORDS } from "../words.js";
import { part, screenTop } from "./top.js";

/** @param {Object} app @returns {import("../shell/route.js").Screen} */
export function standingScreen(app) {
  const words = WORDS.standing;
  const day = { ...app.day(), pace: app.pace };
  const weak = weakSpots(day);
  const element = h("div", { class: "screen standing" },
    screenTop(app, words.title),
    part(words.keys, keys(app), drawLegend()),
    part(words.voicings, voicings(app)),
    part(words.fortnight,
      drawFortnight(forecast(day), { label: words.daysLabel }),
      h("p", { class: "quiet small" }, words.daysNote)),
    part(words.weak, weak.length > 0 ? spots(app, weak) : h("p", { class: "quiet" }, words.noWeak)),
    weak.length > 0 && h("div", { class: "doing" },
      button(words.practise(weak.length), () => app.go("play", "weak"), { class: "main" })));
  return { element, title: words.title };
}

function keys({ deck, memories }) {
  const stages = stagesByKey(deck.cards, memories);
  const rows = deck.fourths.map((key) => ({ text: deck.keyNames[key], pitchClass: key, ...stages[key] }));
  return drawWheel(rows, { label: WORDS.standing.keysLabel });
}

function voicings({ deck, memories }) {
  const stages = stagesByVoicing(deck.cards, memories, deck.voicings.length);
  return h("ul", { class: "all-voicings" }, deck.voicings.map(({ title, detail }, index) =>
    h("li", null,
      h("p", { class: "called" },
        h("b", null, signed(title)),
        detail && h("span", { class: "quiet small" }, inParts(detail))),
      drawStageBar(stages[index], { label: title }))));
}

function spots(app, cards) {
  const { deck } = app;
  return h("ul", { class: "spots" }, cards.map((card) =>
    h("li", null,
      h("p", null, h("b", null, signed(card.back.head)),
        h("span", { class: "quiet small" }, inParts(`${card.drill} · ${deck.voicings[card.voicing].title}`))),
      h("span", { class: "quiet small" }, why(app, card)))));
}

/** What makes a card one of the weakest. */
function why({ memories, now, pace }, { id }) {
  const kept = memories.get(id);
  if (kept.stage === "slipped") return WORDS.stages.slipped;
  return recall(kept, now(), pace) < pace.targetRecall ? WORDS.standing.fading : WORDS.standing.hard;
}
