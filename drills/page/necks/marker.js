// One marker as SVG. The layer's shape carries the meaning, its colour repeats it; a root wears a ring, a
// doubled note an echo of its outline. The asked note has neither, as they would answer for it.

import { svg } from "../dom.js";
import { hundredths } from "./geometry.js";
import { echo, outline, roomFor } from "./outline.js";

/** Layers by the number that markers carry. */
export const LAYERS = Object.freeze(["lower", "upper", "middle"]);

// Shares of a marker's radius, as in the cards' pictures.
const RING_BEYOND = 0.09;
const RING = 0.136;
const GAP = 0.121;
const ECHO = 0.303;
const ASKED = 0.227;
const MARGIN = 0.1;

// Widths of bold glyphs in sizes of the font, a little narrow: a text is set to the width that these add up
// to.
const WIDTHS_EM = { "♭": 0.47, "♯": 0.58, "𝄫": 0.72, "𝄪": 0.56, "?": 0.55 };
const LETTER_EM = 0.66;
const DIGIT_EM = 0.58;
const CAP_EM = 0.72;

/** Few phones have a font with these two signs. */
const COMMON_SIGNS = { "𝄫": "♭♭", "𝄪": "×" };

/**
 * A marker of the picture.
 *
 * @param {import("../deck.js").Picture["markers"][number]} marker
 * @param {[number, number]} place
 * @param {number} radius
 * @param {boolean} isLeftHanded an echo stands out away from the nut
 * @returns {SVGElement}
 */
export function drawMarker(marker, place, radius, isLeftHanded) {
  const parts = marker.isAsked ? asked(marker.layer, radius) : told(marker, radius, isLeftHanded ? -1 : 1);
  return at(place, `marker ${LAYERS[marker.layer]}`, parts);
}

/** A marker to start from, not to answer with: an outline, its text so small that a disc inside holds it. */
export function drawGhost({ layer, text }, place, radius) {
  return at(place, `ghost ${LAYERS[layer]}`, [
    polygon("body", outline(layer, radius)),
    text && lettering(text, 0, radius * 0.76),
  ]);
}

/** A dashed ring where a wrong note was given; the text says what it was. */
export function drawWrong({ fret, text }, place, radius) {
  return at(place, fret === 0 ? "wrong open" : "wrong", [
    svg("circle", { r: hundredths(radius * 0.94) }),
    text && lettering(text, 0, radius * 0.78),
  ]);
}

function asked(layer, radius) {
  const inner = radius * (1 - ASKED);
  return [
    polygon("body", outline(layer, radius)),
    polygon("hollow", outline(layer, inner)),
    lettering("?", layer, inner),
  ];
}

function told({ layer, text, isRoot, isDoubled }, radius, side) {
  const outer = isRoot ? radius * (1 + RING_BEYOND) : radius;
  const body = isRoot ? outer - radius * (RING + GAP) : radius;
  return [
    isDoubled && polygon(isRoot ? "ring" : "body", echo(layer, outer, radius * GAP, radius * ECHO * side)),
    isRoot && polygon("ring", outline(layer, outer)),
    isRoot && polygon("hollow", outline(layer, outer - radius * RING)),
    polygon("body", outline(layer, body)),
    text && lettering(text, layer, body - radius * MARGIN),
  ];
}

function lettering(text, layer, radius) {
  const signs = [...text];
  const widthEm = signs.reduce((sum, sign) => sum + widthOf(sign), 0);
  const { size, rise } = roomFor(layer, radius, widthEm, CAP_EM);
  const textLength = hundredths(widthEm * size);
  const set = signs.length > 1 && { textLength, lengthAdjust: "spacingAndGlyphs" };
  return svg("text", { "font-size": hundredths(size), y: hundredths((CAP_EM * size) / 2 - rise), ...set },
    signs.map((sign) => COMMON_SIGNS[sign] ?? sign).join(""));
}

function widthOf(sign) {
  return WIDTHS_EM[sign] ?? (sign >= "0" && sign <= "9" ? DIGIT_EM : LETTER_EM);
}

function at([x, y], name, parts) {
  return svg("g", { class: name, transform: `translate(${hundredths(x)} ${hundredths(y)})` }, parts);
}

function polygon(name, corners) {
  return svg("polygon", { class: name, points: corners.map((corner) => corner.map(hundredths)).join(" ") });
}
