// The record that a report's PDF carries: read from the file alone, folded on this phone.

import { digestOf } from "../logbook/files.js";
import { Fold } from "../logbook/fold.js";
import { keysWithCards } from "../logbook/keys.js";
import { read } from "../logbook/store.js";
import { scriptUrl } from "../script-url.js";

const WORKER = "/static/vendor/pdfjs/pdf.worker.min.mjs";
const KINDS = "/static/logbook/kinds.json";
const NAME = "record.json";

/** The file is no report of this app's, or its record is not in it; the message is for the screen. */
export class NoRecord extends Error {}

/**
 * @typedef {{ report: string, log: string, definition: import("./shapes.js").Definition, fold: Fold, known: boolean }} Opened
 * `known`: the record is by the unit whose key this phone has pinned; else anybody may have made it
 */

/** @param {File} file @returns {Promise<Opened>} @throws {NoRecord} */
export async function openReport(file) {
  const bytes = await file.arrayBuffer();
  const report = await digestOf(bytes);
  const record = await readRecord(new Uint8Array(bytes));
  const { definition } = record;
  const kinds = await fetch(KINDS).then((answer) => answer.json());
  const sheets = definition.sheets.map((/** @type {string} */ text) => ({ id: JSON.parse(text).id, text }));
  const fold = new Fold({
    log: record.log,
    unitKey: record.unit_key,
    kinds,
    sheets,
    files: record.files ?? {},
  });
  await fold.addCards(record.cards);
  await fold.addCarried(record.carried_over ?? []);
  await fold.addEntries(record.entries);
  return { report, log: record.log, definition, fold, known: await isPinned(record.unit_key) };
}

/** @param {Uint8Array} bytes @returns {Promise<any>} */
async function readRecord(bytes) {
  const pdf = await import("pdfjs-dist").catch(() => {
    throw new NoRecord(
      "The reader of PDF files is not on this phone yet. It comes with signal, once; then open the file again.",
    );
  });
  pdf.GlobalWorkerOptions.workerPort ??= new Worker(scriptUrl(WORKER), { type: "module" });
  const opened = await pdf.getDocument({ data: bytes }).promise.catch(() => {
    throw new NoRecord(
      "This file cannot be read as a PDF. Ask for it again, as a file and not as a picture.",
    );
  });
  const attachments = (await opened.getAttachments()) ?? new Map();
  const id = [...attachments].find(([, { filename }]) => filename === NAME)?.[0];
  if (id === undefined)
    throw new NoRecord(
      `There is no ${NAME} in this PDF. It is not a hand-over report, or it was printed anew.`,
    );
  const content = await opened.getAttachmentContent(id);
  try {
    return JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(content ?? new Uint8Array()));
  } catch {
    throw new NoRecord(
      `The ${NAME} in this PDF cannot be read. Something changed the file since it was sealed.`,
    );
  }
}

/** @param {JsonWebKey} unitKey */
async function isPinned({ x, y }) {
  const pinned = (await keysWithCards()).map(({ unitKey }) => unitKey);
  return pinned.some((key) => key !== null && key.x === x && key.y === y);
}

/** Takes an answer that was just written here into the opened record. @param {Opened} opened @param {string} name */
export async function takeAnswer({ fold }, name) {
  const row = await read(["entries"], (tx) => tx.objectStore("entries").get(name));
  if (!row) return;
  const cards = await read(["cards"], (tx) => tx.objectStore("cards").index("kid").getAll(row.kid));
  await fold.addCards(cards.map(({ jws }) => jws));
  await fold.addEntries([row.jws]);
}
