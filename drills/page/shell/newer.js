// A newer deck: the folder's service worker has fetched it and waits until the student takes it.

/**
 * Registers the worker and watches for a newer one. Only a page that came from a host has one.
 *
 * @param {(take: () => void) => void} onNewer called when a newer deck is ready; `take` goes over to it
 */
export function watchForNewer(onNewer) {
  const workers = navigator.serviceWorker;
  if (!workers || document.getElementById("deck")) return;
  let isTaken = false;
  workers.addEventListener("controllerchange", () => {
    if (isTaken) location.reload();
  });
  const offer = (worker) => onNewer(() => {
    // Another tab may have gone over to it meanwhile, and this one's files with it.
    if (worker.state !== "installed") return location.reload();
    isTaken = true;
    worker.postMessage({ type: "take-over" });
  });
  workers.register("./service-worker.js").then((registration) => watch(registration, offer), () => {
    // No worker on this host, or none allowed: the page works as long as there is a network.
  });
}

function watch(registration, offer) {
  const offerOnceFetched = (worker) => {
    if (!worker || !navigator.serviceWorker.controller) return;
    if (worker.state === "installed") offer(worker);
    else worker.addEventListener("statechange", () => worker.state === "installed" && offer(worker));
  };
  // The browser looks for a newer one as soon as the page loads: it may have been found before anybody listens.
  offerOnceFetched(registration.waiting);
  offerOnceFetched(registration.installing);
  registration.addEventListener("updatefound", () => offerOnceFetched(registration.installing));
  // A page on the home screen may stay open for days without being loaded.
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") registration.update().catch(() => {}); // no network: later
  });
}
