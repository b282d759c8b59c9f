// Help, in plain words. All of them stand in words.js; this file only lays them out.

import { h, svg } from "../dom.js";
import { drawMarker, drawWrong } from "../necks/marker.js";
import { WORDS } from "../words.js";
import { part, screenTop } from "./top.js";

/** @param {Object} app @returns {import("../shell/route.js").Screen} */
export function helpScreen(app) {
  const words = WORDS.help;
  const element = h("div", { class: "screen help" },
    screenTop(app, words.title),
    told(words.answering),
    told(words.marks),
    part(words.neck.title, paragraphs(words.neck.lines), legend(words.neck.legend)),
    told(words.sound),
    told(words.care),
    told(words.kept),
    told(words.phones),
    told(words.install),
    told(words.keys),
    part(words.deck, paragraphs(app.deck.about)));
  return { element, title: words.title };
}

const paragraphs = (lines = []) => lines.map((line) => h("p", null, line));

const told = ({ title, lines, rows, after }) =>
  part(title, paragraphs(lines), rows && pairs(rows), paragraphs(after));

const pairs = (rows) =>
  h("dl", { class: "pairs" },
    rows.map(([name, text]) => h("div", null, h("dt", null, name), h("dd", null, text))));

const RADIUS = 15;
const FRAME = Object.freeze({ class: "neck-picture", viewBox: "-22 -22 44 44", width: 44, height: 44 });
const PLAIN = Object.freeze({ layer: 0, text: "3", isRoot: false, isAsked: false, isDoubled: false });
const SIGNS = Object.freeze({
  lower: PLAIN,
  upper: { ...PLAIN, layer: 1, text: "9" },
  middle: { ...PLAIN, layer: 2, text: "5" },
  root: { ...PLAIN, text: "1", isRoot: true },
  doubled: { ...PLAIN, isDoubled: true },
  asked: { ...PLAIN, layer: 1, isAsked: true },
});

function legend(texts) {
  return h("ul", { class: "legend" }, Object.entries(texts).map(([name, text]) =>
    h("li", null, svg("svg", { ...FRAME, "aria-hidden": "true" }, sign(name)), h("span", null, text))));
}

const sign = (name) =>
  name === "wrong" ? drawWrong("♯9", [0, 0], RADIUS) : drawMarker(SIGNS[name], [0, 0], RADIUS, false);
