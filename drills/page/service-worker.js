/* layered-voicing drills. Keeps one version of one quiz folder on the phone, so that it opens without a network. */
"use strict";

const VERSION = "@version@";

/** Every file of this version beside its digest. @type {[string, string][]} */
const FILES = "@files@";

// The folder's address is in the name: quizzes on one site leave each other's caches alone.
const OURS = `drills ${self.registration.scope} `;
const CACHE = OURS + VERSION;

const HOME = self.registration.scope;

// All files or none are kept, and a host that is just being filled gives none: each has to have its digest.
self.addEventListener("install", (event) => {
  const requests = FILES.map(([name, integrity]) => new Request(name, { cache: "reload", integrity }));
  event.waitUntil(caches.open(CACHE).then((cache) => cache.addAll(requests)));
});

// A newer version waits until the student takes it, so that no page ever gets files of two.
self.addEventListener("message", (event) => {
  if (event.data?.type === "take-over") self.skipWaiting();
});

self.addEventListener("activate", (event) => {
  event.waitUntil(dropOthers().then(() => self.clients.claim()));
});

async function dropOthers() {
  const names = await caches.keys();
  const others = names.filter((name) => name.startsWith(OURS) && name !== CACHE);
  await Promise.all(others.map((name) => caches.delete(name)));
}

self.addEventListener("fetch", (event) => {
  if (event.request.method === "GET" && event.request.url.startsWith(HOME)) {
    event.respondWith(answer(event.request));
  }
});

async function answer(request) {
  const address = request.url.replace(/[?#].*$/, "");
  const cache = await caches.open(CACHE);
  const kept = await cache.match(address === `${HOME}index.html` ? HOME : address, { ignoreVary: true });
  return kept ? asAsked(kept) : fetch(request);
}

// A host may lead on from "/" to "/index.html"; browsers open no page whose answer bears the mark of that.
const asAsked = (kept) => (kept.redirected ? new Response(kept.body, kept) : kept);
