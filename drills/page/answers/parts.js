// A name put together from parts: the chord first, then each layer, then what each note is in it. Nothing is
// given away: every pad holds all there is.

import { WORDS } from "../words.js";
import { makeBlanks } from "./blanks.js";

/**
 * @param {Object} task of kind "parts"
 * @param {Object} given see answers/index.js
 * @returns {import("./index.js").Answer} gives Parts, see checks/parts.js
 */
export function makeAnswer(task, { deck, settings, onChange }) {
  const pads = padsFor(deck, settings);
  const isChordAsked = task.readings.length > 0;
  const noteName = ({ name, semitones }) =>
    settings.names === "plain" ? deck.plainNames[(task.rootSaid + semitones) % 12] : name;
  const lines = [
    ...(isChordAsked ? [chordLine(task, pads)] : []),
    ...task.layers.map((layer) => layerLine(layer, pads)),
    ...task.degrees.map((degree) => degreeLine(noteName(degree), pads)),
  ];
  const blanks = makeBlanks({ lines, onChange });
  return { ...blanks, given: () => partsOf(task, blanks.given()) };
}

function chordLine({ rootSaid }, pads) {
  const { root, quality, tensions } = WORDS.answers;
  return {
    isLarge: true,
    parts: [
      { name: root, pad: pads.roots, preset: rootSaid },
      { name: quality, pad: pads.qualities },
      { name: tensions, pad: pads.tensions },
    ],
  };
}

function layerLine({ role, inversion }, pads) {
  const { layerPart } = WORDS.answers;
  const blank = (name, pad) => ({ name, said: layerPart(role, name), pad });
  const parts = [blank(WORDS.answers.root, pads.roots), blank(WORDS.answers.structure, pads.structures)];
  if (inversion !== null) parts.push(blank(WORDS.answers.inversion, pads.inversions));
  return { role, parts };
}

function degreeLine(note, pads) {
  const { degree, degreeOf, is } = WORDS.answers;
  return { parts: [is(note), { name: degree, said: degreeOf(note), pad: pads.degrees }] };
}

function padsFor({ pads, keyNames, plainNames }, settings) {
  const key = (text, value) => ({ value, texts: [text] });
  const structures = pads.structures.map(key);
  return {
    roots: { keys: (settings.names === "plain" ? plainNames : keyNames).map(key), columns: 6 },
    qualities: { keys: pads.qualities.map(key), columns: 5, narrow: 4 },
    tensions: { keys: pads.tensions.map(key), columns: 6, isMany: true },
    structures: { keys: structures, groups: groupsOf(pads.structureGroups, structures), columns: 2 },
    inversions: { keys: pads.inversions.map(key), columns: 2 },
    degrees: { keys: pads.degrees.map(({ semitones, texts }) => ({ value: semitones, texts })), columns: 4 },
  };
}

const groupsOf = (groups, keys) =>
  groups.map(({ text, structures }) => ({ text, keys: structures.map((index) => keys[index]) }));

/** The blanks' values, in the order of the lines, as parts of a name. */
function partsOf(task, values) {
  const left = [...values];
  const chord = task.readings.length > 0 ? left.splice(0, 3) : [null, null, null];
  const layers = task.layers.map(({ inversion }) => {
    const [root, structure, turned = null] = left.splice(0, inversion === null ? 2 : 3);
    return { root, structure, inversion: turned };
  });
  return { root: chord[0], quality: chord[1], tensions: chord[2] ?? [], layers, degrees: left };
}
