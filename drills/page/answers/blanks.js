// An answer with blanks: lines that grow as they are filled, and under them the pad for the blank at hand. A
// filled blank can be tapped to change it.

import { announce, button, h, refill } from "../dom.js";
import { WORDS } from "../words.js";
import { makeGroupedPad } from "./grouped.js";
import { makeHistory } from "./history.js";
import { blanksOf, drawLines, nameOf, wordsOf } from "./lines.js";
import { makePad } from "./pad.js";

/**
 * @typedef {Object} State
 * @property {unknown[]} values of every blank; null while empty, a list for a pad with several keys down
 * @property {number} at the blank at hand
 * @property {number} reached lines are shown up to this blank
 * @property {number | null} last the blank filled last
 */

/**
 * Gives the values of all blanks, in their order.
 *
 * @param {Object} given
 * @param {import("./lines.js").Line[]} given.lines
 * @param {() => void} given.onChange
 * @param {boolean} [given.isInOneRow] lines side by side, all of them from the beginning
 * @returns {import("./index.js").Answer & { put(value: unknown): void, amend(value: unknown): void }} `put`
 *   fills the blank at hand, `amend` changes the one filled last
 */
export function makeBlanks({ lines, onChange, isInOneRow = false }) {
  const blanks = lines.flatMap(blanksOf);
  const history = makeHistory(begun(blanks, isInOneRow));
  const lineArea = h("div", { class: "blank-lines", role: "group", "aria-label": WORDS.answers.yours });
  const padArea = h("div", { class: "blank-pad" });
  const element = h("div", { class: isInOneRow ? "blanks in-one-row" : "blanks" }, lineArea, padArea);
  const showPad = padHolder(padArea, put, goOn);
  let pad = null;

  function put(value) {
    const { values, at } = history.now();
    const { isMany, keys } = blanks[at].pad;
    const filled = withValue(values, at, isMany ? toggled(values[at] ?? [], value, keys) : value);
    step({ values: filled, at: isMany ? at : nextEmpty(filled, at), last: at });
  }
  function amend(value) {
    const { values, at, last } = history.now();
    history.undo();
    step({ values: withValue(values, last, value), at, last });
  }
  function goOn() {
    const { values, at, last } = history.now();
    const filled = withValue(values, at, values[at] ?? []);
    step({ values: filled, at: nextEmpty(filled, at), last });
  }
  function step(next) {
    history.set({ ...next, reached: Math.max(history.now().reached, next.at) });
    draw();
    padArea.scrollIntoView({ block: "nearest" });
    tell();
    onChange();
  }
  function goTo(at) {
    history.replace({ ...history.now(), at });
    draw();
  }
  function back(how) {
    return () => {
      how();
      draw();
      tell();
    };
  }
  function draw() {
    const hadFocus = element.contains(document.activeElement);
    const { values, at } = history.now();
    refill(lineArea, drawLines(lines, history.now(), goTo));
    const isLast = nextEmpty(withValue(values, at, []), at) === at;
    pad = showPad(blanks[at], values[at], isLast);
    if (hadFocus) pad.focus();
  }
  function tell() {
    const { values, at } = history.now();
    announce(WORDS.answers.now(wordsOf(blanks, values), values[at] === null && nameOf(blanks[at])));
  }

  draw();
  return {
    element,
    isReady: () => blanks.every((blank, place) => blank.pad.isMany || history.now().values[place] !== null),
    given: () => history.now().values,
    put,
    amend,
    undo: back(history.undo),
    clear: back(history.clear),
    canUndo: history.canUndo,
    focus: () => pad.focus(),
  };
}

/** Shows a blank's pad in its place, with the way on where several keys can be down. */
function padHolder(place, put, goOn) {
  const pads = new Map();
  const onward = button("", goOn, { class: "onward" });
  return ({ name, said, pad: spec }, value, isLast) => {
    if (!pads.has(spec)) pads.set(spec, (spec.groups ? makeGroupedPad : makePad)(spec, put));
    const pad = pads.get(spec);
    pad.mark(said ?? name, value);
    onward.textContent = value?.length > 0 ? WORDS.answers.thatIsAll : WORDS.answers.noneOf(name);
    const shown = spec.isMany && !isLast ? [pad.element, onward] : [pad.element];
    // What is there already stays, or the finger and the keyboard on it would lose their key.
    const isThere = (each) => each.parentNode === place;
    if (shown.length !== place.children.length || !shown.every(isThere)) refill(place, shown);
    return pad;
  };
}

/** @returns {State} */
function begun(blanks, isAllShown) {
  const values = blanks.map(({ preset = null }) => preset);
  const at = nextEmpty(values, 0);
  return { values, at, reached: isAllShown ? blanks.length : at, last: null };
}

const withValue = (values, at, value) => values.map((each, place) => (place === at ? value : each));

/** The first empty blank from a place on, then from the beginning; the place itself when all are filled. */
function nextEmpty(values, at) {
  const order = values.map((_, step) => (at + step) % values.length);
  return order.find((place) => values[place] === null) ?? at;
}

/** The list with the value in it or out of it, in the order of the keys. */
function toggled(list, value, keys) {
  const isIn = (each) => (each === value ? !list.includes(each) : list.includes(each));
  return keys.map((key) => key.value).filter(isIn);
}
