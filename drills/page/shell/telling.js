// What home has to tell besides the day: how well progress is kept, and what is offered.

import { isFileDue, watchForInstall } from "./keeping.js";
import { watchForNewer } from "./newer.js";
import { WORDS } from "../words.js";

/**
 * Once the first screen stands: what is wrong already, and offers as they come.
 *
 * @param {import("../app.js").App} app
 */
export function tellWhatComes(app) {
  const { newer, takeNewer, install: offer, doInstall } = WORDS.app;
  if (!app.store.isKept) app.notices.set("kept", notKept(app));
  watchForNewer((act) => app.notices.set("newer", { text: newer, label: takeNewer, act }));
  watchForInstall((act) => app.notices.set("install", act && { text: offer, label: doInstall, act }));
}

function notKept(app) {
  const { notKept: text, newerPage } = WORDS.app;
  return app.store.fault.code === "newer-page" ? loadAnew(newerPage, true) : saveFile(app, text, true);
}

/** A newer page has closed the store under this one. */
export function tellClosed(app) {
  app.notices.set("closed", loadAnew(WORDS.app.closed, false));
}

/** What could not be written counts until the page closes, and is said until it is written. */
export function tellUnwritten(app, fault) {
  const isTakenOver = fault?.code === "newer-page";
  const text = isTakenOver ? WORDS.app.takenOver : WORDS.progress[fault?.code] ?? WORDS.app.notWritten;
  app.unwritten = fault && saveFile(app, text, true);
  app.notices.set("unwritten", app.unwritten);
  if (isTakenOver) app.notices.set("closed", null); // loading anew would lose them
}

/** Once a week, where nothing else keeps progress. */
export async function tellWhenFileIsDue(app) {
  const lastExport = await app.store.lastExport();
  const isDue = await isFileDue({ lastExport, memories: app.memories, now: app.now() });
  app.notices.set("file", isDue ? saveFile(app, WORDS.app.fileDue, false) : null);
}

const loadAnew = (text, isFault) =>
  ({ text, label: WORDS.app.loadAnew, act: () => location.reload(), isFault });

const saveFile = (app, text, isFault) =>
  ({ text, label: WORDS.app.saveFile, act: () => app.go("settings"), isFault });
