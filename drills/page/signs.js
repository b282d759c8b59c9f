// Texts with music signs, as nodes. Few phones have a font with the double accidentals, so these are made of
// signs that every font has, as on the cards of the package.

import { h } from "./dom.js";

const RARE = Object.freeze({
  "𝄫": { shown: "♭♭", said: "double flat" },
  "𝄪": { shown: "×", said: "double sharp" },
});

/**
 * The text as nodes, rare signs made of common ones.
 *
 * @param {string} text
 * @returns {(string | HTMLElement)[]}
 */
export function signed(text) {
  return text.split(/(𝄫|𝄪)/u).filter(Boolean).map((part) => {
    const rare = RARE[part];
    return rare ? h("span", { class: "rare", role: "img", "aria-label": rare.said }, rare.shown) : part;
  });
}

/** The text as nodes; a range of numbers, such as 3–5, stays on one line. */
export function withRanges(text) {
  return text.split(/(\d+–\d+)/).map((part, nth) => (nth % 2 ? h("span", { class: "range" }, part) : part));
}

/** The text as nodes; what stands between two middle dots stays on one line where it can, no dot begins a line. */
export function inParts(text) {
  const [first, ...rest] = text.split(" · ");
  return [signed(first), rest.map((part) => ["\u00A0· ", h("span", { class: "part" }, signed(part))])];
}
