// The outlines of the markers, the same as in the cards' pictures: disc, rounded square, plectrum. No DOM.
//
// An outline is a list of corners [x, y] of a convex shape, for a radius of 1 around (0, 0), y downwards.

const CURVE_STEPS = 12;

/** Outlines by layer: lower, upper, middle. @type {readonly [number, number][][]} */
export const OUTLINES = Object.freeze([disc(96), roundedSquare(0.94, 0.28), plectrum()]);

/** How far above the note a marker's text stands, in radii, by layer. */
const TEXT_RISES = Object.freeze([0, 0, 0.22]);

/** The outline of a layer's shape at a radius, moved sideways. */
export function outline(layer, radius, aside = 0) {
  return OUTLINES[layer].map(([x, y]) => [x * radius + aside, y * radius]);
}

/**
 * What a doubled note shows at its side: the outline once more, moved, less the marker and a gap around it.
 *
 * @param {number} layer
 * @param {number} radius of the echo
 * @param {number} gap between marker and echo
 * @param {number} aside how far the echo stands out: to the right, or to the left when negative
 */
export function echo(layer, radius, gap, aside) {
  const near = outline(layer, radius + gap);
  const far = outline(layer, radius, aside);
  const rim = run(far.map((corner) => !holds(near, corner)), far);
  const hollow = run(near.map((corner) => holds(far, corner)), near);
  return [...rim, ...hollow.reverse()];
}

/**
 * The largest text that a layer's shape of that radius has room for.
 *
 * @param {number} layer
 * @param {number} radius
 * @param {number} widthEm the text's width in sizes of its font
 * @param {number} capEm the height of its capitals in sizes of its font
 * @returns {{ size: number, rise: number }} the font's size; how far the text's middle stands above the note
 */
export function roomFor(layer, radius, widthEm, capEm) {
  const rise = TEXT_RISES[layer] * radius;
  const room = outline(layer, radius);
  const fits = (size) => {
    const [x, y] = [(widthEm * size) / 2, (capEm * size) / 2];
    return [[x, y - rise], [x, -y - rise]].every((corner) => holds(room, corner));
  };
  let size = radius * 1.22;
  while (size > 4 && !fits(size)) size -= 0.25;
  return { size, rise };
}

/** Whether a convex outline holds a point: it lies on the same side of all edges. */
function holds(corners, [x, y]) {
  const sides = corners.map(([x1, y1], index) => {
    const [x2, y2] = corners[(index + 1) % corners.length];
    return (x2 - x1) * (y - y1) - (y2 - y1) * (x - x1);
  });
  return Math.min(...sides) >= -1e-9 || Math.max(...sides) <= 1e-9;
}

/** The corners that are marked, from the first after one that is not: they follow each other around. */
function run(isMarked, corners) {
  const start = isMarked.findIndex((here, index) => here && !isMarked.at(index - 1));
  const around = [...corners.keys()].map((index) => (index + start) % corners.length);
  return around.filter((index) => isMarked[index]).map((index) => corners[index]);
}

function disc(steps) {
  return Array.from({ length: steps }, (_, step) => {
    const turn = (2 * Math.PI * step) / steps;
    return [Math.cos(turn), Math.sin(turn)];
  });
}

function roundedSquare(half, corner) {
  const middle = half - corner;
  const middles = [[middle, middle], [-middle, middle], [-middle, -middle], [middle, -middle]];
  return middles.flatMap(([x0, y0], quarter) =>
    Array.from({ length: 13 }, (_, step) => {
      const turn = (Math.PI / 2) * (quarter + step / 12);
      return [x0 + corner * Math.cos(turn), y0 + corner * Math.sin(turn)];
    }));
}

function plectrum() {
  const legs = [
    [[0.22, 1.06], [0.44, 0.9], [0.68, 0.56]],
    [[0.98, 0.14], [1.14, -0.2], [1.14, -0.46]],
    [[1.14, -0.86], [0.64, -0.97], [0, -0.97]],
    [[-0.64, -0.97], [-1.14, -0.86], [-1.14, -0.46]],
    [[-1.14, -0.2], [-0.98, 0.14], [-0.68, 0.56]],
    [[-0.44, 0.9], [-0.22, 1.06], [0, 1.06]],
  ];
  return curve([0, 1.06], legs);
}

/** The points of cubic Bézier curves, each leg two handles and an end. */
function curve(start, legs) {
  const points = [start];
  for (const [one, two, end] of legs) {
    const here = points.at(-1);
    for (let step = 1; step <= CURVE_STEPS; step += 1) {
      const t = step / CURVE_STEPS;
      const weights = [(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t ** 3];
      const corners = [here, one, two, end];
      const at = (axis) => corners.reduce((sum, corner, index) => sum + weights[index] * corner[axis], 0);
      points.push([at(0), at(1)]);
    }
  }
  return points;
}
