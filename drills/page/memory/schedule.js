// When a card comes back: the FSRS-6 memory model, written from its published formulas.
//
// Pure: a card's memory, a mark and a moment go in, a new memory comes out. No screen, no store, no clock, no chance.
// Moments are whole milliseconds since 1970 UTC, steps are whole seconds, so every due moment is a whole number too.
// tests/page/test_schedule.py holds it to the Python library `fsrs`, which is why powers are written as that library
// computes them (e to the x by power, not by exp) and why halves go to the even day.

/**
 * @typedef {"unseen" | "settling" | "settled" | "slipped"} Stage
 * @typedef {1 | 2 | 3 | 4} Mark
 *
 * @typedef {Object} Memory what is known of one student and one card
 * @property {Stage} stage settling and slipped walk through steps, settled waits whole days
 * @property {number | null} step the step last taken, from 0; null when settled
 * @property {number | null} stability days until recall has sunk to 90 %; null when unseen
 * @property {number | null} difficulty 1 to 10; null when unseen
 * @property {number | null} due when it wants to come back, ms; null when unseen
 * @property {number | null} last when it was last marked, ms; null when unseen
 *
 * @typedef {Object} Pace
 * @property {number} targetRecall the share of answers that should succeed, between 0 and 1
 * @property {readonly number[]} settlingSteps waits before a new card is settled, seconds
 * @property {readonly number[]} slippedSteps waits before a missed card is settled again, seconds
 * @property {number} maximumDays the longest wait
 * @property {readonly number[]} weights the model's 21 numbers
 */

/** @type {Readonly<Record<"missed" | "shaky" | "clean" | "instant", Mark>>} */
export const MARKS = Object.freeze({ missed: 1, shaky: 2, clean: 3, instant: 4 });

/** @type {Readonly<Memory>} */
export const UNSEEN = Object.freeze({
  stage: "unseen",
  step: 0,
  stability: null,
  difficulty: null,
  due: null,
  last: null,
});

/** @type {Readonly<Pace>} */
export const PACE = Object.freeze({
  targetRecall: 0.9,
  settlingSteps: Object.freeze([60, 600]),
  slippedSteps: Object.freeze([600]),
  maximumDays: 36500,
  // The defaults published with FSRS-6.
  weights: Object.freeze([
    0.212, 1.2931, 2.3065, 8.2956, // first stability by mark
    6.4133, 0.8334, // first difficulty
    3.0194, 0.001, // change of difficulty, pull back to the mean
    1.8722, 0.1666, 0.796, // stability after a success
    1.4835, 0.0614, 0.2629, 1.6483, // stability after a miss
    0.6014, 1.8729, // shaky counts less, instant more
    0.5425, 0.0912, 0.0658, // a second review on the same day
    0.1542, // how fast recall sinks
  ]),
});

const SECOND_MS = 1000;
const DAY_MS = 86_400_000;
const LEAST_STABILITY_DAYS = 0.001;

/**
 * The memory after a mark; the one given is left as it was.
 *
 * @param {Readonly<Memory>} memory
 * @param {Mark} mark
 * @param {number} when the moment of the mark, ms
 * @param {Readonly<Pace>} [pace]
 * @param {number | null} [chance] from 0 up to, not including, 1 spreads a settled wait a little; null leaves it
 * @returns {Memory}
 */
export function review(memory, mark, when, pace = PACE, chance = null) {
  if (!Number.isInteger(mark) || mark < MARKS.missed || mark > MARKS.instant) {
    throw new RangeError(`a mark is 1, 2, 3 or 4, not ${mark}`);
  }
  if (!Number.isSafeInteger(when)) {
    throw new RangeError(`a moment is a whole number of milliseconds, not ${when}`);
  }
  const learnt = learn(memory, mark, when, pace);
  const { stage, step, waitSeconds } = advance(memory, mark, pace);
  let wait_ms = waitSeconds * SECOND_MS;
  if (stage === "settled") {
    const days = daysUntilTarget(learnt.stability, pace);
    wait_ms = DAY_MS * (chance === null ? days : spread(days, chance, pace.maximumDays));
  }
  return { stage, step, ...learnt, due: when + wait_ms, last: when };
}

/**
 * The likelihood that the card is still known, 0 to 1; an unseen card is not.
 *
 * @param {Readonly<Memory>} memory
 * @param {number} when ms
 * @param {Readonly<Pace>} [pace]
 */
export function recall(memory, when, pace = PACE) {
  if (memory.stability === null || memory.last === null) return 0;
  const days = Math.max(0, wholeDays(memory.last, when));
  const { decay, factor } = forgetting(pace.weights);
  return (1 + (factor * days) / memory.stability) ** decay;
}

/**
 * A wait near the one given, so that cards met together do not stay together for ever: one day to either side, and
 * of the days beyond 2½, 7 and 20 a share of 15, 10 and 5 percent more. Every day of the range is equally likely
 * (floored: rounding would give the first day half its share and overshoot the last).
 *
 * @param {number} days
 * @param {number} chance from 0 up to, not including, 1
 * @param {number} maximumDays
 */
