// A pad of keys: one stop for the tab key, arrows inside, and what a key says can be typed to find it.

import { button, h } from "../dom.js";
import { signed } from "../signs.js";
import { WORDS } from "../words.js";

const TYPING_ms = 900;

/**
 * @typedef {Object} Key
 * @property {unknown} value
 * @property {string[]} texts what it says; several names of one thing stand side by side
 *
 * @typedef {Object} PadSpec
 * @property {Key[]} keys row by row
 * @property {number} columns
 * @property {number} [narrow] columns on a screen that is too narrow for so many
 * @property {{ text: string, keys: Key[] }[]} [groups] the same keys by kind, when they are many
 * @property {boolean} [isMany] whether several keys can be down at once
 * @property {boolean} [isPlain] whether keys never stay down
 */

/**
 * @param {PadSpec} spec
 * @param {(value: unknown) => void} onPress
 * @returns {{ element: HTMLElement, mark(label: string, value: unknown): void, focus(): void }} `mark`
 *   says what the pad is for now and which of its keys are down
 */
export function makePad(spec, onPress) {
  const { keys, columns, narrow = columns, isMany = false, isPlain = false } = spec;
  const buttons = keys.map(({ value, texts }, at) =>
    button(texts.map((text) => h("span", null, signed(text))), () => onPress(value), {
      class: "key",
      tabindex: at === 0 ? 0 : -1,
      "aria-label": texts.map(WORDS.answers.said).join(WORDS.answers.or),
      onfocus: () => reach(at),
    }));
  const element = h("div", { class: "pad", role: "toolbar", onkeydown: move }, buttons);
  element.style.setProperty("--columns", columns);
  element.style.setProperty("--narrow-columns", narrow);

  function reach(at) {
    buttons.forEach((each, place) => (each.tabIndex = place === at ? 0 : -1));
  }
  const columnsShown = () => new Set(buttons.map((each) => each.offsetLeft)).size;
  const typed = typeAhead(keys);
  function move(event) {
    const at = buttons.indexOf(document.activeElement);
    if (at < 0 || event.ctrlKey || event.metaKey || event.altKey) return;
    const next = arrowTarget(event.key, at, columnsShown(), buttons.length) ?? typed(event.key, at);
    if (next === null) return;
    event.preventDefault();
    event.stopPropagation();
    buttons[next].focus();
  }
  function mark(label, value) {
    element.setAttribute("aria-label", label);
    const isDown = (key) => (isMany ? (value ?? []).includes(key.value) : key.value === value);
    buttons.forEach((each, at) => !isPlain && each.setAttribute("aria-pressed", String(isDown(keys[at]))));
    const first = isMany ? -1 : keys.findIndex(isDown);
    if (!isPlain && first >= 0) reach(first);
  }
  function focus() {
    buttons.find((each) => each.tabIndex === 0).focus({ preventScroll: true });
  }
  return { element, mark, focus };
}

/** The key that an arrow leads to; null where there is none or it was another key of the keyboard. */
function arrowTarget(name, at, columns, count) {
  const ways = { ArrowLeft: at - 1, ArrowRight: at + 1, ArrowUp: at - columns, ArrowDown: at + columns };
  if (name === "Home") return 0;
  if (name === "End") return count - 1;
  const next = ways[name];
  return next >= 0 && next < count ? next : null;
}

/** Finds the next key that begins with what was typed within a moment; flats are typed as b, sharps as #. */
function typeAhead(keys) {
  let typed = "";
  let last_ms = 0;
  const plain = (text) => text.replaceAll("♭", "b").replaceAll("♯", "#").toLowerCase();
  return (letter, from) => {
    if (letter.length !== 1 || letter === " ") return null;
    const now_ms = performance.now();
    typed = now_ms - last_ms < TYPING_ms ? typed + plain(letter) : plain(letter);
    last_ms = now_ms;
    const order = keys.map((_, step) => (from + (typed.length > 1 ? 0 : 1) + step) % keys.length);
    return order.find((at) => keys[at].texts.some((text) => plain(text).startsWith(typed))) ?? null;
  };
}
