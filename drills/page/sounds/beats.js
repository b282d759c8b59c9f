// Beats on a clock that does not drift: each is counted from the first, never from the one before.

const AHEAD_S = 0.5; // a beat is handed to the audio clock this long before it sounds
const LOOK_MS = 100;

/**
 * @param {Object} given
 * @param {number} given.beat_s from beat to beat
 * @param {() => number} given.clock_s
 * @param {number} given.firstBeat the number of the first beat
 * @param {(beat: number) => void} given.onBeat called when the beat is there
 * @param {(beat: number, when_s: number) => void} given.knock called ahead of it
 * @returns {() => void} stops
 */
export function keepBeats({ beat_s, clock_s, firstBeat, onBeat, knock }) {
  const timers = new Set();
  let start_s = clock_s() + 0.1;
  let next = 0;
  const look = () => {
    for (; start_s + next * beat_s < clock_s() + AHEAD_S; next++) {
      const late_s = clock_s() - (start_s + next * beat_s);
      // The device slept: go on from here rather than run after the beats.
      if (late_s > 0.2) start_s += late_s;
      hand(firstBeat + next, start_s + next * beat_s);
    }
  };
  const hand = (beat, when_s) => {
    knock(beat, when_s);
    const timer = setTimeout(() => {
      timers.delete(timer);
      onBeat(beat);
    }, Math.max(0, when_s - clock_s()) * 1000);
    timers.add(timer);
  };
  look();
  const looking = setInterval(look, LOOK_MS);
  return () => {
    clearInterval(looking);
    for (const timer of timers) clearTimeout(timer);
  };
}
