// A whole neck to be tapped on: one note on each string. It scrolls in its own box; the strings' names and
// the open strings stay in sight.

import { boardParts, drawNumbers } from "./board.js";
import { announce, h, svg } from "../dom.js";
import { tapPlaces } from "./geometry.js";
import { heldFrets } from "./heldfrets.js";
import { HEAD, makeTapGrid } from "./tapgrid.js";
import { WORDS } from "../words.js";

/**
 * A neck from the nut to its last fret.
 *
 * @param {Object} how
 * @param {import("../deck.js").Deck["instrument"]} how.instrument
 * @param {boolean} how.isLeftHanded mirrored
 * @param {"across" | "down"} how.direction
 * @param {import("./heldfrets.js").Frets | null} [how.start] notes that are there at first
 * @param {number[]} [how.fixed] strings whose first note stays
 * @param {number[]} [how.asked] strings that the question names; their names stand out
 * @param {import("../deck.js").Picture["markers"]} [how.given] notes that the question shows: markers on
 *   the fixed strings, outlines to start from on the others
 * @param {[number, number] | null} [how.lookAt] frets to be in sight at first; the nut otherwise
 * @param {(string: number, fret: number) => string} [how.nameOf] what a screen reader calls a note
 * @param {() => void} [how.onChange]
 */
export function makeTapNeck(how) {
  const { instrument, direction, start = null, fixed = [], given = [], lookAt = null } = how;
  const strings = instrument.names.length;
  const places = tapPlaces({ strings, last: instrument.frets, isLeftHanded: how.isLeftHanded, direction });
  const held = heldFrets(start ?? Array(strings).fill(null), fixed);
  const numbers = drawNumbers(places, new Set());
  const grid = makeTapGrid({ ...how, fixed, given, places, onTap: toggle, onRemove });
  const box = scrollBox(places, lookAt, [
    svg("svg", { class: "board", width: places.width, height: places.height, "aria-hidden": "true" },
      boardParts(places, given.filter(({ string }) => !fixed.includes(string))), numbers),
    grid.element,
    h("div", { class: "corner", "aria-hidden": "true" }),
  ]);
  if (start) box.classList.add("has-start");
  paint();

  function toggle(string, fret) {
    put(string, held.frets()[string] === fret ? null : fret);
  }
  function onRemove(string) {
    put(string, null);
  }
  function put(string, fret) {
    if (!held.put(string, fret)) return;
    const { placed, removed } = WORDS.neck;
    announce(fret === null ? removed(strings - string) : placed(grid.said(string, fret)));
    changed();
  }
  function changed() {
    paint();
    how.onChange?.();
  }
  function paint() {
    const frets = held.frets();
    grid.paint(frets);
    numbers.forEach((number, index) => number.classList.toggle("used", frets.includes(index + 1)));
  }
  function undo() {
    if (!held.canUndo()) return;
    held.undo();
    announce(WORDS.neck.takenBack);
    changed();
  }
  function clear() {
    held.clear();
    announce(WORDS.neck.cleared);
    changed();
  }
  return {
    element: box, undo, clear,
    frets: held.frets, canUndo: held.canUndo, isChanged: held.isChanged, focus: grid.focus,
  };
}

/** The box in which the neck scrolls; up the neck, the nut gives way to the edge of a cut. */
function scrollBox(places, lookAt, children) {
  const { isAcross, isLeftHanded, gap, fretWidth } = places;
  const name = `tap-neck ${isAcross ? "across" : "down"}${isLeftHanded ? " left-handed" : ""}`;
  const box = h("div", { class: name, onscroll: cut }, h("div", { class: "floor" }, children));
  const strip = places.below - gap / 2;
  const sizes = { "--fret-width": fretWidth, "--gap": gap, "--head": HEAD, "--strip": strip };
  for (const [property, px] of Object.entries(sizes)) box.style.setProperty(property, `${px}px`);

  // How far the nut is out of sight. A mirrored neck rests at its right end.
  const furthest = () => box.scrollWidth - box.clientWidth;
  const isMirrored = isAcross && isLeftHanded;
  const gone = () => (isAcross ? (isMirrored ? furthest() - box.scrollLeft : box.scrollLeft) : box.scrollTop);
  function cut() {
    box.classList.toggle("is-cut", gone() >= 1);
  }
  function scrollTo(px) {
    if (isAcross) box.scrollLeft = isMirrored ? furthest() - px : px;
    else Object.assign(box, { scrollTop: px, scrollLeft: isLeftHanded ? furthest() : 0 });
    cut();
  }
  // Only what has a size can be scrolled.
  const sized = new ResizeObserver(() => {
    const room = (isAcross ? box.clientWidth : box.clientHeight) - HEAD;
    if (room <= 0) return;
    sized.disconnect();
    scrollTo(lookAt ? Math.max(0, (places.wire(lookAt[0] - 1) + places.wire(lookAt[1]) - room) / 2) : 0);
  });
  sized.observe(box);
  return box;
}
