// The notes of a grip while it is put together: one a string, every change can be taken back. No DOM.

/** @typedef {(number | null)[]} Frets by string, the lowest sounding first; 0 is open, null not played */

/**
 * @param {Frets} start the notes that are there at first
 * @param {number[]} fixed strings whose first note stays
 */
export function heldFrets(start, fixed) {
  let now = [...start];
  const past = [];
  function become(next) {
    past.push(now);
    now = next;
  }
  return {
    /** @returns {Frets} */
    frets: () => [...now],
    /** Puts a string's note on a fret, or with null off it; says whether that changed anything. */
    put(string, fret) {
      if (fixed.includes(string) || now[string] === fret) return false;
      become(now.map((old, each) => (each === string ? fret : old)));
      return true;
    },
    canUndo: () => past.length > 0,
    undo() {
      if (past.length > 0) now = past.pop();
    },
    /** Back to the start; this can be taken back too. */
    clear() {
      if (now.some((fret, string) => fret !== start[string])) become([...start]);
    },
    isChanged: () => now.some((fret, string) => fret !== start[string]),
  };
}
