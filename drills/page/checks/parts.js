// A name put together from parts: chord, layers, degrees. Every reading of the chord counts.

import { degreeOff } from "./degrees.js";

/**
 * What a builder of names gives; every index points into the deck's pads, null is a part left open.
 *
 * @typedef {Object} Parts
 * @property {number | null} root pitch class
 * @property {number | null} quality
 * @property {number[]} tensions
 * @property {Object<"root" | "structure" | "inversion", number | null>[]} layers as in the task
 * @property {(number | null)[]} degrees semitones over the root, as in the task
 */

/**
 * @param {Object} task of kind "parts"
 * @param {Parts} given
 * @param {import("../deck.js").Card} card
 * @returns {import("./check.js").Result} findings `chord`, `layer`, `degree` (see below and degrees.js), and
 *   `reading` (right, by another name than the card's own: given and asked texts)
 */
export function checkParts(task, given, card) {
  const reading = nearestReading(task.readings, given);
  const off = [
    ...(reading ? chordOff(reading, given) : []),
    ...task.layers.flatMap((layer, place) => layerOff(layer, given.layers[place])),
    ...task.degrees.flatMap(({ semitones, text }, place) =>
      given.degrees[place] === semitones ? [] : [degreeOff(given.degrees[place], semitones, text, card)]),
  ];
  if (off.length > 0) return { isRight: false, findings: off };
  return { isRight: true, findings: otherReading(reading, task.readings[0]) };
}

function otherReading(reading, own) {
  return reading?.text === own?.text ? [] : [{ kind: "reading", given: reading.text, asked: own.text }];
}

/**
 * The reading that was meant: one that fits, over whatever root; else of those over the card's own root the one with
 * the least to change, the card's own among equals. Far-fetched names are right, but nobody is sent to one.
 */
function nearestReading(readings, given) {
  const fitting = readings.find((reading) => cost(reading, given) === 0);
  if (fitting) return fitting;
  const usual = readings.filter(({ root }) => root === readings[0].root);
  const costs = usual.map((reading) => cost(reading, given));
  return usual[costs.indexOf(Math.min(...costs))];
}

function cost(reading, given) {
  const { root, quality, missing, extra } = difference(reading, given);
  return 4 * Boolean(root) + 3 * Boolean(quality) + missing.length + extra.length;
}

/** What a chord differs in: pairs of given and asked where they differ, tensions missing and too many. */
function difference(reading, given) {
  return {
    root: pair(given.root, reading.root),
    quality: pair(given.quality, reading.quality),
    missing: reading.needs.filter((tension) => !given.tensions.includes(tension)),
    extra: given.tensions.filter((tension) => ![...reading.needs, ...reading.allows].includes(tension)),
  };
}

const chordOff = (reading, given) =>
  cost(reading, given) === 0 ? [] : [{ kind: "chord", text: reading.text, ...difference(reading, given) }];

function layerOff(layer, given) {
  const root = layer.otherRoots.includes(given.root) ? null : pair(given.root, layer.root);
  const structure = pair(given.structure, layer.structure);
  const inversion = layer.inversion === null ? null : pair(given.inversion, layer.inversion);
  if (!root && !structure && !inversion) return [];
  return [{ kind: "layer", role: layer.role, text: layer.text, root, structure, inversion }];
}

/** Given and asked where they differ, else null. */
const pair = (given, asked) => (given === asked ? null : { given, asked });
