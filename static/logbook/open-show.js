// The show that is open on this phone: its definition and the fold of its log, fed from the store.
import { read } from "./store.js";

const KINDS = "/static/logbook/kinds.json";

/**
 * @typedef {{id: string, log: string, yardLog: string | null, definition: any, fold: any, heard: number}} OpenShow
 */

/** @param {string} id @returns {Promise<OpenShow | null>} null: this phone has not loaded it */
export async function loadShow(id) {
  const [row, keys] = await read(["shows", "keys"], (tx) =>
    Promise.all([tx.objectStore("shows").get(id), tx.objectStore("keys").getAll()]),
  );
  const unitKey = keys.find((key) => key.unitKey)?.unitKey;
  if (!row || !unitKey) return null;
  const definition = /** @type {any} */ (row.definition);
  const [{ Fold }, kinds] = await Promise.all([
    import("./fold.js"),
    fetch(KINDS).then((answer) => answer.json()),
  ]);
  const sheets = definition.sheets.map((/** @type {string} */ text) => ({ id: JSON.parse(text).id, text }));
  const log = definition.log ?? id;
  const fold = new Fold({ log, unitKey, kinds, sheets, files: definition.files ?? {} });
  const show = { id, log, yardLog: definition.yard_log ?? null, definition, fold, heard: 0 };
  await feed(show);
  return show;
}

/** Gives the fold what the store holds; it knows what it has already. @param {OpenShow} show */
export async function feed(show) {
  const [cards, entries] = await read(["cards", "entries"], (tx) =>
    Promise.all([tx.objectStore("cards").getAll(), tx.objectStore("entries").index("log").getAll(show.log)]),
  );
  await show.fold.addCards(cards.map((card) => card.jws));
  await carry(show);
  const fresh = entries.filter((row) => row.state !== "refused" && !known(show).has(row.name));
  await show.fold.addEntries(fresh.map((row) => row.jws));
  for (const row of fresh) known(show).add(row.name);
  await takeFiles(show);
}

/** What other logs say of kit, as of the last sync: the shelf comes with the show; the yard's own log is kept here. @param {OpenShow} show */
async function carry(show) {
  const [row, yard] = await read(["shows", "entries"], (tx) =>
    Promise.all([
      tx.objectStore("shows").get(show.id),
      show.yardLog === null ? [] : tx.objectStore("entries").index("log").getAll(show.yardLog),
    ]),
  );
  const stated = row?.definition.carried_over;
  const shelf = Array.isArray(stated) ? stated : [];
  const kept = yard.filter(({ state }) => state !== "refused").map(({ jws }) => jws);
  for (const { log, entries } of [...shelf, { log: show.yardLog, entries: kept }]) {
    const fresh = [entries].flat().filter((jws) => typeof jws === "string" && !known(show).has(jws));
    if (fresh.length === 0) continue;
    await show.fold.addCarried([{ log: String(log), entries: fresh }]);
    for (const jws of fresh) known(show).add(jws);
  }
}

/** What amends add travels as files named by digest. @param {OpenShow} show */
async function takeFiles({ fold }) {
  for (const digest of fold.missingFiles()) {
    const file = await read(["files"], (tx) => tx.objectStore("files").get(digest));
    if (file) await fold.addFiles({ [digest]: new TextDecoder().decode(file.bytes) });
  }
}

/** @type {WeakMap<object, Set<string>>} */
const fed = new WeakMap();

/** @param {OpenShow} show */
function known(show) {
  const names = fed.get(show.fold) ?? new Set();
  fed.set(show.fold, names);
  return names;
}
