// The sound of one plucked string, by the way of Karplus and Strong ("Digital Synthesis of Plucked-String and
// Drum Timbres", Computer Music Journal 7(2), 1983): a pluck goes round a delay as long as one period, and
// every round through a filter that takes a little of its edge. A delay of whole samples would be up to 24
// cents off, so a third-order Lagrange filter adds the missing part of a sample (Jaffe and Smith, "Extensions
// of the Karplus-Strong Plucked-String Algorithm", in the same issue).

/** The highest value of one string: six at once stay below 1. */
export const STRING_PEAK = 0.16;

// Even loudness: the RMS of the first second of every string, or of what there is of it.
const LOUDNESS = 0.034;
const PLUCK_PLACE = 0.22; // where along the string it is plucked, as a part of its length
const NOISE = 0.35;
const EDGE_HZ = 1800; // the pluck is soft above; a fingertip more than a plectrum
const BRIGHT_HZ = 6000;
const BRIGHT_S = 0.5; // how long BRIGHT_HZ takes to fall by 60 dB, where the filter can do it
const ATTACK_S = 0.002;
const FADE_S = 0.35;

/**
 * One plucked string. The same arguments give the same samples.
 *
 * @param {number} sampleRate samples a second
 * @param {number} hz the pitch
 * @param {number} seconds how long it sounds; the end is faded to silence
 * @returns {Float32Array} one channel, never above STRING_PEAK
 */
export function string(sampleRate, hz, seconds) {
  const samples = new Float32Array(Math.round(sampleRate * seconds));
  const period = sampleRate / hz;
  samples.set(pluck(period, sampleRate).subarray(0, samples.length));
  ring(samples, period, loopFilter(sampleRate, hz));
  shapeEnds(samples, sampleRate);
  return evenOut(samples, sampleRate);
}

/**
 * A pitch in hertz: equal temperament, twelve to the octave.
 *
 * @param {number} midi 69 is the A that is tuned to
 * @param {number} a4_hz 440 by ISO 16
 */
export function pitch_hz(midi, a4_hz) {
  return a4_hz * 2 ** ((midi - 69) / 12);
}

// One period of what the finger does: the two steps that run away from the place of the pluck, and some
// noise.
function pluck(period, sampleRate) {
  const samples = new Float32Array(Math.round(period));
  const chance = seeded(1983);
  for (let n = 0; n < samples.length; n++) {
    const step = n < PLUCK_PLACE * samples.length ? 1 - PLUCK_PLACE : -PLUCK_PLACE;
    samples[n] = step + NOISE * (2 * chance() - 1);
  }
  soften(samples, 1 - Math.exp((-2 * Math.PI * EDGE_HZ) / sampleRate));
  const mean = samples.reduce((sum, sample) => sum + sample, 0) / samples.length;
  return samples.map((sample) => sample - mean);
}

// A one-pole low pass, taken round the period a second time so that end and beginning join.
function soften(samples, share) {
  let level = 0;
  for (let n = 0; n < 2 * samples.length; n++) {
    level += share * (samples[n % samples.length] - level);
    if (n >= samples.length) samples[n - samples.length] = level;
  }
}

// The filter of one round: [bright, 1 - 2 bright, bright] is even about its middle, so it delays every
// partial by exactly one sample and puts none of them out of tune.
function loopFilter(sampleRate, hz) {
  const fall_s = 4 + 2 * Math.min(1, 82 / hz); // a low string rings longer
  const kept = 10 ** (-3 / (hz * fall_s));
  const keptBright = Math.min(kept, 10 ** (-3 / (hz * BRIGHT_S)));
  const turn = 2 * (1 - Math.cos((2 * Math.PI * BRIGHT_HZ) / sampleRate));
  const bright = Math.min(0.25, (1 - keptBright / kept) / turn);
  return [kept * bright, kept * (1 - 2 * bright), kept * bright];
}

// Lets the pluck go round: each new sample is the filtered one of a period ago.
function ring(samples, period, filter) {
  const whole = Math.floor(period) - 2;
  const [a, b, c, d] = lagrange(period - 1 - whole);
  const [e, f] = filter;
  const taps = [a * e, a * f + b * e, a * e + b * f + c * e, b * e + c * f + d * e, c * e + d * f, d * e];
  const [t0, t1, t2, t3, t4, t5] = taps;
  for (let n = Math.round(period); n < samples.length; n++) {
    const then = n - whole;
    // What lies before the beginning is silence.
    samples[n] = t0 * samples[then] + t1 * samples[then - 1] + t2 * samples[then - 2]
      + t3 * (samples[then - 3] ?? 0) + t4 * (samples[then - 4] ?? 0) + t5 * (samples[then - 5] ?? 0);
  }
}

// Third-order Lagrange taps for a delay of 1 to 2 samples, where they are most exact.
const lagrange = (delay) => [
  (-(delay - 1) * (delay - 2) * (delay - 3)) / 6,
  (delay * (delay - 2) * (delay - 3)) / 2,
  (-delay * (delay - 1) * (delay - 3)) / 2,
  (delay * (delay - 1) * (delay - 2)) / 6,
];

// Neither beginning nor end may jump: a jump is a click.
function shapeEnds(samples, sampleRate) {
  const attack = Math.min(samples.length, Math.round(ATTACK_S * sampleRate));
  for (let n = 0; n < attack; n++) samples[n] *= n / attack;
  const fade = Math.min(samples.length, Math.round(FADE_S * sampleRate));
  for (let n = 0; n < fade; n++) {
    samples[samples.length - 1 - n] *= (1 - Math.cos((Math.PI * n) / fade)) / 2;
  }
}

function evenOut(samples, sampleRate) {
  const heard = Math.min(samples.length, sampleRate);
  let power = 0;
  let peak = 0;
  for (let n = 0; n < samples.length; n++) {
    if (n < heard) power += samples[n] * samples[n];
    peak = Math.max(peak, Math.abs(samples[n]));
  }
  if (peak === 0) return samples;
  const gain = Math.min(LOUDNESS / Math.sqrt(power / heard), STRING_PEAK / peak);
  for (let n = 0; n < samples.length; n++) samples[n] *= gain;
  return samples;
}

// The noise is always the same noise. The generator is Marsaglia's xorshift of 32 bits (2003).
function seeded(seed) {
  let state = seed;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 2 ** 32;
  };
}
