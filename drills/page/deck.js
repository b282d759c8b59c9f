// The packed deck, unpacked: what drills/pack/page_deck.py and page_rows.py write, as objects for the page.
//
// Pure. A card's faces, task, sound and names are read from their rows when they are first asked for, so a deck
// of ten thousand cards opens at once. Strings are counted from the lowest one, 0; frets run from the lowest
// string to the highest, null is not played; pitch classes are counted from C, 0.

/**
 * @typedef {"lower" | "middle" | "upper" | "single"} Role
 * @typedef {(number | null)[]} Frets
 *
 * @typedef {Object} Deck
 * @property {string} id
 * @property {string} title
 * @property {string[]} about paragraphs
 * @property {number} freshPerDay
 * @property {number} targetRecall 0 to 1
 * @property {Instrument} instrument
 * @property {string[]} plainNames the twelve notes in their plainest spelling, by pitch class
 * @property {string[]} keyNames the twelve keys as charts name them, by pitch class
 * @property {number[]} fourths the pitch classes by rising fourths from C
 * @property {string[]} drills
 * @property {Pads} pads
 * @property {{ title: string, detail: string }[]} voicings
 * @property {Card[]} cards in order of first appearance
 *
 * @typedef {Object} Instrument
 * @property {string[]} names of the open strings, lowest first
 * @property {number[]} midi what the open strings sound, capo and all
 * @property {number} frets the highest one, counted from the capo
 * @property {boolean} isLeftHanded
 *
 * @typedef {Object} Pads what answers are put together from
 * @property {{ text: string, pitchClass: number }[][]} notes sharps, naturals, flats, each from C to B
 * @property {{ semitones: number, texts: string[] }[]} degrees the twelve, from the root up
 * @property {string[]} qualities
 * @property {string[]} tensions
 * @property {string[]} structures
 * @property {{ text: string, structures: number[] }[]} structureGroups the structures by family
 * @property {string[]} inversions
 *
 * @typedef {Object} Face
 * @property {string} head
 * @property {string} headNote
 * @property {string} ask empty on an answer
 * @property {{ role: Role, text: string }[]} layers upper first
 * @property {(string | { notes: Note[][] })[]} lines one of them may be the notes, layers apart, low to high
 * @property {Picture | null} picture
 *
 * @typedef {{ name: string, midi: number }} Note
 *
 * @typedef {Object} Picture
 * @property {number} first the first fret shown; 1 shows the nut
 * @property {number} last the last fret shown
 * @property {number[]} muted strings
 * @property {Marker[]} markers in order of pitch
 *
 * @typedef {Object} Marker
 * @property {number} string
 * @property {number} fret
 * @property {0 | 1 | 2} layer lower, upper, middle
 * @property {string} text
 * @property {boolean} isRoot
 * @property {boolean} isAsked
 * @property {boolean} isDoubled
 *
 * @typedef {NeckTask | PartsTask | NotesTask | DegreesTask | ChoiceTask} Task
 *
 * @typedef {Object} NeckTask
 * @property {"neck"} kind
 * @property {"frets" | "pitches"} by one of `accepts` must be given, or what sounds like the first of them
 * @property {Frets[]} accepts the answer's own first
 * @property {number[]} strings those that the question says, or none
 * @property {Frets | null} start what lies there and may be moved
 * @property {number[]} fixed strings whose note at the start stays
 *
 * @typedef {Object} PartsTask
 * @property {"parts"} kind
 * @property {number} rootSaid pitch class
 * @property {Reading[]} readings every right name of the chord, the card's own first; empty: not asked
 * @property {LayerParts[]} layers those to be named
 * @property {Degree[]} degrees those to be told
 *
 * @typedef {Object} Reading right with its root, its quality, and tensions that are all it needs, and at most
 *   those that it allows besides
 * @property {number} root pitch class
 * @property {string} text
 * @property {number} quality place in pads.qualities
 * @property {number[]} needs places in pads.tensions
 * @property {number[]} allows places in pads.tensions
 *
 * @typedef {Object} LayerParts
 * @property {Role} role
 * @property {number} root pitch class
 * @property {number[]} otherRoots right as well, where the layer divides the octave evenly
 * @property {number} structure place in pads.structures
 * @property {number | null} inversion place in pads.inversions; null: not asked
 * @property {string} text
 *
 * @typedef {{ name: string, semitones: number, text: string }} Degree
 * @typedef {{ kind: "notes", midi: number[], names: string[] }} NotesTask
 * @typedef {{ kind: "degrees", asked: Degree[] }} DegreesTask
 * @typedef {{ kind: "choice", options: string[], right: number }} ChoiceTask
 */

