// What is on this phone and, as far as anybody has shown, nowhere else.
import { change, read } from "./store.js";

/** @typedef {import("./store.js").EntryRow} EntryRow */
/** @typedef {{name: string, answer: "stored" | "known" | "wait" | "refused", reason?: string}} Answer */

const MOST_ENTRIES = 400;
const MOST_BYTES = 3 * 1024 * 1024;
const OFFERED = /** @type {const} */ (["unsent", "waits", "dropped"]);

/** Rows in these states, of one log or all, each device's in the order of its chain. @param {readonly string[]} states @param {string} [log] */
export async function rowsIn(states, log) {
  const rows = await read(["entries"], async (tx) => {
    const index = tx.objectStore("entries").index("state");
    return (await Promise.all(states.map((state) => index.getAll(state)))).flat();
  });
  const wanted = log === undefined ? rows : rows.filter((row) => row.log === log);
  return wanted.sort((one, other) => one.number - other.number);
}

/** What a server has still to show that it holds. @param {string} [log] */
export function toOffer(log) {
  return rowsIn(OFFERED, log);
}

/** Cut into posts that a server takes. @param {EntryRow[]} rows @returns {EntryRow[][]} */
export function batches(rows) {
  /** @type {EntryRow[][]} */
  const cut = [];
  let bytes = Number.POSITIVE_INFINITY;
  for (const row of rows) {
    const last = cut.at(-1);
    bytes += row.jws.length;
    if (last && last.length < MOST_ENTRIES && bytes < MOST_BYTES) {
      last.push(row);
      continue;
    }
    cut.push([row]);
    bytes = row.jws.length;
  }
  return cut;
}

/**
 * Notes what the server said. A receipt clears nothing: only a fetch that brings the entry back does.
 * @param {EntryRow[]} rows as sent @param {Answer[]} answers
 */
export async function noteAnswers(rows, answers) {
  await change(["entries"], async (tx) => {
    const store = tx.objectStore("entries");
    for (const { name, answer, reason } of answers) {
      const row = rows.some((sent) => sent.name === name) ? await store.get(name) : undefined;
      if (!row || row.state === "there") continue;
      if (answer === "refused")
        await store.put({ ...row, state: "refused", reason: String(reason ?? "no reason given") });
      if (answer === "wait") await store.put({ ...row, state: "waits" });
    }
  });
}

/** Cards of the devices that wrote these, as they are handed in with them. @param {EntryRow[]} rows */
export async function cardsOf(rows) {
  const kids = [...new Set(rows.map((row) => row.kid))];
  const cards = await read(["cards"], async (tx) => {
    const index = tx.objectStore("cards").index("kid");
    return (await Promise.all(kids.map((kid) => index.getAll(kid)))).flat();
  });
  return cards.map((card) => card.jws);
}

/**
 * Takes in what came back from a server: entries, cards and the cursor in one transaction.
 * @param {string} log
 * @param {EntryRow[]} rows read from the answer
 * @param {import("./store.js").CardRow[]} cards
 * @param {{cursor: string | null, more: boolean}} place
 * @param {ReadonlySet<string>} own keys of this phone, whose heads follow what came back
 * @returns {Promise<EntryRow[]>} what is newly dropped: was there, and a complete fetch did not bring it back
 */
export async function takePage(log, rows, cards, { cursor, more }, own) {
  return change(["entries", "cards", "cursors", "heads"], async (tx) => {
    const entries = tx.objectStore("entries");
    const cursors = tx.objectStore("cursors");
    const round = (await cursors.get(log))?.round ?? 0;
    for (const row of rows) {
      const held = await entries.get(row.name);
      await entries.put({ ...(held ?? row), state: "there", round });
      if (own.has(row.kid)) await follow(tx.objectStore("heads"), row);
    }
    for (const card of cards) await tx.objectStore("cards").put(card);
    const before = await cursors.get(log);
    await cursors.put({ log, cursor, round, complete: !more });
    if (more || before?.complete) return [];
    return drop(entries, log, round);
  });
}

/** @param {any} heads @param {EntryRow} row */
async function follow(heads, { kid, log, number, name }) {
  const head = await heads.get([kid, log]);
  if (!head || head.number < number) await heads.put({ kid, log, number, name });
}

/** @param {any} entries @param {string} log @param {number} round the fetch from the start that has just ended */
async function drop(entries, log, round) {
  /** @type {EntryRow[]} */
  const held = await entries.index("log").getAll(log);
  const missing = held.filter((row) => row.state === "there" && row.round < round);
  for (const row of missing) await entries.put({ ...row, state: "dropped" });
  return missing;
}

/** The server cannot match our cursor: it was restored. Everything is fetched anew. @param {string} log */
export async function startAgain(log) {
  await change(["cursors"], async (tx) => {
    const store = tx.objectStore("cursors");
    const round = ((await store.get(log))?.round ?? 0) + 1;
    await store.put({ log, cursor: null, round, complete: false });
  });
}

/**
 * Keeps entries that somebody handed in, to be offered to the server; what is held already stays as it is.
 * @param {EntryRow[]} rows @param {import("./store.js").CardRow[]} cards @returns {Promise<number>} how many were new
 */
export async function keepHandedIn(rows, cards) {
  return change(["entries", "cards"], async (tx) => {
    const store = tx.objectStore("entries");
    let fresh = 0;
    for (const row of rows) {
      if (await store.get(row.name)) continue;
      await store.put(row);
      fresh += 1;
    }
    for (const card of cards) await tx.objectStore("cards").put(card);
    return fresh;
  });
}
