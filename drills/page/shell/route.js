// Which screen is shown. Each has its place in the browser's history, so that the phone's back gesture leads where
// people came from, and in the end home.

import { focusHeading, refill } from "../dom.js";

/**
 * @typedef {Object} Screen
 * @property {HTMLElement} element
 * @property {string} title
 * @property {() => void} [leave] called before the next screen comes
 */

/**
 * @param {Object} app handed to every screen
 * @param {Record<string, (app: Object, ...args: unknown[]) => Screen>} screens the first one is home
 * @param {HTMLElement} place
 * @returns {{ go(name: string, ...args: unknown[]): void, swap(name: string, ...args: unknown[]): void,
 *   redraw(): void, shown(): string }}
 */
export function makeRoutes(app, screens, place) {
  const home = Object.keys(screens)[0];
  let trail = [{ name: home, args: [] }]; // the way from home to here
  let screen = null;

  function show(isNew = true) {
    const { name, args } = trail.at(-1);
    const isFirst = screen === null;
    screen?.leave?.();
    screen = screens[name](app, ...args);
    refill(place, screen.element);
    document.title = name === home ? app.deck.title : `${screen.title} · ${app.deck.title}`;
    if (!isNew || isFirst) return;
    scrollTo(0, 0);
    focusHeading(screen.element);
  }

  function go(name, ...args) {
    const depth = trail.length - 1;
    const at = trail.findIndex((stop) => stop.name === name);
    trail = [...trail.slice(0, at >= 0 ? at : undefined), { name, args }];
    const steps = trail.length - 1 - depth;
    if (steps > 0) remember("pushState", trail.length - 1);
    else if (steps < 0 && history.state?.depth === depth) stepBack(steps); // or it would leave the page
    show();
  }

  /** Another screen in this one's place: back leads where it would have led from here. */
  function swap(name, ...args) {
    trail = [...trail.slice(0, -1), { name, args }];
    show();
  }

  let ignored = 0; // steps back that we took ourselves
  function stepBack(steps) {
    ignored += 1;
    history.go(steps);
  }

  addEventListener("popstate", ({ state }) => {
    if (ignored > 0) {
      ignored -= 1;
      return;
    }
    const depth = state?.depth ?? 0;
    const steps = trail.length - 1 - depth;
    // Forward leads nowhere that is still known: stay, in the history too.
    if (steps < 0) return stepBack(steps);
    trail = trail.slice(0, depth + 1);
    show();
  });

  // Every screen begins at its top; the browser would scroll to where the one before was left.
  history.scrollRestoration = "manual";
  remember("replaceState", 0);
  return { go, swap, redraw: () => show(false), shown: () => trail.at(-1).name };
}

/** Some viewers of a file forbid writing to the history; the page works without. */
function remember(how, depth) {
  try {
    history[how]({ depth }, "");
  } catch {
    // Then the back gesture leaves the page, and progress is kept all the same.
  }
}
