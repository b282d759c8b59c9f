// Degrees by their height over the root: twelve keys, each with all its names.

import { WORDS } from "../words.js";
import { makeBlanks } from "./blanks.js";

/**
 * @param {{ asked: unknown[] }} task of kind "degrees"
 * @param {Object} given see answers/index.js
 * @returns {import("./index.js").Answer} gives semitones over the root, low to high
 */
export function makeAnswer({ asked }, { deck, onChange }) {
  const keys = deck.pads.degrees.map(({ semitones, texts }) => ({ value: semitones, texts }));
  const pad = { keys, columns: 4 };
  const { degree, degreeNumbered } = WORDS.answers;
  const said = (place) => (asked.length > 1 ? degreeNumbered(place + 1) : degree);
  const blank = (_, place) => ({ name: degree, said: said(place), pad });
  return makeBlanks({ lines: [{ isLarge: true, parts: asked.map(blank) }], onChange });
}
