// Note names, low to high: what sounds right is right, however it is spelled.

import { isReordered, orderOff } from "./order.js";

/**
 * @param {{ midi: number[], names: string[] }} task
 * @param {{ text: string, pitchClass: number }[]} given low to high
 * @returns {import("./check.js").Result} findings `note` (place from below, given text, heard and asked
 *   pitch class), `order` (see order.js), `spelled` (right; given and own spellings)
 */
export function checkNotes(task, given) {
  const asked = task.midi.map((midi) => midi % 12);
  const heard = given.map(({ pitchClass }) => pitchClass);
  const off = asked.flatMap((pitchClass, place) =>
    heard[place] === pitchClass
      ? []
      : [{ kind: "note", place, given: given[place].text, heard: heard[place], asked: pitchClass }]);
  if (off.length === 0) return { isRight: true, findings: spelled(task.names, given) };
  return { isRight: false, findings: isReordered(heard, asked) ? [orderOff(asked), ...off] : off };
}

function spelled(names, given) {
  const pairs = names.flatMap((name, place) => {
    const { text } = given[place];
    return text === name ? [] : [{ given: text, asked: name }];
  });
  const isFirst = (pair, place) => pairs.findIndex((each) => each.given === pair.given) === place;
  return pairs.length === 0 ? [] : [{ kind: "spelled", pairs: pairs.filter(isFirst) }];
}
