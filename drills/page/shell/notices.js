// Lines of notice: what the page has to tell, and one thing that can be done about it.

import { button, h, refill } from "../dom.js";

/**
 * @typedef {Object} Notice
 * @property {string} text
 * @property {string} [label] of the button
 * @property {() => void} [act] what the button does
 * @property {boolean} [isFault] something went wrong
 */

/** @param {Notice} given @returns {HTMLElement} */
export function notice({ text, label, act, isFault = false }) {
  return h("div", { class: isFault ? "notice fault" : "notice", role: isFault ? "alert" : "status" },
    h("p", null, text),
    act && button(label, act));
}

/**
 * The notices that stand at the head of home, by name, so that each is there once.
 *
 * @returns {{ element: HTMLElement, set(name: string, notice: Notice | null): void }}
 */
export function makeNotices() {
  const standing = new Map();
  const element = h("div", { class: "notices" });
  return {
    element,
    set(name, given) {
      if (given) standing.set(name, notice(given));
      else standing.delete(name);
      refill(element, [...standing.values()]);
    },
  };
}
