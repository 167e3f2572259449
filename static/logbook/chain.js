// This phone's place in a log: numbers an entry, signs it, and puts entry and head on disk together.
import { writeEntry } from "./entry.js";
import { sha256, unb64 } from "./jws.js";
import { change, read } from "./store.js";

/** @typedef {import("./store.js").EntryRow} EntryRow */
/** @typedef {import("./store.js").KeyRow} KeyRow */

const TRIES = 50;

/** Name of an entry: the SHA-256 of its signing input. @param {string} jws */
export function nameOf(jws) {
  return sha256(new TextEncoder().encode(jws.slice(0, jws.lastIndexOf("."))));
}

/**
 * What the store files an entry by. Whether it is one is for the fold and the server to say.
 * @param {string} jws @param {EntryRow["state"]} state @returns {Promise<EntryRow>} @throws {Error} when it cannot be read
 */
export async function rowOf(jws, state) {
  const [header, payload] = jws
    .split(".", 2)
    .map((part) => JSON.parse(new TextDecoder().decode(unb64(part))));
  const { log, number, subject } = payload;
  if (typeof header.kid !== "string" || typeof log !== "string" || !Number.isSafeInteger(number)) {
    throw new Error("this is not an entry of a logbook");
  }
  return {
    name: await nameOf(jws),
    log,
    kid: header.kid,
    number,
    subject: String(subject),
    jws,
    state,
    round: 0,
  };
}

/** @param {Date} now RFC 3339 with this phone's offset */
export function instant(now) {
  const minutes = -now.getTimezoneOffset();
  const local = new Date(now.getTime() + minutes * 60_000).toISOString().slice(0, -1);
  const two = (/** @type {number} */ value) => String(Math.trunc(Math.abs(value))).padStart(2, "0");
  return `${local}${minutes < 0 ? "-" : "+"}${two(minutes / 60)}:${two(minutes % 60)}`;
}

/**
 * Signs what was touched and keeps it. When it resolves, the entry is on disk.
 * @param {KeyRow} key
 * @param {{log: string} & Record<string, unknown>} touched all members but `number` and `previous`
 * @returns {Promise<EntryRow>}
 * @throws {import("./store.js").StoreTrouble}
 */
export async function append(key, touched) {
  const place = /** @type {[string, string]} */ ([key.kid, touched.log]);
  for (let tries = 0; tries < TRIES; tries++) {
    const head = await read(["heads"], (tx) => tx.objectStore("heads").get(place));
    const number = (head?.number ?? 0) + 1;
    const payload = /** @type {import("./entry.js").Payload} */ ({
      ...touched,
      number,
      previous: head?.name ?? null,
    });
    const jws = await writeEntry(payload, key.kid, key.pair.privateKey);
    const row = await rowOf(jws, "unsent");
    const kept = await change(["entries", "heads"], async (tx) => {
      const now = await tx.objectStore("heads").get(place);
      if (now?.name !== head?.name) return false;
      await tx.objectStore("entries").put(row);
      await tx.objectStore("heads").put({ kid: key.kid, log: touched.log, number, name: row.name });
      return true;
    });
    if (kept) return row;
  }
  throw new Error("Other tabs keep writing. Close them, then do it again.");
}
