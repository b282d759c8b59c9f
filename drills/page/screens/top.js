// The upper edge of a screen beside the way: its name, and the way home.

import { button, h } from "../dom.js";
import { WORDS } from "../words.js";

/** @param {Object} app @param {string} title @returns {HTMLElement} */
export function screenTop(app, title) {
  return h("header", { class: "screen-top" },
    h("h1", null, title),
    button(WORDS.shared.home, () => app.go("home"), { class: "home" }));
}

/** A part of a screen under its own heading. */
export function part(title, ...children) {
  return h("section", { class: "part-of-screen" }, h("h2", null, title), children);
}
