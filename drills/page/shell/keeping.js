// How well progress is kept here: the home screen, the browser's promise, and a file now and then.

const WEEK_MS = 7 * 86_400_000;

/** Whether the page was opened from the home screen. */
export function isInstalled() {
  return matchMedia("(display-mode: standalone)").matches || navigator.standalone === true;
}

/**
 * Keeps the browser's offer to put the page on the home screen until the student takes it.
 *
 * @param {(install: (() => void) | null) => void} onOffer called with null when the offer is gone
 */
export function watchForInstall(onOffer) {
  addEventListener("beforeinstallprompt", (event) => {
    event.preventDefault();
    onOffer(() => {
      onOffer(null);
      event.prompt();
    });
  });
  addEventListener("appinstalled", () => onOffer(null));
}

/**
 * Whether it is time to save a progress file: a week after the last one, or after the first card, where
 * neither the browser's promise nor the home screen keeps progress.
 *
 * @param {{ lastExport: number | null, memories: Map<string, { first: number }>, now: number }} given
 * @returns {Promise<boolean>}
 */
export async function isFileDue({ lastExport, memories, now }) {
  if (memories.size === 0 || isInstalled()) return false;
  const firsts = [...memories.values()].map(({ first }) => first);
  // A file saved in the days to come was saved by a clock that was wrong.
  const isDated = lastExport !== null && lastExport <= now;
  const since = isDated ? lastExport : firsts.reduce((earliest, first) => Math.min(earliest, first), now);
  return now - since >= WEEK_MS && !(await isPromised());
}

/** Whether the browser has promised to keep what the page stores. */
async function isPromised() {
  try {
    return await navigator.storage.persisted();
  } catch {
    return false;
  }
}
