// Where things are on a drawn neck, whichever way it lies and whichever hand frets it.
//
// Places are counted in two ways that turning and mirroring leave alone: `along` the neck from the nut's side
// of the picture, and `over` from the lowest sounding string towards the highest. One unit is a pixel of a
// phone 390 wide.

/**
 * @typedef {Object} Sizes
 * @property {number} gap from string to string
 * @property {number} board along: where the first fret of the window begins
 * @property {number} names along: the middle of the strings' names
 * @property {number} open along: the middle of the column of open strings
 * @property {number} widest the most that a fret takes
 * @property {number} room what all frets of the window take at most
 * @property {number} tail along: what is left of the neck beyond the last fret
 * @property {number} above over: from the highest string to the edge of the picture
 * @property {number} woodAbove over: from the highest string to the end of the wood
 * @property {number} woodBelow over: from the lowest string down to the end of the wood
 * @property {number} dots over: from there to the side dots
 * @property {number} numbers over: from there to the fret numbers
 * @property {number} below over: from there to the edge of the picture
 * @property {number} radius the most that a marker's may be
 */

const HEAD = { names: 12, open: 42, board: 67, tail: 6, radius: 16.5 };
const LYING = { ...HEAD, gap: 38, widest: Infinity, room: 317, above: 22 };
const UPRIGHT = { ...HEAD, gap: 46, widest: 54, room: 440, above: 26 };
const BELOW = { woodAbove: 20, woodBelow: 27, dots: 23.5, numbers: 41, below: 54 };

/** Of a neck to be looked at. @type {{ across: Sizes, down: Sizes }} */
const STILL = { across: { ...LYING, ...BELOW }, down: { ...UPRIGHT, ...BELOW } };

const FINGER = {
  board: 0, names: 0, open: -23, tail: 12, radius: 17, gap: 44, room: Infinity,
  above: 22, woodAbove: 22, woodBelow: 22, dots: 28,
};

/** Of a neck to be tapped on: every place has room for a finger, and open strings stand beside the board. */
const TAPPED = {
  across: { ...FINGER, widest: 50, numbers: 43, below: 56 },
  down: { ...FINGER, widest: 48, numbers: 42, below: 54 },
};

const BETWEEN = 2.2;
const DOT_PAIR = 3.6;
const DOTTED = new Set([3, 5, 7, 9, 15, 17, 19, 21]);
const DOUBLE_DOTTED = new Set([12, 24]);

/** Half the swing of the edge where a neck is cut off. */
export const WAVE = 2;

/** As exact as a screen shows it. */
export const hundredths = (number) => Math.round(number * 100) / 100;

/**
 * The places of a neck to be looked at.
 *
 * @param {{ strings: number, first: number, last: number, isLeftHanded: boolean,
 *   direction: "across" | "down" }} shape
 */
export function stillPlaces(shape) {
  return places(STILL[shape.direction], shape);
}

/** The places of a whole neck to be tapped on; see `stillPlaces`. */
export function tapPlaces(shape) {
  return places(TAPPED[shape.direction], { ...shape, first: 1 });
}

function places(sizes, { strings, first, last, isLeftHanded, direction }) {
  const isAcross = direction === "across";
  const highest = sizes.gap * (strings - 1);
  const fretWidth = Math.min(sizes.widest, sizes.room / (last - first + 1));
  const length = sizes.board + fretWidth * (last - first + 1) + sizes.tail;
  const thickness = sizes.above + highest + sizes.below;
  const [width, height] = isAcross ? [length, thickness] : [thickness, length];

  const mirrored = (x) => (isLeftHanded ? width - x : x);
  const point = isAcross
    ? (along, over) => [mirrored(along), sizes.above + highest - over]
    : (along, over) => [mirrored(sizes.below + over), along];
  const wire = (fret) => sizes.board + fretWidth * (fret - first + 1);
  const middle = (fret) => (fret === 0 ? sizes.open : wire(fret) - fretWidth / 2);

  return {
    ...sizes, isAcross, isLeftHanded, first, last, strings, fretWidth, length, width, height, point,
    hasNut: first === 1,
    /** How far a marker reaches; neighbours touch neither on the next string nor at the next fret. */
    radius: Math.min(sizes.radius, (fretWidth - BETWEEN) / 2),
    woodFrom: -sizes.woodBelow,
    woodTo: highest + sizes.woodAbove,
    /** Along: the wire that ends a fret; one less than the first gives the edge of the board. */
    wire,
    over: (string) => sizes.gap * string,
    name: (string) => point(sizes.names, sizes.gap * string),
    note: (string, fret) => point(middle(fret), sizes.gap * string),
    number: (fret) => point(middle(fret), -sizes.numbers),
    dots: (fret) => dotsAlong(fret).map((aside) => point(middle(fret) + aside, -sizes.dots)),
    /** How far the edge of a cut neck swings; it rests where a string ends. */
    wave: (over) => -WAVE * Math.sin((2 * Math.PI * over) / sizes.gap),
  };
}

function dotsAlong(fret) {
  if (DOUBLE_DOTTED.has(fret)) return [-DOT_PAIR, DOT_PAIR];
  return DOTTED.has(fret) ? [0] : [];
}
