// The lines of an answer with blanks, drawn as they stand.

import { button, h } from "../dom.js";
import { signed } from "../signs.js";
import { WORDS } from "../words.js";

/**
 * @typedef {Object} Blank
 * @property {string} name what belongs there, such as "quality"; shown while it is empty
 * @property {string} [said] the name for those who listen, where `name` is too short to stand alone
 * @property {import("./pad.js").PadSpec} pad blanks may share one
 * @property {unknown} [preset] what stands there from the beginning
 *
 * @typedef {Object} Line
 * @property {string} [role] the layer it is about: gives it that layer's marker
 * @property {boolean} [isLarge]
 * @property {(string | Blank)[]} parts
 */

/** The blanks among the parts of a line. */
export const blanksOf = ({ parts }) => parts.filter((part) => typeof part !== "string");

/** What a blank is called by those who read it out. */
export const nameOf = ({ name, said }) => said ?? name;

/** What stands in a blank; empty while nothing does. */
export function textOf({ pad }, value) {
  if (value === null) return "";
  const isChosen = pad.isMany ? (key) => value.includes(key.value) : (key) => key.value === value;
  return pad.keys.filter(isChosen).map(({ texts }) => texts.join("/")).join(" ");
}

/** All that stands in the blanks, in words. */
export function wordsOf(blanks, values) {
  const words = blanks.map((blank, place) => WORDS.answers.said(textOf(blank, values[place])));
  return words.filter(Boolean).join(" ");
}

/**
 * Draws the lines up to the one that is at hand or was.
 *
 * @param {Line[]} lines
 * @param {{ values: unknown[], at: number, reached: number }} state see blanks.js
 * @param {(place: number) => void} goTo makes another blank the one at hand
 * @returns {HTMLElement[]}
 */
export function drawLines(lines, { values, at, reached }, goTo) {
  let place = 0;
  const drawnBlank = (blank) => drawBlank(blank, values[place], place === at, goTo.bind(null, place++));
  return lines.flatMap((line) => (place > reached ? [] : [drawLine(line, drawnBlank)]));
}

function drawLine({ role, isLarge, parts }, drawnBlank) {
  const classes = ["blank-line", role && `layer-${role}`, isLarge && "large"].filter(Boolean).join(" ");
  return h("div", { class: classes }, parts.map((part) =>
    typeof part === "string" ? h("span", null, signed(part)) : drawnBlank(part)));
}

function drawBlank(blank, value, isAtHand, goHere) {
  const text = textOf(blank, value);
  const empty = value === null ? blank.name : WORDS.answers.none;
  return button(signed(text || empty), goHere, {
    class: text ? "blank filled" : "blank",
    "aria-label": WORDS.answers.blank(nameOf(blank), WORDS.answers.said(text)),
    "aria-current": isAtHand && "step",
  });
}
