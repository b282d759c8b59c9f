// Progress: how well it is kept here, the file it can be saved to, and the file it can be read from.

import { announce, button, h, refill } from "../dom.js";
import { MOST_BYTES, MOST_STUDENT_CHARACTERS, PageError } from "../memory/journal.js";
import { WORDS } from "../words.js";
import { part } from "./top.js";

/** @param {Object} app @returns {HTMLElement} */
export function progressPart(app) {
  const words = WORDS.settings;
  return part(words.progressPart,
    h("p", null, words.staysHere),
    storageLine(app),
    ...saving(app),
    ...reading(app));
}

function storageLine(app) {
  const words = WORDS.settings.storage;
  const place = h("div", { class: "storage" });
  const show = (state) => refill(place,
    h("p", null, words[state]),
    state === "clearable" && h("div", { class: "row" }, button(words.ask, ask)));
  const ask = async () => {
    const answer = await app.store.askToPersist();
    show(answer === "granted" ? "kept" : "refused");
    announce(place.textContent);
  };
  storageState(app).then(show);
  return place;
}

async function storageState(app) {
  if (!app.store.isKept) return "nothing";
  try {
    return (await navigator.storage.persisted()) ? "kept" : "clearable";
  } catch {
    // Browsers without an answer, and pages opened from a file.
    return "unknown";
  }
}

function saving(app) {
  const words = WORDS.settings;
  const said = h("p", { class: "said", role: "status" });
  const name = h("input", {
    id: "student-name",
    type: "text",
    maxlength: MOST_STUDENT_CHARACTERS,
    autocomplete: "off",
  });
  app.store.student().then((student) => (name.value ||= student));
  const save = async () => {
    const when = app.now();
    try {
      const text = await app.store.exportText({ when, student: name.value.trim() || null });
      offer(text, fileName(when));
      await app.store.noteExport(when);
      refill(said, words.saved(fileName(when)));
    } catch (error) {
      refill(said, faultText(error));
    }
  };
  return [
    h("label", { class: "line-label", for: "student-name" }, words.studentName),
    name,
    h("div", { class: "row" }, button(words.save, save)),
    said,
  ];
}

function reading(app) {
  const words = WORDS.settings;
  const said = h("p", { class: "said", role: "status" });
  const input = h("input", { type: "file", accept: ".json,application/json", hidden: true });
  input.addEventListener("change", async () => {
    const [file] = input.files;
    if (!file) return;
    refill(said, words.reading);
    refill(said, await readIn(app, file));
    // The same file can be picked again.
    input.value = "";
  });
  return [h("div", { class: "row" }, button(words.read, () => input.click()), input), said];
}

async function readIn(app, file) {
  try {
    if (file.size > MOST_BYTES) throw new PageError("too-big", `${file.size} bytes`);
    const result = await app.store.importText(await file.text());
    await app.refresh();
    const told = [WORDS.settings.readIn(result), result.lost > 0 && WORDS.progress.lost(result.lost)];
    return told.filter(Boolean).join(" ");
  } catch (error) {
    return error.code === "full" ? WORDS.settings.noRoom : faultText(error);
  }
}

// Told by what it is; a fault that nobody foresaw says so too, rather than nothing.
const faultText = (error) =>
  WORDS.progress[error.code] ?? WORDS.settings.unforeseen(String(error.message ?? error));

function offer(text, name) {
  const address = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  const link = h("a", { href: address, download: name, hidden: true });
  document.body.append(link);
  link.click();
  link.remove();
  // Some browsers read the address only a moment after the click.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

/** progress-2026-03-01.json, by the calendar on the wall. */
function fileName(when) {
  const day = new Date(when);
  const two = (number) => String(number).padStart(2, "0");
  return `progress-${day.getFullYear()}-${two(day.getMonth() + 1)}-${two(day.getDate())}.json`;
}
