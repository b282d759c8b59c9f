// The place to answer a card, by the kind of its task.

import { makeAnswer as makeChoiceAnswer } from "./choice.js";
import { makeAnswer as makeDegreesAnswer } from "./degrees.js";
import { makeAnswer as makeNeckAnswer } from "./neck.js";
import { makeAnswer as makeNotesAnswer } from "./notes.js";
import { makeAnswer as makePartsAnswer } from "./parts.js";

const MAKERS = Object.freeze({
  neck: makeNeckAnswer,
  parts: makePartsAnswer,
  notes: makeNotesAnswer,
  degrees: makeDegreesAnswer,
  choice: makeChoiceAnswer,
});

/**
 * @typedef {Object} Answer
 * @property {HTMLElement} element
 * @property {() => boolean} isReady whether enough is given to be checked
 * @property {() => unknown} given in the shape that the check of this kind takes, see checks/
 * @property {() => void} undo takes the last step back
 * @property {() => void} clear begins again; this too can be undone
 * @property {() => boolean} canUndo
 * @property {() => void} focus puts the keyboard where the answer begins
 * @property {boolean} [showsPicture] whether the question's picture is in it already
 */

/**
 * @param {Object} task the card's task
 * @param {Object} given
 * @param {import("../deck.js").Card} given.card
 * @param {import("../deck.js").Deck} given.deck
 * @param {import("../settings.js").Settings} given.settings
 * @param {() => void} given.onChange called after every step of the student
 * @returns {Answer}
 */
export function makeAnswer(task, given) {
  return MAKERS[task.kind](task, given);
}
