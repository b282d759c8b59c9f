// Degrees by their height over the root: ♯11 and ♭5 sound the same, and both count.

import { isReordered, orderOff } from "./order.js";

/**
 * @param {{ asked: { semitones: number, text: string }[] }} task low to high
 * @param {number[]} given semitones over the root, 0 to 11, in the same order
 * @param {import("../deck.js").Card} card
 * @param {import("../deck.js").Deck} deck
 * @returns {import("./check.js").Result} findings `degree` (heard and asked as pitch classes, text as the
 *   card calls the asked one), `order` (see order.js), `called` (right; its name among several)
 */
export function checkDegrees(task, given, card, deck) {
  const asked = task.asked.map(({ semitones }) => semitones);
  const off = task.asked.flatMap(({ semitones, text }, place) =>
    given[place] === semitones ? [] : [degreeOff(given[place], semitones, text, card)]);
  if (off.length === 0) return { isRight: true, findings: task.asked.flatMap((each) => called(each, deck)) };
  const order = () => orderOff(asked.map((each) => over(each, card)));
  return { isRight: false, findings: isReordered(given, asked) ? [order()] : off };
}

/** A degree that is not the asked one; both as pitch classes, so that the card's names fit. */
export function degreeOff(given, semitones, text, card) {
  const heard = given === null ? null : over(given, card);
  return { kind: "degree", heard, asked: over(semitones, card), text };
}

const over = (height, card) => (card.key.pitchClass + height) % 12;

function called({ semitones, text }, deck) {
  const key = deck.pads.degrees.find((each) => each.semitones === semitones);
  const others = key ? key.texts.filter((each) => each !== text) : [];
  return others.length === 0 ? [] : [{ kind: "called", text, others }];
}
