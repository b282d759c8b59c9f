// A neck with its notes, to be looked at, and the same in words.

import { boardParts, drawCross, drawNames, drawNumbers } from "./board.js";
import { svg } from "../dom.js";
import { stillPlaces } from "./geometry.js";
import { LAYERS, drawMarker, drawWrong } from "./marker.js";
import { WORDS } from "../words.js";

/** A picture is widened for wrong notes up to so many frets; what lies further off is told in words. */
const WIDEST = 9;

/**
 * The neck as SVG. Where it is as wide as a phone of 390 pixels, its units are pixels.
 *
 * @param {import("../deck.js").Picture} picture
 * @param {import("../deck.js").Deck["instrument"]} instrument
 * @param {Object} how
 * @param {boolean} how.isLeftHanded mirrored
 * @param {"across" | "down"} how.direction down: nut on top, as chord diagrams are printed
 * @param {string} how.label what a screen reader says, such as `neckWords`
 * @param {{ string: number, fret: number, text: string }[]} [how.wrong] notes given in place of others
 * @returns {SVGElement}
 */
export function drawNeck(picture, instrument, { isLeftHanded, direction, label, wrong = [] }) {
  const { markers, muted } = picture;
  const [first, last] = windowOf(picture, wrong);
  const places = stillPlaces({ strings: instrument.names.length, first, last, isLeftHanded, direction });
  const { width, height, radius } = places;
  const spot = ({ string, fret }) => places.note(string, fret);
  const isShown = ({ fret }) => fret === 0 || (fret >= first && fret <= last);
  const used = new Set(markers.map((marker) => marker.fret));
  const props = { class: `neck-picture ${direction}`, viewBox: `0 0 ${width} ${height}`, width };
  return svg("svg", { ...props, role: "img", "aria-label": label },
    boardParts(places, markers),
    drawNames(places, instrument.names),
    drawNumbers(places, used),
    muted.map((string) => drawCross(places, string)),
    wrong.filter(isShown).map((note) => drawWrong(besideCross(note, muted), spot(note), radius)),
    markers.map((marker) => drawMarker(marker, spot(marker), radius, isLeftHanded)));
}

/**
 * The picture said in words, layer by layer; strings are numbered from the highest, as guitarists do.
 *
 * @param {import("../deck.js").Picture} picture
 * @param {import("../deck.js").Deck["instrument"]} instrument
 * @returns {string}
 */
export function neckWords({ markers, muted }, { names }) {
  const number = (string) => names.length - string;
  const notesOf = (layer) => markers.filter((marker) => marker.layer === layer);
  const all = LAYERS.map((name, layer) => ({ name, notes: notesOf(layer) }));
  const layers = all.filter(({ notes }) => notes.length > 0);
  const told = layers.map(({ name, notes }) => {
    const said = notes.map((note) => WORDS.neck.note(note, number(note.string)));
    return WORDS.neck.layer(layers.length > 1 ? name : null, said);
  });
  return [...told, muted.length > 0 && WORDS.neck.muted(muted.map(number))].filter(Boolean).join(" ");
}

/** The picture's window, wider for wrong notes nearby, the nearest first. */
function windowOf({ first, last }, wrong) {
  const away = (fret) => Math.max(first - fret, fret - last);
  const frets = wrong.map((note) => note.fret).filter((fret) => fret > 0);
  frets.sort((one, other) => away(one) - away(other));
  return frets.reduce(([from, to], fret) => {
    const wider = [Math.min(from, fret), Math.max(to, fret)];
    return wider[1] - wider[0] < WIDEST ? wider : [from, to];
  }, [first, last]);
}

/** An open string that should be still: the ring goes around its cross, without a text on it. */
function besideCross(note, muted) {
  return note.fret === 0 && muted.includes(note.string) ? { ...note, text: "" } : note;
}
