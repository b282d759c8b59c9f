// For a class in the room: card after card, large, the answer on a key press. Nothing is marked, nothing is
// stored.

import { choices, tick } from "./controls.js";
import { chance } from "../memory/daily.js";
import { announce, button, h, refill } from "../dom.js";
import { faceHead, faceLayers, faceLines } from "./face.js";
import { drawNeck, neckWords } from "../necks/neck.js";
import { isLeftHanded } from "../settings.js";
import { signed } from "../signs.js";
import { WORDS } from "../words.js";
import { screenTop } from "./top.js";

/** @param {Object} app @returns {import("../shell/route.js").Screen} */
export function projectorScreen(app) {
  const words = WORDS.projector;
  const chosen = { drills: new Set(app.deck.drills), isShuffled: false };
  const place = h("div", { class: "projector-place" });
  let leave = () => {};
  const start = () => {
    const show = slides(app, cardsFor(app, chosen), leaveScreen);
    leave = show.leave;
    refill(place, show.element);
    show.fit();
    show.element.focus();
  };
  const leaveScreen = () => app.go("home");
  refill(place, h("div", { class: "screen projector-set" },
    screenTop(app, words.title),
    h("p", { class: "quiet" }, words.about),
    ...choosing(app, chosen, start)));
  return { element: place, title: words.title, leave: () => leave() };
}

function choosing(app, chosen, start) {
  const words = WORDS.projector;
  const count = h("p", { class: "quiet", role: "status" });
  const go = button(words.start, start, { class: "main" });
  const tell = () => {
    const many = cardsFor(app, chosen).length;
    count.textContent = words.cards(many);
    go.disabled = many === 0;
  };
  const turn = (drill) => (isOn) => {
    chosen.drills[isOn ? "add" : "delete"](drill);
    tell();
  };
  tell();
  return [
    choices({
      legend: words.order,
      options: [{ value: false, text: words.asInDeck }, { value: true, text: words.shuffled }],
      value: false,
      onPick: (isShuffled) => (chosen.isShuffled = isShuffled),
    }),
    h("fieldset", { class: "drills" },
      h("legend", null, words.drills),
      app.deck.drills.map((drill) => tick({ text: drill, isOn: true, onTurn: turn(drill) }))),
    count,
    h("p", { class: "quiet small" }, words.keys),
    h("div", { class: "doing" }, go),
  ];
}

// Shuffled by the moment of the start: another time, another order.
function cardsFor(app, { drills, isShuffled }) {
  const cards = app.deck.cards.filter((card) => drills.has(card.drill));
  if (!isShuffled) return cards;
  const seed = app.now();
  return cards
    .map((card) => ({ card, place: chance(card.id, seed) }))
    .sort((one, other) => one.place - other.place)
    .map(({ card }) => card);
}

function slides(app, cards, onLeave) {
  const words = WORDS.projector;
  let at = 0;
  let isAnswered = false;
  const slide = h("div", { class: "slide" });
  const count = h("span", { class: "quiet count" });

  function show() {
    const card = cards[at];
    refill(slide, faceOf(app, isAnswered ? card.back : card.front));
    next.textContent = isAnswered ? words.next : words.answer;
    back.disabled = at === 0 && !isAnswered;
    next.disabled = at === cards.length - 1 && isAnswered;
    count.textContent = words.count(at + 1, cards.length);
    fit();
    announce(WORDS.shared.heard(wordsOf(slide)));
  }
  function forward() {
    if (!isAnswered) isAnswered = true;
    else if (at < cards.length - 1) [at, isAnswered] = [at + 1, false];
    else return;
    app.sound.hush();
    show();
  }
  function backward() {
    if (isAnswered) isAnswered = false;
    else if (at > 0) [at, isAnswered] = [at - 1, true];
    else return;
    app.sound.hush();
    show();
  }
  const hear = () => play(app.sound, cards[at], isAnswered);

  const back = button(words.back, backward);
  const next = button(words.answer, forward, { class: "main" });
  const stage = h("div", { class: "stage", onclick: forward }, slide);
  const fit = () => fitInto(stage);
  const element = h("div", { class: "projector", tabindex: "-1", role: "group", "aria-label": words.title },
    stage,
    h("div", { class: "strip" },
      back, next, count,
      button(words.sound, hear, { class: "aid" }),
      button(words.theme, turnTheme, { class: "aid" }),
      button(words.full, fullScreen, { class: "aid" }),
      button(words.leave, onLeave)));
  const letGo = onKeys({ forward, backward, hear });
  addEventListener("resize", fit);
  show();
  return {
    element,
    fit,
    leave() {
      letGo();
      removeEventListener("resize", fit);
      app.sound.hush();
      app.applySettings();
      if (document.fullscreenElement) document.exitFullscreen();
    },
  };
}

/** What stands on a slide, line by line, and its neck in words. */
function wordsOf(slide) {
  const neck = slide.querySelector(".neck-picture")?.getAttribute("aria-label");
  return [slide.querySelector(".said").innerText, neck].filter(Boolean).join("\n");
}

/** As large as can be, and smaller where a card has much to say; what is still too long can be scrolled. */
function fitInto(stage) {
  for (let part = 1; part > 0.5; part -= 0.05) {
    stage.style.setProperty("--fit", part.toFixed(2));
    if (stage.scrollHeight <= stage.clientHeight) return;
  }
}

/** Keys of a presenter's remote among them. @returns {() => void} stops listening */
function onKeys({ forward, backward, hear }) {
  const does = {
    " ": forward, Enter: forward, ArrowRight: forward, PageDown: forward,
    ArrowLeft: backward, PageUp: backward,
    s: hear, d: turnTheme, f: fullScreen,
  };
  const listen = (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    // A button that has the focus is pressed by these two itself.
    if ((event.key === " " || event.key === "Enter") && event.target.closest?.("button")) return;
    const act = does[event.key.length === 1 ? event.key.toLowerCase() : event.key];
    if (!act) return;
    event.preventDefault();
    act();
  };
  document.addEventListener("keydown", listen);
  return () => document.removeEventListener("keydown", listen);
}

function faceOf(app, face) {
  const head = faceHead(face);
  return [
    h("div", { class: "said" },
      head,
      faceLayers(face),
      face.ask && h(head ? "p" : "h1", { class: "ask" }, signed(face.ask)),
      faceLines(face, app.deck, app.settings)),
    face.picture && neckFigure(app, face.picture),
  ];
}

// Across, whatever the phone's setting: a wall is wide.
function neckFigure(app, picture) {
  const { instrument } = app.deck;
  return h("figure", { class: "neck" }, drawNeck(picture, instrument, {
    isLeftHanded: isLeftHanded(app.settings, instrument),
    direction: "across",
    label: neckWords(picture, instrument),
  }));
}

// Before the answer only what the card itself lets one hear; after it the voicing.
function play(sound, { drill, sound: { midi, rootMidi } }, isAnswered) {
  if (isAnswered) sound.chord(midi);
  else if (drill === "hear") sound.rootThenChord(rootMidi, midi);
  else if (rootMidi !== null) sound.chord([rootMidi]);
}

function turnTheme() {
  const { dataset } = document.documentElement;
  dataset.theme = dataset.theme === "dark" ? "light" : "dark";
}

function fullScreen() {
  if (document.fullscreenElement) document.exitFullscreen();
  else document.documentElement.requestFullscreen?.().catch(() => {});
}
