// Compares what was given with what a card asks. Pure: no page, no clock, no chance; and no theory, since all
// names come with the deck: sounds are compared by number.

import { checkChoice } from "./choice.js";
import { checkDegrees } from "./degrees.js";
import { checkNeck } from "./neck.js";
import { checkNotes } from "./notes.js";
import { checkParts } from "./parts.js";

const CHECKS = Object.freeze({
  neck: checkNeck,
  parts: checkParts,
  notes: checkNotes,
  degrees: checkDegrees,
  choice: checkChoice,
});

/**
 * @typedef {{ kind: string } & Object<string, unknown>} Finding what is to be told, as plain data;
 *   findings.js makes sentences of it, and each file in checks/ says what its own findings hold
 *
 * @typedef {Object} Result
 * @property {boolean} isRight
 * @property {boolean} [isElsewhere] the right notes, but not where they were asked
 * @property {Finding[]} findings the most useful first; some also go with a right answer
 */

/**
 * What is right and what is off in an answer.
 *
 * @param {Object} task the card's task
 * @param {unknown} given what the answer's `given()` returns, see answers/
 * @param {import("../deck.js").Card} card
 * @param {import("../deck.js").Deck} deck
 * @returns {Result}
 */
export function check(task, given, card, deck) {
  return CHECKS[task.kind](task, given, card, deck);
}
