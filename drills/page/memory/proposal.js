// Which mark an answer is proposed to get. The student has the last word.
//
// What counts is the time from the question shown to the first tap: by then it has been read and the answer
// found; how long the taps themselves take says more about fingers than about memory. Common practice, no
// source: a player who owns a voicing has it within the two bars before it is needed, four seconds or so at
// an easy tempo; one who must work it out needs a quarter of a minute.

import { MARKS } from "./schedule.js";

/**
 * Up to when an answer counts as instant, and from when as slow, by kind of answer (see deck.js: Task). Each
 * holds the time for reading: one marker (degrees) is read at a glance; a neck to be named, or a sound to be
 * heard to its end, takes longer.
 */
export const THRESHOLDS_MS = Object.freeze({
  neck: Object.freeze({ instant: 4_000, slow: 15_000 }),
  parts: Object.freeze({ instant: 5_000, slow: 18_000 }),
  notes: Object.freeze({ instant: 4_000, slow: 15_000 }),
  degrees: Object.freeze({ instant: 3_000, slow: 10_000 }),
  choice: Object.freeze({ instant: 6_000, slow: 18_000 }),
});

const USUAL_NOTES = 6;
/** For each note beyond six there is more to read. */
export const MORE_PER_NOTE_MS = 500;

/**
 * @param {{ kind: keyof THRESHOLDS_MS, isRight: boolean, isElsewhere?: boolean, first_ms: number | null,
 *   hasUndone?: boolean, notes?: number }} answer isElsewhere: the right notes, but not where they were
 *   asked; first_ms: from the question shown to the first tap, null when nobody knows; notes: of the voicing
 *   asked about
 * @returns {import("./schedule.js").Mark}
 */
export function propose(answer) {
  const { kind, isRight, isElsewhere = false, first_ms, hasUndone = false, notes = USUAL_NOTES } = answer;
  if (isElsewhere) return MARKS.shaky;
  if (!isRight) return MARKS.missed;
  if (hasUndone) return MARKS.shaky;
  if (first_ms === null) return MARKS.clean;
  const { instant, slow } = THRESHOLDS_MS[kind];
  const more_ms = MORE_PER_NOTE_MS * Math.max(0, notes - USUAL_NOTES);
  if (first_ms > slow + more_ms) return MARKS.shaky;
  return first_ms <= instant + more_ms ? MARKS.instant : MARKS.clean;
}
