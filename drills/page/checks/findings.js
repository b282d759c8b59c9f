// What is said of an answer: how it went, then at most three sentences, the most useful first. Notes are named
// by the card, so that a wrong one has its name in the chord at hand too.

import { WORDS } from "../words.js";

const MOST_SENTENCES = 3;

/**
 * @param {import("./check.js").Result} result
 * @param {import("../deck.js").Card} card
 * @param {import("../deck.js").Deck} deck
 * @param {import("../settings.js").Settings} settings decides how notes are called
 * @returns {string[]} sentences; the first says how it went
 */
export function explain(result, card, deck, settings) {
  const names = namesFor(card, deck, settings);
  const isOneSlip = result.findings.length > 0 && result.findings[0].kind in WHOLE;
  const worthTelling = result.findings.filter(({ kind }, nth) => !isOneSlip || nth === 0 || kind === "grip");
  const isOnly = offIn(worthTelling).length === 1;
  const sentences = worthTelling.flatMap((finding) => SENTENCES[finding.kind](finding, names, isOnly));
  return [verdict(result), ...sentences.slice(0, MOST_SENTENCES)];
}

/** The string as players call it: by its note, or by its number where three share that note. */
export function stringWords(instrument, string) {
  const { names } = instrument;
  const alike = names.flatMap((name, at) => (name === names[string] ? [at] : []));
  if (alike.length > 2) return WORDS.findings.numberedString(names.length - string);
  return WORDS.findings.string(names[string], alike.length === 2 ? alike.indexOf(string) : null);
}

/** @typedef {ReturnType<typeof namesFor>} Names */
function namesFor(card, deck, settings) {
  const isPlain = settings.names === "plain";
  const notes = isPlain ? deck.plainNames : card.names.notes;
  const degree = (pitchClass) => WORDS.findings.degree(card.names.degrees[pitchClass]);
  return {
    isPlain,
    note: (pitchClass) => notes[pitchClass],
    degree,
    both: (pitchClass) => WORDS.findings.both(notes[pitchClass], degree(pitchClass)),
    inDegrees: (pitchClasses) => pitchClasses.map((pitchClass) => card.names.degrees[pitchClass]),
    string: (string) => stringWords(deck.instrument, string),
    stringCount: deck.instrument.names.length,
    root: (pitchClass) => (isPlain ? deck.plainNames : deck.keyNames)[pitchClass],
    ...deck.pads,
  };
}

/** What says it all: one slip, however many notes it moved. */
const WHOLE = Object.freeze({
  shifted: ({ isSameStrings, bySemitones }) => WORDS.findings.shifted(isSameStrings, bySemitones),
  elsewhere: ({ octaves }) => WORDS.findings.elsewhere(octaves),
  order: () => WORDS.findings.order,
  choice: () => WORDS.findings.choiceOff,
});

/** Findings of something off; the others only explain. */
const offIn = (findings) => findings.filter(({ kind }) => kind !== "grip");

/** How many notes are off: one that was left out and one too many are the same note, played elsewhere. */
function countOff(findings) {
  const count = (wanted) => findings.filter(({ kind }) => kind === wanted).length;
  return offIn(findings).length - Math.min(count("missing"), count("extra"));
}

const PARTS = Object.freeze(["chord", "layer"]);

/** How it went, in a few words. */
function verdict({ isRight, findings }) {
  if (isRight) return WORDS.findings.right;
  const [first] = findings;
  if (WHOLE[first.kind]) return WHOLE[first.kind](first);
  const areParts = findings.some(({ kind }) => PARTS.includes(kind));
  const count = countOff(findings);
  return areParts ? WORDS.findings.partsOff(count) : WORDS.findings.notesOff(count);
}

const SENTENCES = Object.freeze({
  fret: ({ string, heard, asked, byFrets }, names, isOnly) => {
    const [had, is] = [names.string(string), names.note(asked)];
    if (heard === asked) return WORDS.findings.octaveOff(had, is, byFrets / 12);
    if (!isOnly) return WORDS.findings.onString(had, names.degree(asked), is, byFrets);
    return [
      WORDS.findings.had(had, names.both(heard)),
      WORDS.findings.belongs(names.degree(asked), is, byFrets),
    ];
  },
  string: ({ string, wantedString, heard }, names) =>
    WORDS.findings.otherString(names.both(heard), names.string(wantedString), names.string(string)),
  pitch: ({ string, heard, asked, bySemitones }, names) =>
    heard === asked
      ? WORDS.findings.octaveOff(names.string(string), names.note(asked), bySemitones / 12)
      : WORDS.findings.pitch(names.string(string), names.both(heard), names.both(asked), bySemitones),
  extra: ({ string, heard }, names) => WORDS.findings.extra(names.string(string), names.both(heard)),
  missing: ({ string, asked }, names) => WORDS.findings.missing(names.string(string), names.both(asked)),
  shifted: ({ string, asked }, names) => WORDS.findings.lowest(names.string(string), names.both(asked)),
  elsewhere: ({ strings, octaves }, names) =>
    strings.length > 0
      ? WORDS.findings.askedStrings(numbers(strings, names))
      : WORDS.findings.askedPlace(octaves),
  grip: () => WORDS.findings.grip,
  order: ({ asked }, names) => WORDS.findings.lowToHigh(names.inDegrees(asked)),

  note: ({ place, given, heard, asked }, names) =>
    WORDS.findings.place(place, names.both(asked), WORDS.findings.both(given, names.degree(heard))),
  spelled: ({ pairs }, { isPlain }) => (isPlain ? [] : WORDS.findings.spelled(pairs)),

  degree: ({ heard, asked, text }, names) =>
    WORDS.findings.degreeOff(
      names.note(asked),
      WORDS.findings.degree(text),
      heard === null ? null : names.both(heard),
    ),
  called: ({ text, others }) => WORDS.findings.called(text, others),

  chord: ({ text, root, quality, missing, extra }, names) =>
    WORDS.findings.chord(text, {
      root: root && texts(root, names.root),
      quality: quality && texts(quality, (index) => names.qualities[index]),
      missing: missing.map((index) => names.tensions[index]),
      extra: extra.map((index) => names.tensions[index]),
    }),
  layer: ({ role, text, root, structure, inversion }, names) =>
    WORDS.findings.layer(role, text, [
      root && told(root.given, names.root),
      structure && told(structure.given, (index) => names.structures[index]),
      inversion && told(inversion.given, (index) => names.inversions[index]),
    ].filter(Boolean)),
  reading: ({ given, asked }) => WORDS.findings.reading(given, asked),

  choice: ({ given, asked }) => WORDS.findings.choice(given, asked),
});

/** A part by its name; nothing given has a word too. */
const told = (given, name) => (given === null ? WORDS.findings.nothing : name(given));

const texts = ({ given, asked }, name) => ({ given: told(given, name), asked: name(asked) });

/** Strings by their numbers, the highest being 1, as they lie on the neck from low to high. */
const numbers = (strings, { stringCount }) => [...strings].sort().map((string) => stringCount - string);
