// The keys of this phone's browser, one a card. A key signs only what was built here: entries and sessions.

import { sign, thumbprint, unb64 } from "./jws.js";
import { askOpenly, SESSION_OF } from "./line.js";
import { change, connect, read } from "./store.js";

/** @typedef {import("./store.js").KeyRow} KeyRow */
/** @typedef {{kid: string, person: string, name: string, roles: string[], unit: string}} Writer */

const P256 = { name: "ECDSA", namedCurve: "P-256" };
const ES256 = { name: "ECDSA", hash: "SHA-256" };

/** This browser cannot keep a key, or this code cannot be used; the message is for the screen. */
export class CannotEnrol extends Error {}

/** What opens a session at this origin, and nothing else. @param {KeyRow} key @param {string} origin @param {string} nonce */
export function signSession(key, origin, nonce) {
  const claim = new TextEncoder().encode(JSON.stringify({ origin, nonce }));
  return sign({ alg: "ES256", kid: key.kid, typ: "session" }, claim, key.pair.privateKey);
}

/** @param {unknown} pair @returns {pair is CryptoKeyPair} */
function isPair(pair) {
  const { privateKey, publicKey } = /** @type {any} */ (pair ?? {});
  return privateKey instanceof CryptoKey && publicKey instanceof CryptoKey && !privateKey.extractable;
}

/** @param {string} code */
async function makeKey(code) {
  const pair = await crypto.subtle.generateKey(P256, false, ["sign", "verify"]);
  const { crv, kty, x, y } = await crypto.subtle.exportKey("jwk", pair.publicKey);
  const jwk = { crv, kty, x, y };
  /** @type {KeyRow} */
  const row = { kid: await thumbprint(jwk), pair, jwk, card: null, unitKey: null, code };
  await change(["keys"], (tx) => tx.objectStore("keys").put(row));
  return row.kid;
}

/**
 * The key as a later start of the app will find it, proven by signing.
 * @param {string} kid @returns {Promise<KeyRow>}
 */
async function readBack(kid) {
  const fresh = await connect();
  const row = await fresh.get("keys", kid).finally(() => fresh.close());
  if (!row || !isPair(row.pair))
    throw new CannotEnrol(
      "This browser forgets its keys. Open the link in a normal window, not a private one.",
    );
  const proof = crypto.getRandomValues(new Uint8Array(32));
  const signature = await crypto.subtle.sign(ES256, row.pair.privateKey, proof);
  if (!(await crypto.subtle.verify(ES256, row.pair.publicKey, signature, proof))) {
    throw new CannotEnrol("This browser's key does not sign. Another browser may do; or update this one.");
  }
  return row;
}

/** A key made for this code by a try that got no answer is used again, so that the code is not lost. @param {string} code */
async function keyFor(code) {
  const rows = await read(["keys"], (tx) => tx.objectStore("keys").getAll());
  return rows.find((row) => row.code === code && row.card === null)?.kid ?? makeKey(code);
}

/**
 * Makes a key and gets its card.
 * @param {string} code as typed, or CODE.THUMBPRINT as links have it, which pins the unit's key
 * @returns {Promise<Writer>}
 * @throws {CannotEnrol | import("./line.js").NoAnswer | import("./line.js").Refusal | import("./store.js").StoreTrouble}
 */
export async function enrol(code) {
  const [typed = "", pinned] = code.trim().split(".");
  if (typed === "") throw new CannotEnrol("Type the code that the chief gave you.");
  const key = await readBack(await keyFor(typed));
  const answer = await askOpenly("/api/devices", { code: typed, public_key: key.jwk });
  if (pinned && (await thumbprint(answer.unit_key)) !== pinned) {
    throw new CannotEnrol(
      "This server is not the unit's that invited you: its key is another. Nothing was kept. Ask the chief.",
    );
  }
  const row = { ...key, card: answer.card, unitKey: answer.unit_key };
  const writer = writerOf(row);
  if (writer === null)
    throw new CannotEnrol(
      "The server's answer holds no card for this phone's key. Ask the chief for a new code.",
    );
  await change(["keys", "cards", "settings"], async (tx) => {
    await tx.objectStore("keys").put(row);
    await tx.objectStore("settings").put({ key: SESSION_OF, value: row.kid });
    await tx.objectStore("cards").put({ jws: answer.card, kid: row.kid });
  });
  return writer;
}

/** Whose key it is by its card; null without one. @param {KeyRow} row @returns {Writer | null} */
export function writerOf(row) {
  try {
    const card = JSON.parse(new TextDecoder().decode(unb64(row.card?.split(".")[1] ?? "")));
    if (card.type !== "card" || card.jwk.x !== row.jwk.x || card.jwk.y !== row.jwk.y) return null;
    return { kid: row.kid, person: card.person, name: card.name, roles: card.roles, unit: card.unit };
  } catch {
    return null;
  }
}

/** The keys on this phone that have a card. @returns {Promise<KeyRow[]>} */
export async function keysWithCards() {
  const rows = await read(["keys"], (tx) => tx.objectStore("keys").getAll());
  return rows.filter((row) => isPair(row.pair) && writerOf(row) !== null);
}
