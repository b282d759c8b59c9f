// The neck without notes, as SVG: wood, frets, strings, fret numbers, and ribbons that lie under strings and
// frets.

import { svg } from "../dom.js";
import { hundredths } from "./geometry.js";
import { LAYERS } from "./marker.js";

const NUT = 4.5;
const FRET = 1.5;
const LOWEST_STRING = 2;
const HIGHEST_STRING = 0.9;
const CROSS = 5;

/**
 * Wood, ribbons, frets and strings, in the order in which they cover each other.
 *
 * @param {ReturnType<import("./geometry.js").stillPlaces>} places
 * @param {import("../deck.js").Picture["markers"]} markers whose ribbons are laid
 * @returns {SVGElement[]}
 */
export function boardParts(places, markers) {
  const { first, last } = places;
  const wires = Array.from({ length: last - first + 2 }, (_, index) => first - 1 + index);
  return [
    wood(places),
    LAYERS.map((name, layer) => ribbon(places, name, markers.filter((marker) => marker.layer === layer))),
    svg("g", { class: "wires" }, wires.map((fret) => wire(places, fret))),
    svg("g", { class: "strings" }, numbered(places.strings).map((string) => stringLine(places, string))),
    places.hasNut && places.board > 0 && nut(places),
    svg("g", { class: "dots" }, frets(places).flatMap((fret) => places.dots(fret)).map(dot)),
  ].flat();
}

/** The fret numbers, by fret; those of `used` frets are strong. */
export function drawNumbers(places, used) {
  return frets(places).map((fret) =>
    label(places.number(fret), String(fret), `fret-number${used.has(fret) ? " used" : ""}`));
}

/** The names of the open strings. */
export function drawNames(places, names) {
  return names.map((name, string) => label(places.name(string), name, "string-name"));
}

/** The cross of a string that is not played. */
export function drawCross(places, string) {
  const [x, y] = places.note(string, 0);
  const [left, right, top, bottom] = [x - CROSS, x + CROSS, y - CROSS, y + CROSS];
  const d = `M${left} ${top}L${right} ${bottom}M${left} ${bottom}L${right} ${top}`;
  return svg("path", { class: "cross", d });
}

/**
 * The edge of a cut neck as points, from the lowest string's side to the highest's.
 *
 * @param {{ wave(over: number): number, gap: number }} places
 */
export function waves(places, edge, from, to) {
  const steps = Math.ceil((to - from) / (places.gap / 16));
  return Array.from({ length: steps + 1 }, (_, step) => {
    const over = from + ((to - from) * step) / steps;
    return [edge + places.wave(over), over];
  });
}

function wood(places) {
  const { board, length, woodFrom, woodTo } = places;
  const cut = () => waves(places, board - NUT, woodFrom, woodTo);
  const nutSide = places.hasNut ? [[board, woodFrom], [board, woodTo]] : cut();
  const corners = [...nutSide, [length, woodTo], [length, woodFrom]];
  const points = corners.map((corner) => places.point(...corner).map(hundredths));
  return svg("polygon", { class: "wood", points: points.join(" ") });
}

function ribbon(places, name, markers) {
  if (markers.length < 2) return null;
  const way = markers.map((marker) => places.note(marker.string, marker.fret).map(hundredths)).join(" ");
  return svg("polyline", { class: `ribbon ${name}`, points: way });
}

function wire(places, fret) {
  return line(places, [places.wire(fret), places.woodFrom], [places.wire(fret), places.woodTo], FRET);
}

function stringLine(places, string) {
  const edge = places.hasNut ? places.board : places.board - NUT;
  const thinning = (LOWEST_STRING - HIGHEST_STRING) / Math.max(1, places.strings - 1);
  const over = places.over(string);
  return line(places, [edge, over], [places.length, over], LOWEST_STRING - thinning * string);
}

function nut(places) {
  const middle = places.board - NUT / 2 + FRET / 2;
  return line(places, [middle, places.woodFrom], [middle, places.woodTo], NUT, "nut");
}

function line(places, from, to, thickness, name = null) {
  const [x1, y1] = places.point(...from).map(hundredths);
  const [x2, y2] = places.point(...to).map(hundredths);
  return svg("line", { class: name, x1, y1, x2, y2, "stroke-width": hundredths(thickness) });
}

function label([x, y], text, name) {
  return svg("text", { class: name, x: hundredths(x), y: hundredths(y + 5) }, text);
}

const dot = ([cx, cy]) => svg("circle", { cx, cy, r: 2 });
const frets = ({ first, last }) => numbered(last - first + 1).map((index) => first + index);
const numbered = (count) => [...Array(count).keys()];
