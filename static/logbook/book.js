// What the screens hold of the logbook: signals to read, and the few things that can be done.
import { signal } from "@preact/signals";
import { append, instant } from "./chain.js";
import { fetchAhead, fetchFile, fileHeld, filesNamed } from "./files.js";
import { enrol as enrolKey, keysWithCards, writerOf } from "./keys.js";
import { Line, NoAnswer } from "./line.js";
import { feed, loadShow } from "./open-show.js";
import { rowsIn, toOffer } from "./outbox.js";
import * as saved from "./saved.js";
import { keepSetting, read, setting } from "./store.js";
import { fetchShows, syncLogs } from "./sync.js";

/** @typedef {import("./keys.js").Writer} Writer */
/** @typedef {import("./store.js").EntryRow} EntryRow */

export const book = {
  ready: signal(false),
  writer: signal(/** @type {Writer | null} */ (null)),
  writers: signal(/** @type {Writer[]} */ ([])),
  shows: signal(/** @type {any[]} */ ([])),
  show: signal(/** @type {import("./open-show.js").OpenShow | null} */ (null)),
  unsent: signal(0),
  dropped: signal(/** @type {EntryRow[]} */ ([])),
  refused: signal(/** @type {EntryRow[]} */ ([])),
  givenBack: signal(0),
  lastHeard: signal(/** @type {number | null} */ (null)),
  silentDays: signal(0),
  versionOffered: signal(false),
  persisted: signal(/** @type {boolean | null} */ (null)),
  trouble: signal(/** @type {string | null} */ (null)),
  coreReady: signal(false),
};

const tabs = new BroadcastChannel("handline");
const RUN_EVERY_MS = 45_000;
const DAY_MS = 86_400_000;

/** @type {import("./store.js").KeyRow[]} */
let keys = [];

/** Reads what the phone holds, then keeps it in step with other tabs and the server. */
export async function start() {
  tabs.onmessage = () => told(reread()); // before the first look, so that nothing falls between
  await readKeys();
  await readShows();
  const heard = await setting("last-heard");
  book.lastHeard.value = typeof heard === "number" ? heard : null;
  await count();
  book.persisted.value = (await navigator.storage?.persisted?.()) ?? null;
  const open = await setting("open-show");
  if (typeof open === "string") await openShow(open);
  book.ready.value = true;
  addEventListener("online", () => told(syncNow()));
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") told(syncNow());
  });
  runLater();
  told(syncNow());
}

/** Errors of what nobody waits for are said on the screen. @param {Promise<unknown>} work */
function told(work) {
  work.catch((error) => {
    book.trouble.value = error.message;
  });
}

function runLater() {
  const jitter = 0.5 + Math.random();
  setTimeout(() => {
    told(syncNow());
    runLater();
  }, RUN_EVERY_MS * jitter);
}

async function readKeys() {
  keys = await keysWithCards();
  const writers = keys.map(writerOf).filter((writer) => writer !== null);
  const chosen = await setting("writer");
  book.writers.value = writers;
  book.writer.value = writers.find((writer) => writer.kid === chosen) ?? writers[0] ?? null;
}

async function readShows() {
  const rows = await read(["shows"], (tx) => tx.objectStore("shows").getAll());
  book.shows.value = rows.map((row) => ({ ...row.definition, id: row.id }));
}

async function count() {
  book.unsent.value = (await toOffer()).length;
  book.silentDays.value = silentDays();
  book.dropped.value = await rowsIn(["dropped"]);
  book.refused.value = await rowsIn(["refused"]);
}

/** Whole days that the server has not answered while something waits for it. */
function silentDays() {
  const heard = book.lastHeard.value;
  return book.unsent.value === 0 || heard === null ? 0 : Math.floor((Date.now() - heard) / DAY_MS);
}

/** Another tab or a fetch has put something into the store. */
async function reread() {
  await readKeys();
  await readShows();
  await count();
  await refresh();
}

async function refresh() {
  const show = book.show.value;
  if (!show) return;
  await feed(show);
  book.show.value = { ...show, heard: show.heard + 1 };
}

/** @param {string} id @returns {Promise<boolean>} false: this phone has not loaded it */
export async function openShow(id) {
  book.show.value = await loadShow(id);
  await keepSetting("open-show", id);
  return book.show.value !== null;
}

function key() {
  const found = keys.find((row) => row.kid === book.writer.value?.kid);
  if (!found) throw new Error("Nobody writes on this phone yet: open an invitation first.");
  return found;
}

/**
 * Writes an entry; when it resolves, the entry is on this phone's disk.
 * @param {{log: string, subject: string, kind: string, body: object, for?: string, witness?: string,
 *   replaces?: string[], rests_on?: string[], chain?: object}} touched
 * @returns {Promise<string>} its name
 * @throws {import("./store.js").StoreTrouble}
 */
