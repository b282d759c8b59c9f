// One side of a card: its head, its layers with their markers for a legend, its lines.

import { h } from "../dom.js";
import { inParts, signed } from "../signs.js";
import { WORDS } from "../words.js";

/** The large line with its quiet note; null when the face has neither. */
export function faceHead(face) {
  if (!face.head && !face.headNote) return null;
  return h("header", { class: "face-head" },
    face.head && h("h1", { tabindex: "-1" }, signed(face.head)),
    face.headNote && h("p", { class: "quiet" }, inParts(face.headNote)));
}

/** What is said of the layers, upper first, each beside its marker and unseen name; null when nothing is. */
export function faceLayers(face) {
  if (face.layers.length === 0) return null;
  return h("ul", { class: "face-layers" }, face.layers.map(({ role, text }) =>
    h("li", { class: `layer-${role}` },
      h("span", { class: "unseen-words" }, WORDS.play.layer(role)), inParts(text))));
}

/**
 * The quieter facts, a paragraph each.
 *
 * @param {import("../deck.js").Face} face
 * @param {import("../deck.js").Deck} deck
 * @param {import("../settings.js").Settings} settings decides how notes are called
 */
export function faceLines(face, deck, settings) {
  return face.lines.map((line) =>
    typeof line === "string"
      ? h("p", { class: "face-line" }, inParts(line))
      : h("p", { class: "face-line notes" }, signed(notesText(line.notes, deck, settings))));
}

/** Notes low to high, layers apart: as their degrees spell them, or by their plain names. */
function notesText(layers, deck, settings) {
  const called = ({ name, midi }) => (settings.names === "plain" ? deck.plainNames[midi % 12] : name);
  return layers.map((notes) => notes.map(called).join(" ")).join(" | ");
}
