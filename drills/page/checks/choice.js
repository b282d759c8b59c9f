// One of a few: which was heard.

/**
 * @param {{ options: string[], right: number }} task
 * @param {number} given place in the options
 * @returns {import("./check.js").Result} finding `choice`: given and asked as texts
 */
export function checkChoice(task, given) {
  if (given === task.right) return { isRight: true, findings: [] };
  const [told, asked] = [task.options[given], task.options[task.right]];
  return { isRight: false, findings: [{ kind: "choice", given: told, asked }] };
}
