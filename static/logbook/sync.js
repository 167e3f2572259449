// Sends what this phone has, fetches what the others wrote. One log's trouble never stops the next.
import { rowOf } from "./chain.js";
import { fetchFile, sendFiles, unsentFiles } from "./files.js";
import { thumbprint, unb64 } from "./jws.js";
import { NoAnswer, Refusal } from "./line.js";
import { batches, cardsOf, noteAnswers, startAgain, takePage, toOffer } from "./outbox.js";
import { change, read } from "./store.js";

/** @typedef {import("./line.js").Line} Line */
/** @typedef {import("./store.js").EntryRow} EntryRow */
/** @typedef {{changed: string[], dropped: EntryRow[], trouble: Error[]}} Outcome */

const PAGE = 1000;

/** @param {string} jws @returns {Promise<import("./store.js").CardRow>} @throws {Error} */
export async function cardRow(jws) {
  const payload = JSON.parse(new TextDecoder().decode(unb64(jws.split(".")[1] ?? "")));
  return { jws, kid: await thumbprint(payload.jwk) };
}

/**
 * What could be read of a list from outside; the rest is nobody's entry or card.
 * @template T @param {unknown} texts @param {(text: string) => Promise<T>} reader @returns {Promise<T[]>}
 */
export async function readable(texts, reader) {
  const list = Array.isArray(texts) ? texts : [];
  const tries = await Promise.allSettled(list.map((text) => reader(String(text))));
  return tries.flatMap((tried) => (tried.status === "fulfilled" ? [tried.value] : []));
}

/** @param {Line} line @param {string} log */
async function send(line, log) {
  for (const rows of batches(await toOffer(log))) {
    const cards = await cardsOf(rows);
    const sent = await line.post(`/api/logs/${log}/entries`, { cards, entries: rows.map((row) => row.jws) });
    await noteAnswers(rows, sent.answers);
  }
}

/** A log that the server does not know has no entry there: what it had of it once is to be offered. @param {unknown} error */
function asEmpty(error) {
  if (error instanceof Refusal && error.status === 404)
    return { entries: [], cards: [], cursor: null, more: false };
  throw error;
}

/**
 * @param {Line} line @param {string} log @param {ReadonlySet<string>} own
 * @returns {Promise<{fresh: boolean, dropped: EntryRow[], refused: Error[]}>}
 */
async function fetchLog(line, log, own) {
  let fresh = false;
  for (;;) {
    const cursor = (await read(["cursors"], (tx) => tx.objectStore("cursors").get(log)))?.cursor;
    const from = cursor ? `&cursor=${encodeURIComponent(cursor)}` : "";
    const page = await line.get(`/api/logs/${log}/entries?limit=${PAGE}${from}`).catch(asEmpty);
    if (page.restart) {
      await startAgain(log);
      continue;
    }
    const rows = await readable(page.entries, (jws) => rowOf(jws, "there"));
    const dropped = await takePage(log, rows, await readable(page.cards, cardRow), page, own);
    fresh ||= rows.length > 0 || dropped.length > 0;
    if (page.more) continue;
    return { fresh, dropped, refused: await sendFiles(line, page.files_missing) };
  }
}

/**
 * A revoked phone may read nothing, not even which files are asked for: it sends all that no server has.
 * @param {Line} line @param {unknown} error @returns {Promise<never>} @throws what was given
 */
async function sendFilesUnread(line, error) {
  if (error instanceof Refusal && error.status === 403) await sendFiles(line, await unsentFiles());
  throw error;
}

/**
 * One run over these logs.
 * @param {Line} line
 * @param {Iterable<string>} logs
 * @param {ReadonlySet<string>} own keys of this phone
 * @returns {Promise<Outcome>}
 * @throws {NoAnswer} where there is no signal: all is kept, the next run does the same again
 */
export async function syncLogs(line, logs, own) {
  /** @type {Outcome} */
  const outcome = { changed: [], dropped: [], trouble: [] };
  for (const log of logs) {
    await attempt(outcome.trouble, () => send(line, log));
    await attempt(outcome.trouble, async () => {
      const { fresh, dropped, refused } = await fetchLog(line, log, own).catch((error) =>
        sendFilesUnread(line, error),
      );
      outcome.trouble.push(...refused);
      if (fresh) outcome.changed.push(log);
      outcome.dropped.push(...dropped);
      // What a restored server lost is offered in the same run, and must come back like anything else.
      if (dropped.length > 0) await send(line, log).then(() => fetchLog(line, log, own));
    });
  }
  return outcome;
}

/**
 * Fetches the list of shows and each one's definition, for the time without signal.
 * @param {Line} line
 * @returns {Promise<Error[]>} what was refused: it stops neither the next show nor the logs
 * @throws {NoAnswer} where there is no signal
 */
export async function fetchShows(line) {
  /** @type {Error[]} */
  const trouble = [];
  await attempt(trouble, async () => {
    const listed = await line.get("/api/shows");
    for (const { id } of listed.shows) await attempt(trouble, () => fetchShow(line, id));
  });
  return trouble;
}

/** @param {Line} line @param {string} id */
async function fetchShow(line, id) {
  const held = await read(["shows"], (tx) => tx.objectStore("shows").get(id));
  const fetched = await line.getChanged(`/api/shows/${encodeURIComponent(id)}`, held?.tag ?? null);
  if (fetched === null) return;
  const { answer: definition, tag } = fetched;
  const cards = await readable(definition.cards, cardRow);
  await change(["shows", "cards"], async (tx) => {
    for (const card of cards) await tx.objectStore("cards").put(card);
    await tx.objectStore("shows").put({ id, definition, tag });
  });
  // As it travels, so that a server that lost it can be given it back.
  await fetchFile(line, definition.digest);
}

/**
 * Does a piece of work whose refusal is noted and stands in nothing else's way.
 * @param {Error[]} trouble
 * @param {() => Promise<unknown>} work
 * @throws {NoAnswer}
 */
async function attempt(trouble, work) {
  try {
    await work();
  } catch (error) {
    if (error instanceof NoAnswer) throw error;
    trouble.push(/** @type {Error} */ (error));
  }
}
