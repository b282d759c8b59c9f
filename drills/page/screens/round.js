// A round: one voicing through the keys the deck has it in, by fourths. Pure.

export const BEATS_PER_BAR = 4;
export const BARS_PER_KEY = 2;
const COUNT_IN_BEATS = BEATS_PER_BAR;

// Drills whose answer shows the voicing itself and not another one, the most fitting first.
const DRILLS = ["place", "layer", "name", "spell", "join", "split", "spot", "hear"];

// Drills that ask where it lies, as a round does.
const MARKED = ["place", "layer"];

/**
 * The stops of a round, by fourths from C: for each key the card whose answer shows where the voicing lies
 * there.
 *
 * @param {import("../deck.js").Deck} deck
 * @param {number} voicing index into deck.voicings
 * @returns {import("../deck.js").Card[]}
 */
export function roundStops(deck, voicing) {
  const fitting = deck.cards.filter((card) =>
    card.voicing === voicing && isWhole(card) && card.back.picture !== null && DRILLS.includes(card.drill));
  const rank = ({ drill }) => DRILLS.indexOf(drill);
  const best = new Map();
  for (const card of fitting) {
    const before = best.get(card.key.pitchClass);
    if (!before || rank(card) < rank(before)) best.set(card.key.pitchClass, card);
  }
  return deck.fourths.filter((key) => best.has(key)).map((key) => best.get(key));
}

/** Whether its answer shows the whole voicing: a layer does only where there is no other. */
const isWhole = ({ isLayer, back }) => !isLayer || back.layers[0]?.role === "single";

const isPlayable = (deck, voicing) => roundStops(deck, voicing).length > 0;

/** Whether a round can be played at all. */
export function hasRounds(deck) {
  return deck.voicings.some((_, index) => isPlayable(deck, index));
}

/** The voicings that a round can be played with: indices into deck.voicings. */
export function roundVoicings(deck) {
  return deck.voicings.map((_, index) => index).filter((index) => isPlayable(deck, index));
}

/**
 * Where a beat falls.
 *
 * @param {number} beat from the first of the count-in, which is 0
 * @param {number} stops how many keys the round has
 * @returns {{ isCountIn: boolean, stop: number, beatOfStop: number, isOver: boolean }} beatOfStop counts
 *   through the bars
 *   of one key; the count-in belongs to the first key
 */
export function placeOfBeat(beat, stops) {
  if (beat < COUNT_IN_BEATS) return { isCountIn: true, stop: 0, beatOfStop: beat, isOver: false };
  const beatsPerKey = BEATS_PER_BAR * BARS_PER_KEY;
  const played = beat - COUNT_IN_BEATS;
  const stop = Math.floor(played / beatsPerKey);
  return { isCountIn: false, stop, beatOfStop: played % beatsPerKey, isOver: stop >= stops };
}

/** How many keys were played to the end before this beat. */
export function keysPlayed(beat) {
  return Math.max(0, Math.floor((beat - COUNT_IN_BEATS) / (BEATS_PER_BAR * BARS_PER_KEY)));
}

/** The beat to go on from after a pause: the first of the bar that was broken off. */
export function barStart(beat) {
  return beat - (beat % BEATS_PER_BAR);
}

/**
 * The cards that the round's one mark is noted for: those that ask where it lies, were played, and were met
 * before.
 *
 * @param {import("../deck.js").Card[]} played
 * @param {Map<string, unknown>} memories
 */
export function markedCards(played, memories) {
  return played.filter((card) => MARKED.includes(card.drill) && memories.has(card.id));
}
