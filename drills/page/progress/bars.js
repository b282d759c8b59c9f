// Bars: how far a voicing's cards are, and what the coming fortnight asks.

import { h } from "../dom.js";
import { STAGES, stageWords } from "./stages.js";
import { WORDS } from "../words.js";

/** Days are measured against so many cards at least, so that a quiet fortnight looks quiet. */
const LEAST_SCALE = 10;

/**
 * One bar with a part for each stage, as long as its share.
 *
 * @param {import("./stages.js").Stages} stages
 * @param {{ label?: string }} [how] what the bar is about, for a screen reader
 * @returns {HTMLElement}
 */
export function drawStageBar(stages, { label = "" } = {}) {
  const said = [label, stageWords(stages)].filter(Boolean).join(": ");
  const parts = STAGES.filter((stage) => stages[stage] > 0).map((stage) => share(stage, stages[stage]));
  return h("div", { class: "stage-bar", role: "img", "aria-label": said },
    parts.length > 0 ? parts : share("unseen", 1));
}

/**
 * The cards of the coming days: those that fall due, and fresh ones on top.
 *
 * @param {{ day: number, due: number, fresh: number }[]} days `day` in ms: when that day begins
 * @param {{ label: string }} how
 * @returns {HTMLElement}
 */
export function drawFortnight(days, { label }) {
  const scale = Math.max(LEAST_SCALE, ...days.map(({ due, fresh }) => due + fresh));
  return h("figure", { class: "fortnight" },
    h("div", { class: "days", "aria-hidden": "true" }, days.map((day, index) => dayBar(day, index, scale))),
    h("p", { class: "day-legend", "aria-hidden": "true" }, ["due", "fresh"].map(legend)),
    daysInWords(days, label));
}

const legend = (kind) => h("span", null, h("span", { class: `swatch ${kind}` }), WORDS.pictures[kind]);

function dayBar({ day, due, fresh }, index, scale) {
  const room = scale - due - fresh;
  return h("div", { class: index === 0 ? "day today" : "day" },
    h("div", { class: "column" },
      share("room", room),
      h("span", { class: "count" }, due + fresh > 0 ? due + fresh : ""),
      fresh > 0 && share("fresh", fresh),
      due > 0 && share("due", due)),
    h("span", { class: "day-name" }, WORDS.pictures.dayLetter(day)));
}

function daysInWords(days, label) {
  // A table would grow beyond the pixel that unseen words take up.
  return h("div", { class: "unseen-words" }, h("table", null,
    h("caption", null, label),
    h("tr", null, ["day", "due", "fresh"].map((kind) => h("th", { scope: "col" }, WORDS.pictures[kind]))),
    days.map(({ day, due, fresh }) =>
      h("tr", null, h("th", { scope: "row" }, WORDS.pictures.dayName(day)), [due, fresh].map(cell)))));
}

const cell = (text) => h("td", null, text);

function share(name, count) {
  const part = h("span", { class: `part ${name}` });
  part.style.setProperty("flex-grow", String(count));
  return part;
}
