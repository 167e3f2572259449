// The phone's one database. Whatever is read back from it is input: any script of the origin can write there.
import { openDB } from "idb";

/**
 * `unsent`: here and nowhere else; `waits`: the server keeps it until its card comes; `there`: a fetch brought
 * it back; `dropped`: was there and is missing from a later complete fetch; `refused`: with the reason.
 * @typedef {"unsent" | "waits" | "there" | "dropped" | "refused"} EntryState
 * @typedef {{name: string, log: string, kid: string, number: number, subject: string, jws: string,
 *   state: EntryState, round: number, reason?: string}} EntryRow
 * @typedef {{kid: string, log: string, number: number, name: string}} HeadRow
 * @typedef {{jws: string, kid: string}} CardRow
 * @typedef {{kid: string, pair: CryptoKeyPair, jwk: JsonWebKey, card: string | null, unitKey: JsonWebKey | null,
 *   code: string | null}} KeyRow
 * @typedef {{log: string, cursor: string | null, round: number, complete: boolean}} CursorRow
 * @typedef {{sha256: string, type: string, bytes: ArrayBuffer, state: "unsent" | "there"}} FileRow
 * @typedef {{id: string, definition: Record<string, unknown>, tag: string | null}} ShowRow
 * @typedef {{key: string, value: unknown}} SettingRow
 * @typedef {"entries" | "heads" | "cards" | "keys" | "cursors" | "files" | "shows" | "settings"} StoreName
 */

/**
 * @typedef {object} Schema
 * @property {{key: string, value: EntryRow, indexes: {log: string, state: string}}} entries
 * @property {{key: [string, string], value: HeadRow}} heads
 * @property {{key: string, value: CardRow, indexes: {kid: string}}} cards
 * @property {{key: string, value: KeyRow}} keys
 * @property {{key: string, value: CursorRow}} cursors
 * @property {{key: string, value: FileRow, indexes: {state: string}}} files
 * @property {{key: string, value: ShowRow}} shows
 * @property {{key: string, value: SettingRow}} settings
 */

/** @typedef {import("idb").IDBPDatabase<Schema>} Database */
/** @typedef {import("idb").IDBPTransaction<Schema, StoreName[], "readwrite">} Writing */
/** @typedef {import("idb").IDBPTransaction<Schema, StoreName[], "readonly">} Reading */

const NAME = "handline";
const VERSION = 1;
const OPEN_WITHIN_MS = 8000;

/** Something about the phone's storage that the person must know; the message is for the screen. */
export class StoreTrouble extends Error {}

/** @type {Promise<Database> | null} */
let opening = null;

/** @param {Database} db */
function upgrade(db) {
  const entries = db.createObjectStore("entries", { keyPath: "name" });
  entries.createIndex("log", "log");
  entries.createIndex("state", "state");
  db.createObjectStore("heads", { keyPath: ["kid", "log"] });
  db.createObjectStore("cards", { keyPath: "jws" }).createIndex("kid", "kid");
  db.createObjectStore("keys", { keyPath: "kid" });
  db.createObjectStore("cursors", { keyPath: "log" });
  db.createObjectStore("files", { keyPath: "sha256" }).createIndex("state", "state");
  db.createObjectStore("shows", { keyPath: "id" });
  db.createObjectStore("settings", { keyPath: "key" });
}

/**
 * A new connection, which its taker closes; others use the tab's own through `read` and `change`.
 * @returns {Promise<Database>}
 * @throws {StoreTrouble} when another tab blocks it or the browser does not answer
 */
export async function connect() {
  /** @type {(reason: Error) => void} */
  let fail = () => {};
  const late = new Promise((_, reject) => {
    fail = reject;
  });
  const deadline = setTimeout(
    () =>
      fail(
        new StoreTrouble("This browser's storage does not answer. Close the app wholly and open it again."),
      ),
    OPEN_WITHIN_MS,
  );
  const opened = openDB(NAME, VERSION, {
    upgrade,
    blocked: () =>
      fail(
        new StoreTrouble("An older Handline is open in another tab. Close that tab, then open this again."),
      ),
    blocking: (_from, _to, event) => {
      /** @type {IDBDatabase} */ (event.target).close();
      opening = null;
    },
    terminated: () => {
      opening = null;
    },
  });
  try {
    return /** @type {Database} */ (await Promise.race([opened, late]));
  } finally {
    clearTimeout(deadline);
  }
}

function connection() {
  opening ??= connect().catch((error) => {
    opening = null;
    throw error;
  });
  return opening;
}

/** Whether the browser took the connection away, as phones do with what is in the background. @param {unknown} error */
function isClosed(error) {
  return (
    error instanceof DOMException && (error.name === "InvalidStateError" || error.name === "UnknownError")
  );
}

/** The error in words where the phone is full; browsers say so by an abort, with or without a reason. @param {unknown} error */
function inWords(error) {
  const full = error instanceof DOMException && ["QuotaExceededError", "AbortError"].includes(error.name);
  if (!full) return error;
  return new StoreTrouble(
    "This phone would not keep it: its storage is full. Nothing was written. Free some space, then do it again.",
  );
}

/**
 * @template T
 * @param {IDBTransactionMode} mode
 * @param {StoreName[]} stores
 * @param {(tx: any) => Promise<T>} work must await nothing but this transaction's own requests
 * @returns {Promise<T>}
 */
async function once(mode, stores, work) {
  const db = await connection();
  const tx = db.transaction(stores, mode, { durability: "strict" });
  const done = tx.done.catch((error) => {
    throw tx.error ?? error;
  });
  done.catch(() => {}); // told below; this only keeps the browser from telling it a second time
  /** @type {T} */
  let result;
  try {
    result = await work(tx);
  } catch (error) {
    try {
      tx.abort();
    } catch {
      await done; // it was over already: why it was aborted says more than what failed after it
    }
    throw error;
  }
  await done;
  return result;
}

/**
 * @template T
 * @param {IDBTransactionMode} mode
 * @param {StoreName[]} stores
 * @param {(tx: any) => Promise<T>} work
 */
async function transact(mode, stores, work) {
  try {
    return await once(mode, stores, work);
  } catch (error) {
    if (!isClosed(error)) throw inWords(error);
    opening = null;
  }
  try {
    return await once(mode, stores, work);
  } catch (error) {
    if (!isClosed(error)) throw inWords(error);
    throw new StoreTrouble(
      "The browser closed this phone's storage. Nothing was written. Open the app again.",
    );
  }
}

/**
 * Reads in one transaction.
 * @template T
 * @param {StoreName[]} stores
 * @param {(tx: Reading) => Promise<T>} work must await nothing but this transaction's own requests
 */
export function read(stores, work) {
  return transact("readonly", stores, work);
}

/**
 * Writes in one transaction; when it resolves, the rows are on the phone's disk.
 * @template T
 * @param {StoreName[]} stores
 * @param {(tx: Writing) => Promise<T>} work must await nothing but this transaction's own requests
 */
export function change(stores, work) {
  return transact("readwrite", stores, work);
}

/** @param {string} key @returns {Promise<unknown>} */
export async function setting(key) {
  return (await read(["settings"], (tx) => tx.objectStore("settings").get(key)))?.value;
}

/** @param {string} key @param {unknown} value */
export async function keepSetting(key, value) {
  await change(["settings"], (tx) => tx.objectStore("settings").put({ key, value }));
}