export async function write(touched) {
  const by = key();
  const show = book.show.value;
  const at = instant(new Date());
  const person = writerOf(by)?.person;
  const seen = show?.log === touched.log ? await completed(show.fold, touched) : touched;
  const row = await append(by, { ...seen, at, by: person });
  await count();
  await refresh();
  tabs.postMessage("written");
  told(syncNow());
  return row.name;
}

/** With what the writer has in front of them, where the screen did not say. @param {any} fold @param {any} touched */
async function completed(fold, touched) {
  const { draft } = await import("./draft.js");
  return { ...draft(fold, touched), ...touched };
}

/** Withdraws an entry of one's own. @param {string} name @param {string} [reason] */
export async function takeBack(name, reason = "ticked by mistake") {
  const row = await read(["entries"], (tx) => tx.objectStore("entries").get(name));
  if (!row) throw new Error("That entry is not on this phone.");
  return write({ log: row.log, subject: row.subject, kind: "withdraw", body: { entries: [name], reason } });
}

/** @param {string} kid whose card writes from now on */
export async function chooseWriter(kid) {
  await keepSetting("writer", kid);
  await readKeys();
  tabs.postMessage("writer");
}

/** Asks the browser to keep what is written here, however long nobody comes back. */
export async function askToKeep() {
  book.persisted.value = (await navigator.storage?.persist?.()) ?? null;
}

/** Makes this phone somebody's. @param {string} code typed, or as in the link */
export async function enrol(code) {
  const writer = await enrolKey(code);
  await askToKeep();
  await heard();
  await chooseWriter(writer.kid);
  told(syncNow());
  return writer;
}

/** @type {Promise<void> | null} */
let running = null;
let again = false;

/** One run at a time; what is asked for meanwhile runs after it. */
export async function syncNow() {
  if (running) {
    again = true;
    return running;
  }
  running = run().finally(() => {
    running = null;
  });
  await running;
  if (again) {
    again = false;
    await syncNow();
  }
}

async function run() {
  const writer = book.writer.value;
  if (!writer) return;
  const line = new Line(key());
  try {
    const refused = await fetchShows(line);
    await readShows();
    const outcome = await syncLogs(line, await logs(), new Set(keys.map((row) => row.kid)));
    book.givenBack.value += outcome.dropped.length;
    const trouble = [...refused, ...outcome.trouble];
    book.trouble.value = trouble[0]?.message ?? null;
    await refresh();
    await fetchAhead(line, book.show.value?.fold.missingFiles() ?? []);
    told(fetchPhotos(line));
    if (trouble.length === 0) await heard();
    tabs.postMessage("fetched");
  } catch (error) {
    if (!(error instanceof NoAnswer)) throw error;
  } finally {
    await count();
    await refresh();
  }
}

/** @type {Promise<void> | null} */
let fetchingPhotos = null;

/** The photos of the open show; nobody's tick waits for them. @param {Line} line */
function fetchPhotos(line) {
  const named = [...(book.show.value?.fold.held.all() ?? [])].flatMap(({ body }) => filesNamed(body));
  fetchingPhotos ??= fetchAhead(line, new Set(named))
    .catch((error) => {
      if (!(error instanceof NoAnswer)) throw error;
    })
    .finally(() => {
      fetchingPhotos = null;
    });
  return fetchingPhotos;
}

async function heard() {
  book.lastHeard.value = Date.now();
  await keepSetting("last-heard", book.lastHeard.value);
}

/** The logs of all shows, their yards', and those that something waits to be sent to. */
async function logs() {
  const known = book.shows.value.flatMap((show) => [show.log ?? show.id, show.yard_log]);
  const waiting = (await toOffer()).map((row) => row.log);
  return new Set([...known, ...waiting].filter((log) => typeof log === "string"));
}

/** Everything on this phone as a file. */
export async function saveToFile() {
  const bytes = await saved.everything();
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([bytes], { type: "application/zip" }));
  link.download = `handline-${instant(new Date()).slice(0, 16).replaceAll(":", "")}.zip`;
  link.click();
}

/** Takes in a file that another phone saved. @param {File} file */
export async function handIn(file) {
  const taken = await saved.takeIn(await file.arrayBuffer());
  await reread();
  told(syncNow());
  return taken;
}

/** An address to show a file by; null: not arrived. @param {string} sha256 @returns {Promise<string | null>} */
export async function fileUrl(sha256) {
  const held = await fileHeld(sha256);
  const file = held ?? (await fetchFile(new Line(key()), sha256).catch(() => null));
  return file && URL.createObjectURL(new Blob([file.bytes], { type: file.type }));
}
