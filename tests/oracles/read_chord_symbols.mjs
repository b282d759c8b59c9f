// Chord symbols as a JSON list on stdin; on stdout, for each library, a rising list of pitch classes or null.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { Chord, Note } from "tonal";

// chord-symbol's own sources do not load as modules; its built file does.
const { chordParserFactory } = createRequire(import.meta.url)("chord-symbol/lib/chord-symbol.js");
const parse = chordParserFactory();

const pitchClasses = (notes) =>
  notes?.length ? [...new Set(notes.map((note) => Note.chroma(note)))].sort((a, b) => a - b) : null;

const readers = {
  tonal: (symbol) => pitchClasses(Chord.get(symbol).notes),
  "chord-symbol": (symbol) => pitchClasses(parse(symbol).normalized?.notes),
};

const symbols = JSON.parse(readFileSync(0, "utf8"));
const answers = Object.fromEntries(
  Object.entries(readers).map(([name, read]) => [name, symbols.map(read)]),
);
process.stdout.write(JSON.stringify(answers));
