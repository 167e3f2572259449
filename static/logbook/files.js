// Photos, drawn names and definitions, each under its SHA-256: kept, fetched, fetched ahead, sent.
import { b64 } from "./jws.js";
import { Refusal } from "./line.js";
import { change, read } from "./store.js";

/** @typedef {import("./line.js").Line} Line */
/** @typedef {import("./store.js").FileRow} FileRow */

const NAMING = new Set(["file", "drawn", "photo"]);
const DIGEST = /^[A-Za-z0-9_-]{42}[AEIMQUYcgkosw048]$/;
/** Of what the browser grants, the rest is for entries. */
const AHEAD_SHARE = 0.5;

/** A file's name: SHA-256 in base64url. @param {ArrayBuffer} bytes */
export async function digestOf(bytes) {
  return b64(new Uint8Array(await crypto.subtle.digest("SHA-256", bytes)));
}

/** @param {string} sha256 @returns {Promise<FileRow | undefined>} */
export function fileHeld(sha256) {
  return read(["files"], (tx) => tx.objectStore("files").get(sha256));
}

/** Names of the files that no server has shown to hold. @returns {Promise<string[]>} */
export function unsentFiles() {
  return read(["files"], (tx) => tx.objectStore("files").index("state").getAllKeys("unsent"));
}

/** Keeps a photo or a drawn name. @param {ArrayBuffer} bytes @param {string} type @returns {Promise<string>} its name */
export async function keepFile(bytes, type) {
  const sha256 = await digestOf(bytes);
  await change(["files"], async (tx) => {
    if (await tx.objectStore("files").get(sha256)) return;
    await tx.objectStore("files").put({ sha256, type, bytes, state: "unsent" });
  });
  return sha256;
}

/**
 * The file as it is here, or fetched and kept.
 * @param {Line} line @param {string} sha256
 * @returns {Promise<{bytes: ArrayBuffer, type: string} | null>} null: not arrived at the server either
 * @throws {import("./line.js").NoAnswer | Refusal | import("./store.js").StoreTrouble}
 */
export async function fetchFile(line, sha256) {
  const held = await fileHeld(sha256);
  if (held) return held;
  const file = await line.getFile(sha256);
  if (!file || (await digestOf(file.bytes)) !== sha256) return null;
  await change(["files"], (tx) => tx.objectStore("files").put({ ...file, sha256, state: "there" }));
  return file;
}

/**
 * Fetches files for the time without signal, one by one, while the browser grants room.
 * @param {Line} line @param {Iterable<string>} digests
 * @throws {import("./line.js").NoAnswer | import("./store.js").StoreTrouble}
 */
export async function fetchAhead(line, digests) {
  for (const sha256 of digests) {
    const { usage = 0, quota = Number.POSITIVE_INFINITY } = (await navigator.storage?.estimate?.()) ?? {};
    if (usage > quota * AHEAD_SHARE) return;
    await unlessRefused(fetchFile(line, sha256));
  }
}

/**
 * Sends the files that this phone has and the server asks for; one that it refuses stands in no other's way.
 * @param {Line} line @param {unknown} missing @returns {Promise<Error[]>} what was refused
 * @throws {import("./line.js").NoAnswer}
 */
export async function sendFiles(line, missing) {
  const refused = [];
  for (const sha256 of Array.isArray(missing) ? missing : []) {
    const file = await fileHeld(String(sha256));
    if (!file) continue;
    const refusal = await unlessRefused(line.putFile(file));
    if (refusal instanceof Refusal) refused.push(refusal);
    else await change(["files"], (tx) => tx.objectStore("files").put({ ...file, state: "there" }));
  }
  return refused;
}

/** @param {Promise<unknown>} work @returns {Promise<unknown>} a refusal as a value */
function unlessRefused(work) {
  return work.catch((error) => {
    if (error instanceof Refusal) return error;
    throw error;
  });
}

/** Digests of the photos and drawn names that a body names, however deep. @param {unknown} body @returns {string[]} */
export function filesNamed(body) {
  if (body === null || typeof body !== "object") return [];
  return Object.entries(body).flatMap(([member, inner]) =>
    NAMING.has(member) && typeof inner === "string" && DIGEST.test(inner) ? [inner] : filesNamed(inner),
  );
}
