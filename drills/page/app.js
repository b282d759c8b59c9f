// Where the page begins: the deck is read, the store opened, and home is shown.

import { dayEnd, dayStart } from "./memory/daily.js";
import { unpack } from "./deck.js";
import { h, refill } from "./dom.js";
import { makeNotices } from "./shell/notices.js";
import { makeRoutes } from "./shell/route.js";
import { PACE } from "./memory/schedule.js";
import { doneScreen } from "./screens/done.js";
import { helpScreen } from "./screens/help.js";
import { homeScreen } from "./screens/home.js";
import { playScreen } from "./screens/play.js";
import { projectorScreen } from "./screens/projector.js";
import { roundsScreen } from "./screens/rounds.js";
import { settingsScreen } from "./screens/settings.js";
import { standingScreen } from "./screens/standing.js";
import { settingsFrom, USUAL_SETTINGS } from "./settings.js";
import { makeSound, wakeOnGesture } from "./sounds/sound.js";
import { openStore } from "./memory/store.js";
import { tellClosed, tellUnwritten, tellWhatComes, tellWhenFileIsDue } from "./shell/telling.js";
import { keepTheme } from "./shell/theme.js";
import { WORDS } from "./words.js";

/** Every screen by the name that `app.go` takes; with the first the page begins, and back ends there. */
const SCREENS = Object.freeze({
  home: homeScreen,
  play: playScreen,
  done: doneScreen,
  rounds: roundsScreen,
  projector: projectorScreen,
  standing: standingScreen,
  settings: settingsScreen,
  help: helpScreen,
});

/** Screens that are drawn again when a count has changed under them. */
const COUNTING = Object.freeze(["home", "standing"]);

start(document.getElementById("screen"));

async function start(place) {
  let app = null;
  const applyTheme = keepTheme(() => app?.settings.theme ?? "phone");
  try {
    // The store opens in the background while the deck is read.
    const opening = openStore({ indexedDB: databases() });
    const deck = unpack(await deckText());
    app = makeApp(deck, await opening, applyTheme);
    Object.assign(app, makeRoutes(app, SCREENS, place));
    takeIn(app, app.store.found);
    keepLooking(app);
    app.go("home");
    tellWhatComes(app);
  } catch (fault) {
    refill(place, faultScreen(fault));
  }
}

/** Where things can be kept; some browsers that refuse it throw at the mere question. */
function databases() {
  try {
    return globalThis.indexedDB;
  } catch {
    return null;
  }
}

/** The single file holds its deck, after the script; a folder's page fetches it. */
async function deckText() {
  if (document.readyState === "loading") await happens(document, "DOMContentLoaded");
  const held = document.getElementById("deck");
  if (held) return held.textContent;
  const answer = await fetch("./deck.json");
  if (!answer.ok) throw new Error(`deck.json: ${answer.status}`);
  return answer.text();
}

function happens(target, event) {
  return new Promise((resolve) => target.addEventListener(event, resolve, { once: true }));
}

/**
 * What every screen is handed.
 *
 * @typedef {ReturnType<typeof makeApp> & ReturnType<typeof makeRoutes>} App
 */
function makeApp(deck, store, applyTheme) {
  const app = {
    deck,
    store,
    settings: USUAL_SETTINGS,
    memories: new Map(), // the store keeps it up to date
    pace: { ...PACE, targetRecall: deck.targetRecall },
    notices: makeNotices(),
    unmarked: null, // an answer that was seen and left without its mark
    unwritten: null, // what to tell while marks cannot be written
    now: () => Date.now(),
    day: () => dayOf(app),
    sound: makeSound({
      AudioContext: globalThis.AudioContext,
      ...soundOf(USUAL_SETTINGS),
      onFailure: (text) => app.notices.set("sound", { text }),
    }),
    mark: (card, mark, took_ms = 0) => markCard(app, card, mark, took_ms),
    unmark: (review) => unmark(app, review),
    refresh: () => refresh(app),
    recount: () => COUNTING.includes(app.shown()) && app.redraw(),
    tellWhenFileIsDue: () => tellWhenFileIsDue(app),
    applySettings() {
      applyTheme();
      app.sound.set(soundOf(app.settings));
    },
  };
  return app;
}

const soundOf = ({ a4_hz, isSoundOn }) => ({ a4_hz, isOn: isSoundOn });

const isHeard = ({ isSoundOn }) => isSoundOn && Boolean(globalThis.AudioContext);

/** The day that is going on, as daily.js takes it; what is asked by ear alone waits while nothing sounds. */
function dayOf({ deck, memories, settings, now }) {
  const moment = now();
  const offset = (at) => -new Date(at).getTimezoneOffset();
  return {
    cards: isHeard(settings) ? deck.cards : deck.cards.filter(({ drill }) => drill !== "hear"),
    memories,
    now: moment,
    dayStart: dayStart(moment, settings.dayStartHour, offset),
    dayEnd: dayEnd(moment, settings.dayStartHour, offset),
    freshPerDay: settings.freshPerDay ?? deck.freshPerDay,
  };
}

/** Notes a mark. @returns {Promise<string>} the review's id, for taking it back */
async function markCard(app, card, mark, took_ms) {
  const { store, pace } = app;
  const { review, fault } = await store.mark({ card: card.id, mark, when: app.now(), took_ms, pace });
  tellUnwritten(app, fault);
  return review.id;
}

/** Takes a mark back. @returns {Promise<boolean>} false where the store cannot be read: the mark stands */
async function unmark(app, review) {
  const { fault, isStanding = false } = await app.store
    .unmark(review, app.now())
    .catch((refusal) => ({ fault: refusal, isStanding: true }));
  tellUnwritten(app, fault);
  return !isStanding;
}

/** Reads anew what is kept: after a progress file was read in, when another tab wrote. */
async function refresh(app) {
  const [memories, settings] = await Promise.all([app.store.memories(), app.store.settings()]);
  takeIn(app, { memories, settings });
}

function takeIn(app, { memories, settings }) {
  app.memories = memories;
  app.settings = settingsFrom(settings);
  app.applySettings();
}

/** What goes on while the page is open. */
function keepLooking(app) {
  wakeOnGesture(app.sound, document);
  const onOtherTab = async () => {
    await app.refresh();
    app.recount();
  };
  app.store.watch(onOtherTab, () => tellClosed(app));
  // A page that was left open over night shows the new day.
  document.addEventListener("visibilitychange", () => {
    if (!document.hidden) app.recount();
  });
  const atDayEnd = (act) => setTimeout(act, app.day().dayEnd - app.now());
  atDayEnd(function nextDay() {
    app.recount();
    atDayEnd(nextDay);
  });
}

function faultScreen(fault) {
  console.error(fault);
  const words = WORDS.app;
  // Only the folder's page has a manifest; a single file that lacks its deck was cut off before it.
  const isFolderOnDisk = document.querySelector("link[rel=manifest]") && location.protocol === "file:";
  const isDeck = fault.code === "foreign" || fault.code === "newer";
  return h("div", { class: "screen" },
    h("h1", null, words.cannotStart),
    h("p", null, isFolderOnDisk ? words.folderOnDisk : isDeck ? words.deckDamaged : words.notLoaded),
    h("p", { class: "quiet small" }, String(fault.message ?? fault)));
}
