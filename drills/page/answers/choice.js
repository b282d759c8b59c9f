// One of a few. Native inputs under them: arrows, touch and screen readers know them; digits pick too.

import { h } from "../dom.js";
import { signed } from "../signs.js";
import { WORDS } from "../words.js";
import { makeHistory } from "./history.js";

let made = 0;

/**
 * @param {{ options: string[] }} task of kind "choice"
 * @param {Object} given see answers/index.js
 * @returns {import("./index.js").Answer} gives a place in the options
 */
export function makeAnswer({ options }, { onChange }) {
  const history = makeHistory(null);
  const name = `answer-${made++}`;
  const inputs = options.map((_, at) =>
    h("input", { type: "radio", name, autocomplete: "off", onchange: () => pick(at) }));
  const element = h("fieldset", { class: "options-down", onkeydown: pickByDigit },
    h("legend", { class: "unseen-words" }, WORDS.answers.yours),
    options.map((text, at) => h("label", null, inputs[at], h("span", null, signed(text)))));

  function pick(at) {
    history.set(at);
    draw();
    onChange();
  }
  function pickByDigit(event) {
    const at = Number(event.key) - 1;
    if (!inputs[at] || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    event.stopPropagation();
    inputs[at].focus();
    pick(at);
  }
  function draw() {
    inputs.forEach((input, at) => (input.checked = at === history.now()));
  }
  function back(how) {
    return () => {
      how();
      draw();
    };
  }
  return {
    element,
    isReady: () => history.now() !== null,
    given: history.now,
    undo: back(history.undo),
    clear: back(history.clear),
    canUndo: history.canUndo,
    focus: () => inputs[history.now() ?? 0].focus({ preventScroll: true }),
  };
}
