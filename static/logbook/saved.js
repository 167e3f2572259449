// Save to file: a zip of entries, cards and files that any phone or the server can take in.
import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import { rowOf } from "./chain.js";
import { digestOf, fileHeld, keepFile } from "./files.js";
import { keepHandedIn } from "./outbox.js";
import { read } from "./store.js";
import { cardRow, readable } from "./sync.js";

/** The file is not one that can be handed in; the message is for the screen. */
export class NotHandedIn extends Error {}

/** The logbook on this phone, with the files that no server has. @returns {Promise<Uint8Array<ArrayBuffer>>} a zip */
export async function everything() {
  const [entries, cards, files] = await read(["entries", "cards", "files"], (tx) =>
    Promise.all([
      tx.objectStore("entries").getAll(),
      tx.objectStore("cards").getAll(),
      tx.objectStore("files").index("state").getAll("unsent"),
    ]),
  );
  const record = { cards: cards.map((card) => card.jws), entries: entries.map((row) => row.jws) };
  const types = Object.fromEntries(files.map((file) => [file.sha256, file.type]));
  return zipSync(
    {
      "record.json": strToU8(JSON.stringify({ ...record, types })),
      ...Object.fromEntries(files.map((file) => [`files/${file.sha256}`, new Uint8Array(file.bytes)])),
    },
    { level: 0 },
  );
}

/** @param {Uint8Array} bytes */
function unpack(bytes) {
  try {
    const files = unzipSync(bytes);
    const record = JSON.parse(strFromU8(files["record.json"] ?? new Uint8Array()));
    if (Array.isArray(record.entries) && Array.isArray(record.cards)) return { files, record };
  } catch {
    // said below
  }
  throw new NotHandedIn(
    "This is not a file that a phone saved, or it is damaged. Nothing was taken in. Save it again on that phone.",
  );
}

/**
 * Takes in what another phone saved; what is held already stays as it is.
 * @param {ArrayBuffer} bytes @returns {Promise<{entries: number, files: number, unread: number}>} how much was new
 * @throws {NotHandedIn | import("./store.js").StoreTrouble}
 */
export async function takeIn(bytes) {
  const { files, record } = unpack(new Uint8Array(bytes));
  const rows = await readable(record.entries, (jws) => rowOf(jws, "unsent"));
  const fresh = await keepHandedIn(rows, await readable(record.cards, cardRow));
  let kept = 0;
  for (const [path, content] of Object.entries(files)) {
    const sha256 = path.startsWith("files/") ? path.slice("files/".length) : "";
    const own = new Uint8Array(content).buffer;
    if (sha256 === "" || (await digestOf(own)) !== sha256 || (await fileHeld(sha256))) continue;
    await keepFile(own, String(record.types?.[sha256] ?? "application/octet-stream"));
    kept += 1;
  }
  return { entries: fresh, files: kept, unread: record.entries.length - rows.length };
}
