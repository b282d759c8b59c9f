// The answer as notes tapped on the neck.

import { isLeftHanded } from "../settings.js";
import { makeTapNeck } from "../necks/tapneck.js";

/**
 * A neck to answer on. Notes that the question shows lie on it as outlines, so that a student moves from
 * there; the question's own picture need not be shown besides.
 *
 * @param {Object} task of kind "neck"
 * @param {Object} given see answers/index.js
 */
export function makeAnswer(task, { card, deck, settings, onChange }) {
  const { instrument } = deck;
  const names = settings.names === "plain" ? deck.plainNames : card.names.notes;
  const neck = makeTapNeck({
    instrument, onChange,
    isLeftHanded: isLeftHanded(settings, instrument),
    direction: settings.neck,
    start: task.start,
    fixed: task.fixed,
    asked: task.strings,
    given: card.front.picture?.markers,
    lookAt: lookAt(task, card),
    nameOf: (string, fret) => names[(instrument.midi[string] + fret) % 12],
  });
  const { element, undo, clear, canUndo, focus, frets } = neck;
  const isReady = () => neck.isChanged() && frets().some((fret) => fret !== null);
  return { element, showsPicture: true, isReady, given: frets, undo, clear, canUndo, focus };
}

/** The frets that a question speaks of: its picture's, or a layer's region; null when it speaks of none. */
function lookAt({ accepts }, { drill, front }) {
  if (front.picture) return [front.picture.first, front.picture.last];
  const fretted = accepts[0].filter((fret) => fret);
  if (drill !== "layer" || fretted.length === 0) return null;
  const around = Math.ceil((Math.min(...fretted) + Math.max(...fretted)) / 2);
  return [around, around];
}
