// Controls that several screens share. Native inputs under them: arrows, touch and screen readers know them.

import { button, h } from "../dom.js";

let made = 0;

/**
 * One of a few, side by side.
 *
 * @template Value
 * @param {Object} given
 * @param {string} given.legend
 * @param {{ value: Value, text: string }[]} given.options
 * @param {Value} given.value
 * @param {(value: Value) => void} given.onPick
 * @returns {HTMLElement}
 */
export function choices({ legend, options, value, onPick }) {
  const name = `choice-${made++}`;
  return h("fieldset", { class: "choices" },
    h("legend", null, legend),
    h("div", { class: "options" }, options.map((option) =>
      h("label", null,
        h("input", {
          type: "radio",
          name,
          checked: option.value === value,
          autocomplete: "off",
          onchange: () => onPick(option.value),
        }),
        h("span", null, option.text)))));
}

/**
 * Yes or no.
 *
 * @param {{ text: string, isOn: boolean, onTurn: (isOn: boolean) => void }} given
 */
export function tick({ text, isOn, onTurn }) {
  const input = h("input", { type: "checkbox", checked: isOn, autocomplete: "off" });
  input.addEventListener("change", () => onTurn(input.checked));
  return h("label", { class: "tick" }, input, h("span", null, text));
}

/**
 * A whole number with a smaller and a larger one within reach of the thumb. What cannot be goes back to what
 * was.
 *
 * @param {Object} given
 * @param {string} given.label
 * @param {string} [given.unit]
 * @param {number} given.value
 * @param {[number, number]} given.range
 * @param {number} given.step how far one tap goes
 * @param {{ less: string, more: string }} given.words what the two buttons are called
 * @param {(value: number) => void} given.onSet
 */
export function numberField({ label, unit = "", value, range: [least, most], step, words, onSet }) {
  const id = `number-${made++}`;
  const limits = { min: least, max: most, value };
  const input = h("input", { id, type: "number", inputmode: "numeric", ...limits, autocomplete: "off" });
  const settle = (wanted) => {
    const next = Number.isInteger(wanted) ? Math.min(most, Math.max(least, wanted)) : value;
    input.value = next;
    if (next !== value) onSet((value = next));
  };
  input.addEventListener("change", () => settle(input.value === "" ? NaN : Math.round(Number(input.value))));
  // To the next round number first, so that a tempo of 63 becomes 65 and then 70.
  const less = () => settle(Math.ceil(value / step) * step - step);
  const more = () => settle(Math.floor(value / step) * step + step);
  return h("div", { class: "number" },
    h("label", { for: id }, label, unit && h("span", { class: "quiet" }, ` ${unit}`)),
    h("div", { class: "stepper" },
      button("−", less, { "aria-label": `${words.less}: ${label}` }),
      input,
      button("+", more, { "aria-label": `${words.more}: ${label}` })));
}

/**
 * One of many.
 *
 * @param {{ label: string, options: { value: string, text: string }[], value: string, onPick: (value: string)
 *   => void }} given
 */
export function list({ label, options, value, onPick }) {
  const id = `list-${made++}`;
  const select = h("select", { id, autocomplete: "off" }, options.map((option) =>
    h("option", { value: option.value, selected: option.value === value }, option.text)));
  select.addEventListener("change", () => onPick(select.value));
  return h("div", { class: "list" }, h("label", { for: id }, label), select);
}
