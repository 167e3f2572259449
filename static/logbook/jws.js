/**
 * Compact JSON Web Signatures (RFC 7515) with ES256 (RFC 7518), as the logbook takes them: base64url is
 * canonical (no padding, no other characters, spare bits zero), keys go by their thumbprint (RFC 7638).
 */

import { readIJson } from "./ijson.js";

const P256 = /** @type {const} */ ({ name: "ECDSA", namedCurve: "P-256" });
const ES256 = /** @type {const} */ ({ name: "ECDSA", hash: "SHA-256" });
const SIGNATURE_OCTETS = 64;
const COORDINATE_OCTETS = 32;
const DIGEST = /^[A-Za-z0-9_-]{42}[AEIMQUYcgkosw048]$/;

/** @typedef {{kty: string, crv: string, x: string, y: string}} Jwk a public key on P-256 */
/** @typedef {{[member: string]: import("./ijson.js").Json}} Members */

/** The text is not a JWS, or not a key; the message says why. */
export class NotJws extends Error {}

/** @param {Uint8Array} octets */
export function b64(octets) {
  let text = "";
  for (const octet of octets) text += String.fromCharCode(octet);
  return btoa(text).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
}

/**
 * @param {string} text
 * @returns {Uint8Array<ArrayBuffer>}
 * @throws {NotJws} where the text is not canonical
 */
export function unb64(text) {
  if (!/^[A-Za-z0-9_-]*$/.test(text) || text.length % 4 === 1) throw new NotJws("it is not base64url");
  const binary = atob(text.replaceAll("-", "+").replaceAll("_", "/"));
  const octets = Uint8Array.from(binary, (letter) => letter.charCodeAt(0));
  if (b64(octets) !== text) throw new NotJws("its base64url is not canonical");
  return octets;
}

/**
 * Whether this is a SHA-256 in base64url: a name, a thumbprint, a file's name.
 * @param {unknown} value
 * @returns {value is string}
 */
export function isDigest(value) {
  return typeof value === "string" && DIGEST.test(value);
}

/**
 * SHA-256 of octets, or of a text in UTF-8, in base64url.
 * @param {Uint8Array<ArrayBuffer> | string} what
 */
export async function sha256(what) {
  const octets = typeof what === "string" ? new TextEncoder().encode(what) : what;
  return b64(new Uint8Array(await crypto.subtle.digest("SHA-256", octets)));
}

/**
 * The thumbprint of a public key on P-256 after RFC 7638, SHA-256, base64url.
 * @param {unknown} jwk
 * @throws {NotJws} where it is no such key
 */
export async function thumbprint(jwk) {
  const { crv, kty, x, y } = publicJwk(jwk);
  return sha256(JSON.stringify({ crv, kty, x, y }));
}

/**
 * The public members of a key on P-256, its coordinates canonical.
 * @param {unknown} jwk
 * @returns {Jwk}
 * @throws {NotJws}
 */
export function publicJwk(jwk) {
  if (typeof jwk !== "object" || jwk === null) throw new NotJws("jwk is missing");
  const { kty, crv, x, y } = /** @type {Record<string, unknown>} */ (jwk);
  if (kty !== "EC" || crv !== "P-256" || typeof x !== "string" || typeof y !== "string") {
    throw new NotJws("the key is not on P-256");
  }
  for (const coordinate of [x, y]) {
    if (unb64(coordinate).length !== COORDINATE_OCTETS) throw new NotJws("a coordinate is not 32 octets");
  }
  return { kty, crv, x, y };
}

/**
 * A public key ready to verify with.
 * @param {unknown} jwk
 * @throws {NotJws} where it is no point of the curve
 */
export async function importKey(jwk) {
  const key = publicJwk(jwk);
  try {
    return await crypto.subtle.importKey("jwk", key, P256, true, ["verify"]);
  } catch {
    throw new NotJws("the key is no point of P-256");
  }
}

/**
 * The parts of a compact JWS by ES256 whose header is exactly `alg`, `kid` and what `also` names.
 *
 * @param {string} text
 * @param {Members} [also] further members of the header, with their values
 * @returns {{kid: string, payload: Uint8Array<ArrayBuffer>, signed: string, signature: Uint8Array<ArrayBuffer>}}
 * @throws {NotJws | import("./ijson.js").NotIJson}
 */
export function split(text, also = {}) {
  const parts = text.split(".");
  if (parts.length !== 3) throw new NotJws("it has not three parts");
  const [header, payload, signature] = /** @type {[string, string, string]} */ (parts);
  const members = readIJson(unb64(header));
  const expected = { alg: "ES256", ...also };
  const { kid, ...rest } = /** @type {Members} */ (members ?? {});
  const exact =
    Object.keys(rest).length === Object.keys(expected).length &&
    Object.entries(expected).every(([member, value]) => rest[member] === value);
  if (!exact || !isDigest(kid))
    throw new NotJws("its header is not exactly alg ES256 and a key's thumbprint");
  const octets = unb64(signature);
  if (octets.length !== SIGNATURE_OCTETS) throw new NotJws("its signature is not 64 octets");
  return { kid, payload: unb64(payload), signed: `${header}.${payload}`, signature: octets };
}

/**
 * Whether this key made the signature of a compact JWS.
 * @param {string} text
 * @param {CryptoKey} key
 */
export async function verify(text, key) {
  const [header, payload, signature] = /** @type {[string, string, string]} */ (text.split("."));
  return crypto.subtle.verify(ES256, key, unb64(signature), new TextEncoder().encode(`${header}.${payload}`));
}

/**
 * Sign octets into a compact JWS.
 *
 * @param {Members} header
 * @param {Uint8Array} payload
 * @param {CryptoKey} key private, on P-256
 */
export async function sign(header, payload, key) {
  const signed = `${b64(new TextEncoder().encode(JSON.stringify(header)))}.${b64(payload)}`;
  // WebCrypto answers r||s, which is what a JWS holds (RFC 7518, 3.4).
  const signature = await crypto.subtle.sign(ES256, key, new TextEncoder().encode(signed));
  return `${signed}.${b64(new Uint8Array(signature))}`;
}