const KIND = "layered-voicing drills";
const FORMAT = 2;
const ROLES = Object.freeze(["lower", "middle", "upper", "single"]);
const ID_LENGTH = 12;

/**
 * @param {string} packed the JSON text
 * @returns {Deck}
 * @throws {Error} with `code`: "foreign", it is no deck of ours; "newer", it was written for a later page
 */
export function unpack(packed) {
  const { kind, format, tables, keys, voicings, ids, cards, ...whole } = parsed(packed);
  const keyed = keys.map(([text, pitchClass]) => ({ text, pitchClass }));
  const columns = Object.fromEntries(Object.entries(cards).map(([name, steps]) => [name, summed(steps)]));
  const inOrder = new Array(columns.turn.length);
  columns.turn.forEach((turn, row) => {
    const id = ids.slice(ID_LENGTH * row, ID_LENGTH * (row + 1));
    const drill = whole.drills[columns.drill[row]];
    inOrder[turn] = new Card(id, drill, keyed[columns.key[row]], { columns, row, tables });
  });
  const told = voicings.map(([title, detail]) => ({ title, detail }));
  return { ...whole, voicings: told, cards: inOrder };
}

function parsed(packed) {
  let whole = null;
  try {
    whole = JSON.parse(packed);
  } catch {
    throw fault("foreign", "this is no JSON");
  }
  if (whole?.kind !== KIND) throw fault("foreign", "this is no deck of layered voicings");
  if (!(whole.format <= FORMAT)) throw fault("newer", `deck format ${whole.format}, the page's is ${FORMAT}`);
  return whole;
}

function fault(code, words) {
  return Object.assign(new Error(words), { code });
}

/** A column as its values: the first one, then the steps from each to the next. */
function summed(steps) {
  const values = new Int32Array(steps.length);
  let value = 0;
  for (let row = 0; row < steps.length; row += 1) values[row] = value += steps[row];
  return values;
}

/** One drill on one voicing in one key. */
class Card {
  #place;
  #read = {};

  constructor(id, drill, key, place) {
    /** @type {string} twelve characters; the same card has them in every deck */
    this.id = id;
    /** @type {string} */
    this.drill = drill;
    /** @type {{ text: string, pitchClass: number }} */
    this.key = key;
    /** @type {number} place in deck.voicings */
    this.voicing = place.columns.voicing[place.row];
    /** @type {boolean} it asks about one layer by itself */
    this.isLayer = place.columns.isLayer[place.row] === 1;
    this.#place = place;
  }

