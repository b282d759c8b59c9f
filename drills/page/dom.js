// Making elements. Texts become text nodes, so nothing that a deck or a file says is ever read as markup.

const SVG_SPACE = "http://www.w3.org/2000/svg";

/**
 * An HTML element.
 *
 * @param {string} tag
 * @param {Object<string, unknown> | null} [props] `class`, `on…` functions, and attributes; null and false leave one
 *   out, true writes it empty
 * @param {...(Node | string | number | null | false | Array)} children
 * @returns {HTMLElement}
 */
export function h(tag, props = null, ...children) {
  return filled(document.createElement(tag), props, children);
}

/** An SVG element; see `h`. @returns {SVGElement} */
export function svg(tag, props = null, ...children) {
  return filled(document.createElementNS(SVG_SPACE, tag), props, children);
}

/** Takes everything out of an element, and puts the children in. */
export function refill(element, ...children) {
  element.replaceChildren(...nodes(children));
  return element;
}

/** Those who listen to the page, or use its keys, go on from the heading of what is new; nothing scrolls. */
export function focusHeading(element) {
  const heading = element.querySelector("h1, h2");
  if (!heading) return;
  heading.tabIndex = -1;
  heading.focus({ preventScroll: true });
}

/** Says a text to those who listen to the page. The same text twice is said twice. */
export function announce(text) {
  const place = document.getElementById("announce");
  if (!place) return;
  place.textContent = "";
  // A screen reader notices the change only when the empty place was there for a moment.
  setTimeout(() => (place.textContent = text), 60);
}

/** Does a thing once what is there now has been painted. */
export function afterPaint(act) {
  requestAnimationFrame(() => setTimeout(act));
}

/** A button that does one thing. */
export function button(text, onclick, props = null) {
  return h("button", { type: "button", ...props, onclick }, text);
}

/** What a button does, deaf to a second press while the first is at work. */
export function once(act) {
  let isAtWork = false;
  return async () => {
    if (isAtWork) return;
    isAtWork = true;
    await act();
    isAtWork = false;
  };
}

function filled(element, props, children) {
  for (const [name, value] of Object.entries(props ?? {})) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else element.setAttribute(name, value === true ? "" : String(value));
  }
  element.append(...nodes(children));
  return element;
}

const nodes = (children) =>
  children.flat(Infinity).filter((child) => child !== null && child !== undefined && child !== false);
