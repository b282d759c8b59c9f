// What the page lets one hear: plucked strings made here, a drone, a click. No recording, nothing fetched.

import { keepBeats } from "./beats.js";
import { pitch_hz, string } from "./string.js";
import { WORDS } from "../words.js";

/** From note to note of an arpeggio. */
export const ARPEGGIO_S = 0.3;
const STRING_S = 3.2;
const STRUM_S = 0.018; // from string to string in a chord
const ROOT_S = 1.2; // how long the root stands before its chord
const HUSH_S = 0.04;
const BLOCKED_S = 1;

/**
 * The sound of the page. Nothing is asked of the device before the first call of `ready` or of something to
 * play.
 *
 * @param {Object} given
 * @param {typeof AudioContext | undefined} given.AudioContext undefined where the browser has none
 * @param {number} given.a4_hz the pitch reference
 * @param {boolean} given.isOn whether anything is heard; a silent click still counts its beats
 * @param {(text: string) => void} [given.onFailure] told once, when sound turns out to be impossible
 * @returns what plays: `open` and `ready` get the device; `prepare`, `chord`, `arpeggio` and `rootThenChord` take
 *   midi numbers; `drone` and `clicks` give back what stops them, `hush` stops the rest; `set` takes new
 *   settings; `failure` says why nothing is heard, or is null
 */
export function makeSound({ AudioContext, a4_hz, isOn, onFailure = () => {} }) {
  const strings = new Map();
  let context = null;
  let failure = null;
  let isTold = false;
  let hush = () => {};

  const sound = {
    get failure() {
      return failure;
    },
    open: () => void opened(),
    ready,
    prepare,
    chord: (midi) => play(strummed(midi, 0)),
    arpeggio: (midi) => play(midi.map((note, n) => [note, n * ARPEGGIO_S])),
    rootThenChord: (root, midi) => play([[root, 0], ...strummed(midi, ROOT_S)]),
    hush: () => hush(),
    drone,
    clicks,
    set,
  };
  return sound;

  function set(next) {
    if (next.a4_hz !== undefined && next.a4_hz !== a4_hz) {
      a4_hz = next.a4_hz;
      strings.clear();
    }
    isOn = next.isOn ?? isOn;
    if (!isOn) hush();
  }

  // The context, asleep at first, or null.
  function opened() {
    try {
      context ??= new AudioContext({ latencyHint: "interactive" });
    } catch {
      fail(WORDS.settings.soundAbsent);
    }
    return context;
  }

  // The context, woken if it sleeps, or null. A browser wakes it only for a tap or a key.
  function wake() {
    if (opened() && context.state !== "running") context.resume().catch(() => {});
    return context;
  }

  function fail(text) {
    failure = text;
    if (!isTold) onFailure(text);
    isTold = true;
  }

  async function ready() {
    if (!wake()) return false;
    const limit_ms = performance.now() + BLOCKED_S * 1000;
    while (context.state !== "running" && performance.now() < limit_ms) await pause_ms(20);
    if (context.state === "running") failure = null;
    else fail(WORDS.settings.soundBlocked);
    return failure === null;
  }

  function play(notes) {
    hush();
    if (!isOn || !wake()) return;
    ready();
    const output = outputOf(context, Math.min(1, 6 / notes.length));
    // The first string sounds while the others are still being made.
    let start_s = null;
    const sources = notes.map(([midi, after_s]) => {
      const buffer = stringOf(midi);
      start_s ??= context.currentTime;
      return started(buffer, output, start_s + after_s);
    });
    hush = () => {
      glide(output, 0, HUSH_S, context);
      for (const source of sources) source.stop(context.currentTime + HUSH_S);
      hush = () => {};
    };
  }

  /**
   * Makes strings that will be wanted soon, one at a time, so that nothing stutters; only once the sound is
   * awake.
   */
  function prepare(midi) {
    if (!isOn || context?.state !== "running") return;
    for (const note of midi) setTimeout(() => stringOf(note));
  }

  function stringOf(midi) {
    const make = () => bufferOf(string(context.sampleRate, pitch_hz(midi, a4_hz), STRING_S));
    if (!strings.has(midi)) strings.set(midi, make());
    return strings.get(midi);
  }

  function bufferOf(samples) {
    const buffer = context.createBuffer(1, samples.length, context.sampleRate);
    buffer.copyToChannel(samples, 0);
    return buffer;
  }

  function started(buffer, output, when_s) {
    const source = context.createBufferSource();
    source.buffer = buffer;
    source.connect(output);
    source.start(when_s);
    return source;
  }

  /** A calm tone that stays until the function that comes back is called. */
  function drone(midi) {
    if (!isOn || !wake()) return () => {};
    ready();
    const output = outputOf(context, 0);
    const tone = context.createOscillator();
    tone.setPeriodicWave(context.createPeriodicWave(...DRONE_PARTIALS));
    tone.frequency.value = pitch_hz(midi, a4_hz);
    tone.connect(output);
    glide(output, DRONE_GAIN, 0.6, context);
    tone.start();
    return () => {
      glide(output, 0, 0.4, context);
      tone.stop(context.currentTime + 0.5);
    };
  }

  /**
   * Clicks, the first of each bar accented; `onBeat(beat)` when one sounds. The function that comes back
   * stops them.
   */
  function clicks({ bpm, beatsPerBar, onBeat, firstBeat = 0 }) {
    let stop = () => {};
    let isStopped = false;
    const begin = (isHeard) => {
      if (isStopped) return;
      const clock_s = isHeard ? () => context.currentTime : () => performance.now() / 1000;
      const knock = isHeard ? knocker(beatsPerBar) : { at: () => {}, stop: () => {} };
      const stopBeats = keepBeats({ beat_s: 60 / bpm, clock_s, firstBeat, onBeat, knock: knock.at });
      stop = () => {
        stopBeats();
        knock.stop();
      };
    };
    (isOn ? ready() : Promise.resolve(false)).then(begin);
    return () => {
      isStopped = true;
      stop();
    };
  }

  function knocker(beatsPerBar) {
    const output = outputOf(context, 0.5);
    const strong = bufferOf(knocked(context.sampleRate, 1660));
    const weak = bufferOf(knocked(context.sampleRate, 1110));
    const at = (beat, when_s) => started(beat % beatsPerBar === 0 ? strong : weak, output, when_s);
    return { at, stop: () => output.disconnect() };
  }
}

