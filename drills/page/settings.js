// What a student can set, and what holds until they do.

/**
 * @typedef {Object} Settings
 * @property {"deck" | "left" | "right"} hand which hand frets; as the deck says, or the other way round
 * @property {"phone" | "light" | "dark"} theme
 * @property {"across" | "down"} neck which way the strings run on the screen
 * @property {boolean} isSoundOn
 * @property {number} a4_hz
 * @property {"true" | "plain"} names notes as their degrees spell them, or each pitch class by one name
 * @property {number | null} freshPerDay null: as the deck says
 * @property {number} dayStartHour the hour of local time at which a new day begins
 * @property {number} clickBpm
 * @property {boolean} hasDrone
 */

/** @type {Readonly<Settings>} */
export const USUAL_SETTINGS = Object.freeze({
  hand: "deck",
  theme: "phone",
  neck: "across",
  isSoundOn: true,
  a4_hz: 440,
  names: "true",
  freshPerDay: null,
  dayStartHour: 4,
  clickBpm: 60,
  hasDrone: false,
});

const CHOICES = Object.freeze({
  hand: ["deck", "left", "right"],
  theme: ["phone", "light", "dark"],
  neck: ["across", "down"],
  names: ["true", "plain"],
});

/** The least and the most of each whole number that can be set. */
export const RANGES = Object.freeze({
  a4_hz: [400, 480],
  freshPerDay: [0, 50],
  dayStartHour: [0, 23],
  clickBpm: [30, 200],
});

/**
 * Settings out of whatever was kept: what cannot be is as usual.
 *
 * @param {unknown} kept
 * @returns {Settings}
 */
export function settingsFrom(kept) {
  const settings = { ...USUAL_SETTINGS };
  if (typeof kept !== "object" || kept === null) return settings;
  for (const [name, choices] of Object.entries(CHOICES)) {
    if (choices.includes(kept[name])) settings[name] = kept[name];
  }
  for (const [name, [least, most]] of Object.entries(RANGES)) {
    if (Number.isInteger(kept[name]) && kept[name] >= least && kept[name] <= most) settings[name] = kept[name];
  }
  for (const name of ["isSoundOn", "hasDrone"]) {
    if (typeof kept[name] === "boolean") settings[name] = kept[name];
  }
  return settings;
}

/** Whether the neck is shown for a left-handed player. */
export function isLeftHanded(settings, instrument) {
  return settings.hand === "deck" ? instrument.isLeftHanded : settings.hand === "left";
}