  /** @type {Face} */
  get front() {
    return (this.#read.front ??= this.#face("front", "frontTold"));
  }

  /** @type {Face} */
  get back() {
    return (this.#read.back ??= this.#face("back", "backTold"));
  }

  /** @type {Task | null} null: the student judges */
  get task() {
    if (this.#at("task") === 0) return null;
    return (this.#read.task ??= task(this.#reader("tasks", this.#at("task") - 1)));
  }

  /** @type {{ midi: number[], rootMidi: number | null }} what the answer sounds, and a root to hear before it */
  get sound() {
    return (this.#read.sound ??= this.#sound());
  }

  /** @type {{ notes: string[], degrees: string[] }} what each pitch class is called over the answer's root */
  get names() {
    return (this.#read.names ??= names(this.#reader("names", this.#at("names"))));
  }

  #at(column) {
    return this.#place.columns[column][this.#place.row];
  }

  #reader(table, place) {
    return new Reader(this.#place.tables, table, place);
  }

  #sound() {
    return { midi: chord(this.#place.tables, this.#at("chord")), rootMidi: this.#at("rootMidi") || null };
  }

  #face(shared, told) {
    const first = this.#reader("told", this.#at(told)).texts();
    return face(this.#reader("faces", this.#at(shared)), first);
  }
}

/** Reads a row of a table from left to right. */
class Reader {
  constructor(tables, table, place) {
    this.tables = tables;
    this.row = rowOf(tables, table, place);
    this.at = 0;
  }

  number() {
    return this.row[this.at++];
  }

  /** So many of them as the next number says. */
  many(read) {
    return Array.from({ length: this.number() }, read);
  }

  sign() {
    return this.tables.signs[this.number()];
  }

  /** The text of a pattern, each `~` of it made a sign. */
  text(place = this.number()) {
    const [start, ...rest] = this.tables.patterns[place - 1].split("~");
    return rest.reduce((text, part) => text + this.sign() + part, start);
  }

  texts() {
    return this.many(() => this.text());
  }

  frets(place = this.number()) {
    return Array.from(this.tables.frets[place], (digit) => (digit === "." ? null : parseInt(digit, 36)));
  }

  strings() {
    return stringsOf(this.number());
  }
}

/** A row of a table, which is a text until a row of it is asked for, as each row is. */
function rowOf(tables, table, place) {
  if (typeof tables[table] === "string") tables[table] = tables[table].split(";");
  const rows = tables[table];
  if (typeof rows[place] === "string") rows[place] = rows[place].split(",").map(Number);
  return rows[place];
}

function stringsOf(mask) {
  const upToLast = Array.from({ length: 32 - Math.clz32(mask) }, (_, string) => string);
  return upToLast.filter((string) => (mask >> string) & 1);
}

function chord(tables, place) {
  const [heights, lowest] = rowOf(tables, "chords", place);
  return rowOf(tables, "heights", heights).map((height) => lowest + height);
}

function names(reader) {
  const spelling = new Reader(reader.tables, "spellings", reader.number());
  const functions = new Reader(reader.tables, "functions", reader.number());
  const root = reader.number();
  const fromRoot = Array.from({ length: 12 }, () => functions.text());
  return {
    notes: fromRoot.map(() => spelling.sign()),
    degrees: fromRoot.map((_, pitchClass) => fromRoot[(pitchClass - root + 12) % 12]),
  };
}

function face(reader, first) {
  return {
    head: reader.text(),
    headNote: reader.text(),
    ask: reader.text(),
    layers: reader.many(() => ({ role: ROLES[reader.number()], text: reader.text() })),
    lines: [...first, ...reader.many(() => line(reader))],
    picture: picture(reader.tables, reader.number() - 1),
  };
}

function line(reader) {
  const pattern = reader.number();
  if (pattern > 0) return reader.text(pattern);
  const midi = chord(reader.tables, reader.number())[Symbol.iterator]();
  const sizes = reader.many(() => reader.number());
  return { notes: sizes.map((size) => Array.from({ length: size }, () => note(reader.sign(), midi))) };
}

const note = (name, midi) => ({ name, midi: midi.next().value });

function picture(tables, place) {
  if (place < 0) return null;
  const reader = new Reader(tables, "pictures", place);
  const sketch = new Reader(tables, "sketches", reader.number());
  const frets = reader.frets();
  return {
    first: reader.number(),
    last: reader.number(),
    muted: sketch.strings(),
    markers: sketch.many(() => marker(sketch, frets)),
  };
}

function marker(sketch, frets) {
  const [string, layer, flags] = [sketch.number(), sketch.number(), sketch.number()];
  const [isRoot, isAsked, isDoubled] = [1, 2, 4].map((flag) => (flags & flag) > 0);
  return { string, fret: frets[string], layer, text: sketch.text(), isRoot, isAsked, isDoubled };
}

const TASKS = Object.freeze([neckTask, partsTask, notesTask, degreesTask, choiceTask]);

function task(reader) {
  return TASKS[reader.number()](reader);
}

function neckTask(reader) {
  const by = reader.number() === 1 ? "pitches" : "frets";
  const accepts = reader.many(() => reader.frets());
  const strings = reader.strings();
  const place = reader.number();
  const start = place > 0 ? reader.frets(place - 1) : null;
  return { kind: "neck", by, accepts, strings, start, fixed: reader.strings() };
}

function partsTask(reader) {
  return {
    kind: "parts",
    rootSaid: reader.number(),
    readings: reader.many(() => reading(reader)),
    layers: reader.many(() => layerParts(reader)),
    degrees: reader.many(() => degree(reader)),
  };
}

function reading(reader) {
  const root = reader.number();
  const way = new Reader(reader.tables, "ways", reader.number());
  return {
    root,
    text: reader.text(),
    quality: way.number(),
    needs: way.many(() => way.number()),
    allows: way.many(() => way.number()),
  };
}

function layerParts(reader) {
  return {
    role: ROLES[reader.number()],
    root: reader.number(),
    otherRoots: reader.many(() => reader.number()),
    structure: reader.number(),
    inversion: [null, 0, 1, 2, 3][reader.number()],
    text: reader.text(),
  };
}

function degree(reader) {
  return { name: reader.sign(), semitones: reader.number(), text: reader.text() };
}

function notesTask(reader) {
  const midi = chord(reader.tables, reader.number());
  return { kind: "notes", midi, names: midi.map(() => reader.sign()) };
}

function degreesTask(reader) {
  return { kind: "degrees", asked: reader.many(() => degree(reader)) };
}

function choiceTask(reader) {
  const right = reader.number();
  return { kind: "choice", options: reader.texts(), right };
}
