// The twelve keys as a wheel of fourths. Each key's sector fills from the middle, by area: settled in ink,
// settling in a paler tone, slipped hatched; what is left is unseen.

import { h, svg } from "../dom.js";
import { STAGES, stageWords, totalOf } from "./stages.js";
import { WORDS } from "../words.js";

/** @typedef {import("./stages.js").Stages & { text: string, pitchClass: number }} KeyRow one key's cards */

const HALF = 160;
const INNER = 42;
const OUTER = 118;
const NAMES = 141;
const GAP = 5;

/**
 * The wheel, and the same as a table of words for those who do not see it.
 *
 * @param {KeyRow[]} rows in order of fourths, clockwise from the top
 * @param {{ label: string, onPick?: (row: KeyRow) => void, picked?: number }} how with `onPick` every sector is
 *   a button, which says its words itself; `picked` is a pitch class
 * @returns {HTMLElement}
 */
export function drawWheel(rows, { label, onPick = null, picked = null }) {
  const sectors = rows.map((row, index) =>
    svg("g", { class: "sector", ...(onPick && pickable(row, onPick, row.pitchClass === picked)) },
      sectorParts(row, (2 * Math.PI * index) / rows.length, Math.PI / rows.length)));
  const said = onPick ? { role: "group", "aria-label": label } : { "aria-hidden": "true" };
  return h("figure", { class: "wheel" },
    svg("svg", { viewBox: `${-HALF} ${-HALF} ${2 * HALF} ${2 * HALF}`, ...said }, sectors),
    !onPick && inWords(rows, label));
}

function pickable(row, onPick, isPicked) {
  const onkeydown = (event) => {
    if (event.key !== "Enter" && event.key !== " ") return;
    event.preventDefault();
    onPick(row);
  };
  const said = { "aria-label": `${row.text}: ${stageWords(row)}`, "aria-pressed": String(isPicked) };
  return { role: "button", tabindex: "0", ...said, onclick: () => onPick(row), onkeydown };
}

function sectorParts(row, middle, half) {
  const total = totalOf(row);
  let from = INNER;
  let sum = 0;
  const bands = STAGES.filter((stage) => stage !== "unseen" && row[stage] > 0).map((stage) => {
    sum += row[stage];
    const [start, end] = [from, radiusOf(sum / total)];
    from = end;
    return stage === "slipped"
      ? hatched(start, end, middle, half)
      : svg("path", { class: stage, d: sector(start, end, middle, half) });
  });
  const [x, y] = around(NAMES, middle);
  return [
    svg("path", { class: "unseen", d: sector(INNER, OUTER, middle, half) }),
    bands,
    svg("text", { x, y: round(y + 5.5) }, row.text),
  ];
}

/** Where a share of a sector's area ends, from the middle. */
function radiusOf(share) {
  return Math.sqrt(INNER ** 2 + share * (OUTER ** 2 - INNER ** 2));
}

function sector(from, to, middle, half) {
  const corner = (radius, side) => around(radius, middle + side * halfAt(radius, half)).join(" ");
  const arc = (radius, side) => `A${radius} ${radius} 0 0 ${side > 0 ? 1 : 0} ${corner(radius, side)}`;
  return `M${corner(from, -1)}L${corner(to, -1)}${arc(to, 1)}L${corner(from, 1)}${arc(from, -1)}Z`;
}

/** A band of strokes that point to the middle: a thick arc, dashed. */
function hatched(from, to, middle, half) {
  const radius = (from + to) / 2;
  const [start, end] = [-1, 1].map((side) => around(radius, middle + side * halfAt(radius, half)).join(" "));
  const arc = `M${start}A${radius} ${radius} 0 0 1 ${end}`;
  return svg("path", { class: "slipped", "stroke-width": round(to - from), d: arc });
}

/** Half a sector's angle, less a gap that is as wide at the middle as at the rim. */
const halfAt = (radius, half) => half - Math.asin(GAP / 2 / radius);

/** A place at an angle clockwise from the top. */
const around = (radius, angle) => [round(radius * Math.sin(angle)), round(-radius * Math.cos(angle))];

function inWords(rows, label) {
  // A table would grow beyond the pixel that unseen words take up.
  return h("div", { class: "unseen-words" }, h("table", null,
    h("caption", null, label),
    h("tr", null, [WORDS.pictures.key, ...STAGES.map((stage) => WORDS.stages[stage])].map(columnHead)),
    rows.map((row) =>
      h("tr", null, h("th", { scope: "row" }, row.text), STAGES.map((stage) => h("td", null, row[stage]))))));
}

const columnHead = (text) => h("th", { scope: "col" }, text);

const round = (number) => Math.round(number * 100) / 100;
