// The four stages of cards, as bars, wheel and legend show them: a tone or hatching each, and always in words
// too.

import { h } from "../dom.js";
import { WORDS } from "../words.js";

/** @typedef {{ unseen: number, settling: number, settled: number, slipped: number }} Stages cards by stage */

/** From what is known best to what is not known yet. */
export const STAGES = Object.freeze(["settled", "settling", "slipped", "unseen"]);

/** "3 settled, 1 slipped"; stages without a card are left out. */
export function stageWords(stages) {
  const there = STAGES.filter((stage) => stages[stage] > 0);
  return there.map((stage) => `${stages[stage]} ${WORDS.stages[stage]}`).join(", ") || WORDS.pictures.noCards;
}

export function totalOf(stages) {
  return STAGES.reduce((sum, stage) => sum + stages[stage], 0);
}

/** What the tones mean. */
export function drawLegend() {
  return h("ul", { class: "stage-legend" },
    STAGES.map((stage) => h("li", null, h("span", { class: `stage ${stage}` }), WORDS.stages[stage])));
}
