// A grip against the grips that a card accepts: string by string, by frets or by what sounds.

import { isReordered, orderOff } from "./order.js";

/** So few notes are told one by one, whatever they make together. */
const FEW = 2;

/**
 * Findings of a grip. `given` and `wanted` are frets, `heard` and `asked` pitch classes; string 0 is lowest.
 *
 *   fret     string, given, wanted, byFrets (above 0: the given note is too high), heard, asked
 *   string   the right note on another string: string, given, wantedString, wanted, heard
 *   pitch    a note that belongs elsewhere: as `string`, and asked, bySemitones (above 0: too high)
 *   extra    a note too many: string, given, heard
 *   missing  a note too few: string, wanted, asked
 *   shifted  all of it too high or too low: bySemitones, isSameStrings, string and asked of its lowest note
 *   elsewhere  the right notes in another place: octaves (above 0: too high), strings asked, [] where they
 *            are those that were played
 *   order    see order.js
 *   grip     right, or nearest to right, by another grip than the card shows
 */

/**
 * @param {{ by: "frets" | "pitches", accepts: (number | null)[][], strings: number[] }} task
 * @param {(number | null)[]} given fret of each string, lowest string first
 * @param {import("../deck.js").Card} card
 * @param {import("../deck.js").Deck} deck
 * @returns {import("./check.js").Result}
 */
export function checkNeck(task, given, card, deck) {
  const open = deck.instrument.midi;
  const [shown] = task.accepts;
  const apart = semitonesApart(sounding(given, open), sounding(shown, open));
  if (isAccepted(task, given, apart)) {
    return { isRight: true, findings: isSameGrip(given, shown) ? [] : [{ kind: "grip" }] };
  }
  if (apart !== null && apart % 12 === 0) {
    const strings = areSameStrings(given, shown) ? [] : task.strings;
    const elsewhere = { kind: "elsewhere", octaves: apart / 12, strings };
    const off = notesOff(given, shown, open, "frets");
    return { isRight: false, isElsewhere: !isAsShown(card.front, given), findings: [elsewhere, ...off] };
  }
  const wanted = nearest(task.accepts, given);
  const off = notesOff(given, wanted, open, task.by);
  const grip = wanted === shown ? [] : [{ kind: "grip" }];
  const order = off.length > FEW ? reordered(given, shown, open) : [];
  return { isRight: false, findings: [...shifted(given, wanted, open), ...order, ...off, ...grip] };
}

const isAccepted = (task, given, apart) =>
  task.by === "pitches" ? apart === 0 : task.accepts.some((frets) => isSameGrip(frets, given));

const isSameGrip = (one, other) => one.every((fret, string) => fret === other[string]);

const areSameStrings = (one, other) =>
  one.every((fret, string) => (fret === null) === (other[string] === null));

/** Whether it is the very grip that the question shows. */
const isAsShown = ({ picture }, given) =>
  picture !== null &&
  picture.markers.length === given.filter((fret) => fret !== null).length &&
  picture.markers.every(({ string, fret }) => given[string] === fret);

/** What sounds, as midi numbers from low to high. */
const sounding = (frets, open) =>
  placed(frets, open).map(({ midi }) => midi).sort((one, other) => one - other);

/** How far one chord lies above another of the same intervals; null where the intervals differ. */
function semitonesApart(heard, asked) {
  if (heard.length !== asked.length || heard.length === 0) return null;
  const apart = heard[0] - asked[0];
  return heard.every((midi, note) => midi - asked[note] === apart) ? apart : null;
}

/** The accepted grip with the fewest other notes; among those, the one with the shortest ways. */
function nearest(accepts, given) {
  const cost = (wanted) => wanted.reduce((sum, fret, string) => sum + fretCost(given[string], fret), 0);
  return accepts.reduce((best, each) => (cost(each) < cost(best) ? each : best));
}

function fretCost(given, wanted) {
  if (given === wanted) return 0;
  return given === null || wanted === null ? 2 : 1 + Math.abs(given - wanted) / 100;
}

/** All of the grip too high or too low is one slip, not five; tells where its lowest note belongs. */
function shifted(given, wanted, open) {
  const asked = sounding(wanted, open);
  const apart = semitonesApart(sounding(given, open), asked);
  if (apart === null || asked.length < 2) return [];
  const heights = wanted.map((fret, string) => (fret === null ? Infinity : open[string] + fret));
  const string = heights.indexOf(asked[0]);
  const isSameStrings = areSameStrings(given, wanted);
  return [{ kind: "shifted", bySemitones: apart, isSameStrings, string, asked: asked[0] % 12 }];
}

/** The right notes in another order, such as another inversion. */
function reordered(given, shown, open) {
  const [heard, asked] = [given, shown].map((frets) => sounding(frets, open).map((midi) => midi % 12));
  return isReordered(heard, asked) ? [orderOff(asked)] : [];
}

/** What is off, note by note: first the nearest misses, then what is missing, then what is too many. */
function notesOff(given, wanted, open, by) {
  const here = placed(given, open);
  const there = placed(wanted, open);
  take(here, there, (one, other) => one.string === other.string && one.fret === other.fret);
  const moved = take(here, there, (one, other) => one.midi === other.midi);
  const slipped = take(here, there, (one, other) => one.string === other.string);
  const strayed = by === "pitches" ? take(here, there, () => true) : [];
  return [
    ...slipped.map(fretOff),
    ...(by === "pitches" ? [] : moved.map(stringOff)),
    ...strayed.map(pitchOff),
    ...there.map(({ string, fret, midi }) => ({ kind: "missing", string, wanted: fret, asked: midi % 12 })),
    ...here.map(({ string, fret, midi }) => ({ kind: "extra", string, given: fret, heard: midi % 12 })),
  ];
}

const placed = (frets, open) =>
  frets.flatMap((fret, string) => (fret === null ? [] : [{ string, fret, midi: open[string] + fret }]));

/** Takes out of both lists the pairs that match, lowest first, and returns them. */
function take(here, there, isMatch) {
  const pairs = [];
  for (const one of [...here]) {
    const at = there.findIndex((other) => isMatch(one, other));
    if (at < 0) continue;
    pairs.push([one, there.splice(at, 1)[0]]);
    here.splice(here.indexOf(one), 1);
  }
  return pairs;
}

const fretOff = ([one, other]) => ({
  kind: "fret",
  string: one.string,
  given: one.fret,
  wanted: other.fret,
  byFrets: one.fret - other.fret,
  heard: one.midi % 12,
  asked: other.midi % 12,
});

const stringOff = ([one, other]) => ({
  kind: "string",
  string: one.string,
  given: one.fret,
  wantedString: other.string,
  wanted: other.fret,
  heard: one.midi % 12,
});

const pitchOff = ([one, other]) => ({
  ...stringOff([one, other]),
  kind: "pitch",
  bySemitones: one.midi - other.midi,
  asked: other.midi % 12,
});