export function spread(days, chance, maximumDays) {
  if (days < 2.5) return days;
  let reach = 1;
  for (const [from, to, share] of [[2.5, 7, 0.15], [7, 20, 0.1], [20, Infinity, 0.05]]) {
    reach += share * Math.max(Math.min(days, to) - from, 0);
  }
  const last = Math.min(roundHalfEven(days + reach), maximumDays);
  const first = Math.min(roundHalfEven(days - reach), last);
  return first + Math.floor(chance * (last - first + 1));
}

// --- what the answer says about memory ------------------------------------------------------------

/** @returns {{ stability: number, difficulty: number }} */
function learn(memory, mark, when, pace) {
  const w = pace.weights;
  if (memory.stability === null || memory.difficulty === null) {
    return { stability: atLeast(w[mark - 1]), difficulty: withinTen(firstDifficulty(mark, w)) };
  }
  const isSameDay = memory.last !== null && wholeDays(memory.last, when) < 1;
  let stability;
  if (isSameDay) {
    stability = sameDayStability(memory.stability, mark, w);
  } else {
    const known = recall(memory, when, pace);
    stability =
      mark === MARKS.missed
        ? missedStability(memory.difficulty, memory.stability, known, w)
        : recalledStability(memory.difficulty, memory.stability, known, mark, w);
  }
  return { stability: atLeast(stability), difficulty: nextDifficulty(memory.difficulty, mark, w) };
}

const firstDifficulty = (mark, w) => w[4] - Math.E ** (w[5] * (mark - 1)) + 1;

function nextDifficulty(difficulty, mark, w) {
  const change = -(w[6] * (mark - 3));
  const moved = difficulty + ((10 - difficulty) * change) / 9;
  return withinTen(w[7] * firstDifficulty(MARKS.instant, w) + (1 - w[7]) * moved);
}

function sameDayStability(stability, mark, w) {
  const growth = Math.E ** (w[17] * (mark - 3 + w[18])) * stability ** -w[19];
  return stability * (mark === MARKS.missed ? growth : Math.max(growth, 1));
}

function missedStability(difficulty, stability, known, w) {
  const longTerm =
    w[11] * difficulty ** -w[12] * ((stability + 1) ** w[13] - 1) * Math.E ** ((1 - known) * w[14]);
  return Math.min(longTerm, stability / Math.E ** (w[17] * w[18]));
}

function recalledStability(difficulty, stability, known, mark, w) {
  const growth =
    Math.E ** w[8] * (11 - difficulty) * stability ** -w[9] * (Math.E ** ((1 - known) * w[10]) - 1);
  const shaky = mark === MARKS.shaky ? w[15] : 1;
  const instant = mark === MARKS.instant ? w[16] : 1;
  return stability * (1 + growth * shaky * instant);
}

// --- where that leads -----------------------------------------------------------------------------

/** @returns {{ stage: Stage, step: number | null, waitSeconds: number }} the wait counts unless settled */
function advance(memory, mark, pace) {
  if (memory.stage === "settled") {
    return mark === MARKS.missed && pace.slippedSteps.length > 0
      ? { stage: "slipped", step: 0, waitSeconds: pace.slippedSteps[0] }
      : SETTLED;
  }
  const isSlipped = memory.stage === "slipped";
  const stage = isSlipped ? "slipped" : "settling";
  const steps = isSlipped ? pace.slippedSteps : pace.settlingSteps;
  const step = memory.step ?? 0;
  if (steps.length === 0) return SETTLED;
  if (mark === MARKS.missed) return { stage, step: 0, waitSeconds: steps[0] };
  // The pace may have lost steps since the card took its last one.
  if (mark === MARKS.instant || step >= steps.length) return SETTLED;
  if (mark === MARKS.shaky) return { stage, step, waitSeconds: shakyWait(steps, step) };
  if (step + 1 === steps.length) return SETTLED;
  return { stage, step: step + 1, waitSeconds: steps[step + 1] };
}

const SETTLED = Object.freeze({ stage: "settled", step: null, waitSeconds: 0 });

/** The same step again; the first one longer, half way to the next. */
function shakyWait(steps, step) {
  if (step > 0) return steps[step];
  return steps.length === 1 ? steps[0] * 1.5 : (steps[0] + steps[1]) / 2;
}

function daysUntilTarget(stability, pace) {
  const { decay, factor } = forgetting(pace.weights);
  const days = (stability / factor) * (pace.targetRecall ** (1 / decay) - 1);
  return Math.min(Math.max(roundHalfEven(days), 1), pace.maximumDays);
}

// --- small arithmetic -----------------------------------------------------------------------------

/** Recall after so many days is (1 + factor × days / stability) ^ decay. */
function forgetting(w) {
  const decay = -w[20];
  return { decay, factor: 0.9 ** (1 / decay) - 1 };
}

/** Full days gone by, below zero when the clock went back. */
const wholeDays = (from, to) => Math.floor((to - from) / DAY_MS);

const atLeast = (stability) => Math.max(stability, LEAST_STABILITY_DAYS);

const withinTen = (difficulty) => Math.min(Math.max(difficulty, 1), 10);

function roundHalfEven(number) {
  const below = Math.floor(number);
  const rest = number - below;
  if (rest !== 0.5) return rest < 0.5 ? below : below + 1;
  return below % 2 === 0 ? below : below + 1;
}
