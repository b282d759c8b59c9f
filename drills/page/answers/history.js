// What was, step by step, so that the last step can be taken back.

/**
 * @template State
 * @param {State} start never changed, like every later state
 * @returns {{ now(): State, set(state: State): void, replace(state: State): void, undo(): void,
 *   clear(): void, canUndo(): boolean }} `set` is a step, `replace` is none
 */
export function makeHistory(start) {
  const states = [start];
  const set = (state) => states.push(state);
  return {
    now: () => states.at(-1),
    set,
    replace: (state) => (states[states.length - 1] = state),
    undo: () => states.length > 1 && states.pop(),
    clear: () => states.length > 1 && set(start),
    canUndo: () => states.length > 1,
  };
}
