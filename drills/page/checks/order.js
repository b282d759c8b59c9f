// The right notes, but not in the order in which they stand from low to high.

/** Whether the same pitch classes, as often, come in another order. */
export function isReordered(heard, asked) {
  const sorted = (pitchClasses) => String([...pitchClasses].sort((one, other) => one - other));
  return String(heard) !== String(asked) && sorted(heard) === sorted(asked);
}

/** Finding `order`: asked, the pitch classes from low to high. */
export const orderOff = (asked) => ({ kind: "order", asked });
