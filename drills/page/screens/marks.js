// The mark, as four stops on a string. Native radio buttons: arrows, touch and screen readers know them.

import { h } from "../dom.js";
import { MARKS } from "../memory/schedule.js";
import { WORDS } from "../words.js";

/**
 * The four stops, the proposed one filled.
 *
 * @param {import("../memory/schedule.js").Mark} proposed
 * @returns {{ element: HTMLElement, mark(): import("../memory/schedule.js").Mark, pick(mark: number): void }}
 */
export function markStops(proposed) {
  const input = (mark) =>
    h("input", { type: "radio", name: "mark", value: mark, checked: mark === proposed, autocomplete: "off" });
  const inputs = Object.values(MARKS).map(input);
  const stops = inputs.map((each) =>
    h("label", { class: "stop" },
      each,
      h("span", { class: "dot" }),
      h("span", null, WORDS.marks[each.value])));
  return {
    element: h("fieldset", { class: "marks" },
      h("legend", null, WORDS.play.howDidItSit),
      h("div", { class: "stops" }, stops)),
    mark: () => Number(inputs.find((each) => each.checked).value),
    pick(mark) {
      inputs[mark - 1].checked = true;
    },
  };
}
