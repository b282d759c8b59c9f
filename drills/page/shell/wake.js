// Keeps the screen lit while nobody touches it, where the browser can do that.

/** @returns {() => void} lets the screen sleep again */
export function keepAwake() {
  let lock = null;
  let isOver = false;
  const ask = async () => {
    if (document.hidden || isOver) return;
    try {
      lock = await navigator.wakeLock.request("screen");
      if (isOver) lock.release();
    } catch {
      // Not offered, or refused to save the battery: the screen sleeps when the phone says so.
    }
  };
  // The browser takes the lock back whenever the page is hidden.
  document.addEventListener("visibilitychange", ask);
  ask();
  return () => {
    isOver = true;
    document.removeEventListener("visibilitychange", ask);
    lock?.release();
  };
}
