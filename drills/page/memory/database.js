// A place for values under keys, in a few named stores: the browser's IndexedDB, or the page's own memory
// where the browser refuses. Knows nothing of cards.

import { PageError } from "./journal.js";

/**
 * @typedef {[store: string, key: string]} Address
 * @typedef {[store: string, key: string, value: unknown]} Change undefined as the value takes out what is
 *   there
 *
 * @typedef {Object} Database
 * @property {(store: string) => Promise<[key: string, value: any][]>} entries all of a store, by key
 * @property {(store: string, key: string) => Promise<any>} get undefined where nothing is
 * @property {(addresses: Address[], decide: (values: any[]) => Change[]) => Promise<void>} change reads, and
 *   writes what `decide` makes of it, all in one transaction: whatever else goes on, either all of it is
 *   written or nothing
 * @property {() => void} close
 */

const NAME = "layered-voicing drills";

/** Patience is counted in so many turns: while the page was busy or asleep, no answer could be heard. */
const TURNS = 10;

/** What brings the database from version to version. Never change one: phones have been through it. */
const UPGRADES = Object.freeze([
  (database) => ["journal", "memories", "meta"].forEach((store) => database.createObjectStore(store)),
]);

/**
 * @param {{ indexedDB: IDBFactory | null | undefined, onClosed?: (isNewer: boolean) => void,
 *   patience_ms?: number }} given onClosed: it was closed by a page with a newer one (isNewer), or by the
 *   browser
 * @returns {Promise<Database>}
 * @throws {PageError} "refused", also when there is no answer within the patience; "newer-page" when a newer
 *   page has been at the database
 */
export function openDatabase({ indexedDB, onClosed = () => {}, patience_ms = 3000 }) {
  return new Promise((resolve, reject) => {
    let turns = TURNS;
    const refuse = (error) => {
      clearInterval(timer);
      reject(new PageError(error?.name === "VersionError" ? "newer-page" : "refused", String(error)));
    };
    const timer = setInterval(() => {
      turns -= 1;
      if (turns === 0) refuse(`no answer in ${patience_ms} ms`);
    }, patience_ms / TURNS);
    const request = opening(indexedDB, refuse);
    if (!request) return;
    request.onsuccess = () => {
      clearInterval(timer);
      if (turns === 0) request.result.close();
      else resolve(kept(request.result, onClosed));
    };
  });
}

function opening(indexedDB, refuse) {
  try {
    const request = indexedDB.open(NAME, UPGRADES.length);
    request.onupgradeneeded = ({ oldVersion }) =>
      UPGRADES.slice(oldVersion).forEach((upgrade) => upgrade(request.result));
    request.onerror = () => refuse(request.error);
    return request;
  } catch (error) {
    refuse(error);
    return null;
  }
}

/** @returns {Database} */
function kept(database, onClosed) {
  // A newer page waits until every older one has let go; so does whoever clears the site, who has no version.
  database.onversionchange = ({ newVersion }) => {
    database.close();
    onClosed(newVersion !== null);
  };
  database.onclose = () => onClosed(false);
  return {
    entries: (store) => entries(database, store),
    get: (store, key) => answer(database.transaction(store).objectStore(store).get(key)),
    change: (addresses, decide) => change(database, addresses, decide),
    close: () => database.close(),
  };
}

async function entries(database, store) {
  const values = database.transaction(store).objectStore(store);
  const [keys, all] = await Promise.all([answer(values.getAllKeys()), answer(values.getAll())]);
  return keys.map((key, nth) => [key, all[nth]]);
}

const answer = (request) =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });

function change(database, addresses, decide) {
  return new Promise((resolve, reject) => {
    const transaction = database.transaction([...database.objectStoreNames], "readwrite");
    let fault = null;
    transaction.oncomplete = () => resolve();
    transaction.onabort = () => reject(fault ?? transaction.error);
    const write = (values) => {
      try {
        for (const each of decide(values)) put(transaction, each);
      } catch (error) {
        fault = error;
        transaction.abort();
      }
    };
    readAll(transaction, addresses, write);
  });
}

/** By callbacks: in some browsers a transaction ends before a promise that waits for it goes on. */
function readAll(transaction, addresses, then) {
  const values = [];
  let open = addresses.length;
  if (open === 0) then(values);
  addresses.forEach(([store, key], nth) => {
    const request = transaction.objectStore(store).get(key);
    request.onsuccess = () => {
      values[nth] = request.result;
      open -= 1;
      if (open === 0) then(values);
    };
  });
}

function put(transaction, [store, key, value]) {
  const values = transaction.objectStore(store);
  if (value === undefined) values.delete(key);
  else values.put(value, key);
}

/** The same for as long as the page is open. @returns {Database} */
export function makeMemoryDatabase() {
  const stores = new Map();
  const inside = (store) => stores.get(store) ?? stores.set(store, new Map()).get(store);
  return {
    entries: async (store) => [...inside(store)],
    get: async (store, key) => inside(store).get(key),
    async change(addresses, decide) {
      for (const [store, key, value] of decide(addresses.map(([from, under]) => inside(from).get(under)))) {
        if (value === undefined) inside(store).delete(key);
        else inside(store).set(key, value);
      }
    },
    close() {},
  };
}
