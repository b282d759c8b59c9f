// Notes low to high: a slot for each, the layers apart, and a pad of all twenty-one names.

import { WORDS } from "../words.js";
import { makeBlanks } from "./blanks.js";

const LETTERS = "CDEFGAB";
const [SHARP, NATURAL, FLAT] = [0, 1, 2];

/**
 * @param {{ midi: number[] }} task of kind "notes"
 * @param {Object} given see answers/index.js
 * @returns {import("./index.js").Answer} gives { text, pitchClass } of each note, low to high
 */
export function makeAnswer({ midi }, { card, deck, onChange }) {
  const rows = deck.pads.notes;
  const keys = rows.flat().map((note) => ({ value: note, texts: [note.text] }));
  const pad = { keys, columns: 7, isPlain: true };
  let place = 0;
  const slot = () => ({ name: "–", said: WORDS.answers.noteOf(++place, midi.length), pad });
  const lines = layersOf(card, midi.length).map(({ role, count }) => ({
    role,
    parts: Array.from({ length: count }, slot),
  }));
  const blanks = makeBlanks({ lines, onChange, isInOneRow: true });
  listenForLetters(rows, blanks);
  return blanks;
}

/** How many notes each layer has, lowest layer first; the answer tells its notes by layers. */
function layersOf({ back }, count) {
  const told = back.lines.find((line) => typeof line !== "string")?.notes ?? [];
  const roles = back.layers.map(({ role }) => role).reverse();
  if (told.flat().length !== count || roles.length !== told.length) return [{ role: null, count }];
  return told.map((notes, place) => ({ role: told.length > 1 ? roles[place] : null, count: notes.length }));
}

/**
 * Letters put the natural; # and b after one alter it. So `b` is a flat right after a typed natural, and the
 * note B at the beginning, after a flat or sharp, and always with the shift key.
 */
function listenForLetters(rows, { element, put, amend }) {
  let letter = null; // column of the natural typed last, until something else happens
  element.addEventListener("focusout", ({ relatedTarget }) => {
    if (!element.contains(relatedTarget)) letter = null;
  });
  element.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const row = letter === null ? undefined : { "#": SHARP, b: FLAT }[event.key];
    const column = LETTERS.indexOf(event.key.toUpperCase());
    if (row !== undefined) {
      amend(rows[row][letter]);
      letter = null;
    } else if (event.key.length === 1 && column >= 0) {
      put(rows[NATURAL][column]);
      letter = column;
    } else {
      if (event.key !== "Shift") letter = null;
      return;
    }
    event.preventDefault();
    event.stopPropagation();
  }, true);
}
