// A pad with more keys than a thumb can reach: first the kinds, then the keys of one kind and a way back.

import { button, h, refill } from "../dom.js";
import { WORDS } from "../words.js";
import { makePad } from "./pad.js";

const KIND_COLUMNS = 3;

/**
 * @param {import("./pad.js").PadSpec} spec with groups
 * @param {(value: unknown) => void} onPress
 * @returns {ReturnType<typeof makePad>}
 */
export function makeGroupedPad({ groups, columns }, onPress) {
  const names = groups.map(({ text }, at) => ({ value: at, texts: [text] }));
  const kinds = makePad({ keys: names, columns: KIND_COLUMNS }, (at) => open(pads[at]));
  const pads = groups.map(({ keys }) => makePad({ keys, columns }, onPress));
  const back = button(WORDS.answers.anotherKind, () => open(kinds), { class: "onward" });
  const element = h("div");
  let shown = kinds;

  function open(pad) {
    const hadFocus = element.contains(document.activeElement);
    shown = pad;
    refill(element, pad.element, pad !== kinds && back);
    if (hadFocus) pad.focus();
  }
  function mark(label, value) {
    const holder = groups.findIndex(({ keys }) => keys.some((key) => key.value === value));
    kinds.mark(WORDS.answers.kindOf(label), holder);
    pads.forEach((pad) => pad.mark(label, value));
    open(holder < 0 ? kinds : pads[holder]);
  }
  return { element, mark, focus: () => shown.focus() };
}