/**
 * Lets the first tap or key wake the sound, as browsers ask for. It is opened while the finger is still down:
 * that takes a moment, and a tap should be answered at once.
 *
 * @param {{open: () => void, ready: () => Promise<boolean>}} sound
 * @param {EventTarget} target the document
 */
export function wakeOnGesture(sound, target) {
  target.addEventListener("pointerdown", () => sound.open(), { capture: true, once: true });
  const gestures = ["pointerup", "keydown"];
  const wake = () => {
    for (const gesture of gestures) target.removeEventListener(gesture, wake, true);
    sound.ready();
  };
  for (const gesture of gestures) target.addEventListener(gesture, wake, true);
}

// The second and third partial carry the root through a phone's small speaker.
const DRONE_PARTIALS = [
  new Float32Array([0, 0, 0, 0, 0, 0, 0]),
  new Float32Array([0, 0.6, 0.5, 0.3, 0.2, 0.08, 0.05]),
];
const DRONE_GAIN = 0.12;

const strummed = (midi, from_s) => midi.map((note, n) => [note, from_s + n * STRUM_S]);

const pause_ms = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

function outputOf(context, level) {
  const output = context.createGain();
  output.gain.value = level;
  output.connect(context.destination);
  return output;
}

function glide(output, level, seconds, context) {
  const now_s = context.currentTime;
  output.gain.cancelScheduledValues(now_s);
  output.gain.setValueAtTime(output.gain.value, now_s);
  output.gain.linearRampToValueAtTime(level, now_s + seconds);
}

// A knock on wood: a tone that is gone after a few hundredths of a second.
function knocked(sampleRate, hz) {
  const samples = new Float32Array(Math.round(0.06 * sampleRate));
  return samples.map((_, n) => {
    const time_s = n / sampleRate;
    return Math.sin(2 * Math.PI * hz * time_s) * Math.exp(-90 * time_s) * (1 - n / samples.length);
  });
}
