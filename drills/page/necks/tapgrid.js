// The cells of the neck that is tapped on: for fingers, for the keyboard, and for those who do not see it.
//
// A row of the grid is a string, the highest first, as guitarists number them; a cell is a fret, the open
// string first.

import { waves } from "./board.js";
import { h, svg } from "../dom.js";
import { WAVE, hundredths } from "./geometry.js";
import { drawGhost, drawMarker } from "./marker.js";
import { WORDS } from "../words.js";

/** Along: the string's name and its open string. */
export const HEAD = 72;

const MARK = 44;
const GHOST_RADIUS = 18.5;
const FIXED_RADIUS = 16.5;
const PAGE = 5;

/**
 * @param {Object} how see `makeTapNeck`, and:
 * @param {ReturnType<import("./geometry.js").tapPlaces>} how.places
 * @param {(string: number, fret: number) => void} how.onTap
 * @param {(string: number) => void} how.onRemove
 */
export function makeTapGrid(how) {
  const { places, onTap, onRemove, lookAt, asked = [], given, fixed } = how;
  const cells = how.instrument.names.map((_, string) => makeString(how, string));
  const rows = cells.map((row) => h("div", { role: "row", class: "string" }, row)).reverse();
  const props = { role: "grid", class: "tap-grid", "aria-label": WORDS.neck.tapped };
  const element = h("div", { ...props, onclick, onkeydown, onfocusin }, rows);
  const find = placeFinder(cells);
  const movable = given.find(({ string }) => !fixed.includes(string));
  let here = [asked[0] ?? movable?.string ?? 0, lookAt?.[0] ?? 0];
  cells[here[0]][here[1]].tabIndex = 0;

  function onclick({ target }) {
    const place = find(target);
    if (place) onTap(...place);
  }
  function onfocusin({ target }) {
    const place = find(target);
    if (!place) return;
    cells[here[0]][here[1]].tabIndex = -1;
    here = place;
    target.tabIndex = 0;
  }
  function onkeydown(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const [string, fret] = here;
    const step = steps(places)[event.key];
    if (step) focusAt(string + step[0], fret + step[1]);
    else if (event.key === "Enter" || event.key === " ") onTap(string, fret);
    else if (event.key === "Delete" || event.key === "Backspace") onRemove(string);
    else return;
    event.preventDefault();
  }
  function focusAt(string, fret) {
    const within = (number, count) => Math.min(Math.max(number, 0), count - 1);
    const row = cells[within(string, cells.length)];
    const cell = row[within(fret, row.length)];
    cell.focus({ preventScroll: true });
    // Unlike the scrolling that comes with the focus, this one keeps clear of the open strings.
    cell.scrollIntoView({ block: "nearest", inline: "nearest" });
  }
  return {
    element,
    focus: () => focusAt(...here),
    said: (string, fret) => cellWords(how, string, fret),
    paint(frets) {
      cells.forEach((row, string) => row.forEach((cell, fret) => {
        cell.setAttribute("aria-selected", String(frets[string] === fret));
      }));
    },
  };
}

function makeString(how, string) {
  const isFixed = how.fixed.includes(string);
  return Array.from({ length: how.instrument.frets + 1 }, (_, fret) => {
    const given = how.given.find((marker) => marker.string === string && marker.fret === fret);
    const said = { "aria-disabled": isFixed && "true", "aria-label": cellLabel(how, string, fret, given) };
    return h("div", { role: "gridcell", tabindex: "-1", class: fret === 0 ? "cell open" : "cell", ...said },
      fret === 0 && [nameOfString(how, string), cutEdge(how.places)],
      given && givenMark(given, isFixed, how.isLeftHanded));
  });
}

function nameOfString({ instrument, asked = [] }, string) {
  const name = asked.includes(string) ? "string-name asked" : "string-name";
  return h("span", { class: name }, instrument.names[string]);
}

function givenMark(marker, isFixed, isLeftHanded) {
  const box = `${-MARK / 2} ${-MARK / 2} ${MARK} ${MARK}`;
  return svg("svg", { class: "mark", viewBox: box, width: MARK, height: MARK, "aria-hidden": "true" },
    isFixed
      ? drawMarker(marker, [0, 0], FIXED_RADIUS, isLeftHanded)
      : drawGhost(marker, [0, 0], GHOST_RADIUS));
}

/** The wavy edge of a cut neck, lying over the board. */
function cutEdge(places) {
  const { gap, isAcross } = places;
  const edge = [[0, -gap / 2], ...waves(places, WAVE, -gap / 2, gap / 2), [0, gap / 2]];
  const corners = edge.map(([along, over]) => (isAcross ? [along, gap / 2 - over] : [over + gap / 2, along]));
  const [width, height] = isAcross ? [2 * WAVE, gap] : [gap, 2 * WAVE];
  return svg("svg", { class: "cut-edge", width, height, "aria-hidden": "true" },
    svg("polygon", { points: corners.map((corner) => corner.map(hundredths)).join(" ") }));
}

function cellWords({ instrument, nameOf = () => "" }, string, fret) {
  return WORDS.neck.cell(instrument.names.length - string, fret, nameOf(string, fret));
}

function cellLabel(how, string, fret, given) {
  const cell = cellWords(how, string, fret);
  if (!given) return cell;
  const called = how.fixed.includes(string) ? WORDS.neck.given : WORDS.neck.start;
  return `${cell}, ${called(given.text)}`;
}

/** Looks up where a cell is, from itself or anything in it. */
function placeFinder(cells) {
  const known = new Map(cells.flatMap((row, string) => row.map((cell, fret) => [cell, [string, fret]])));
  return (target) => known.get(target.closest("[role=gridcell]"));
}

/** Steps [strings, frets] by key, as the neck lies on the screen. */
function steps({ isAcross, isLeftHanded }) {
  const side = isLeftHanded ? -1 : 1;
  const arrows = isAcross
    ? { ArrowRight: [0, side], ArrowLeft: [0, -side], ArrowUp: [1, 0], ArrowDown: [-1, 0] }
    : { ArrowDown: [0, 1], ArrowUp: [0, -1], ArrowRight: [side, 0], ArrowLeft: [-side, 0] };
  return { ...arrows, Home: [0, -Infinity], End: [0, Infinity], PageUp: [0, -PAGE], PageDown: [0, PAGE] };
}
