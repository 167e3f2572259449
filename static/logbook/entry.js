/** One entry as it travels: a compact JWS by a device's key, kept and passed on byte for byte. */

import { readIJson } from "./ijson.js";
import { readInstant } from "./instant.js";
import { isDigest, sha256, sign, split } from "./jws.js";

const MAX_CHARACTERS = 64 * 1024;
const MAX_SUBJECT = 200;
const LOG = /^[A-Za-z0-9._-]+$/;
const SUBJECT = /^[A-Za-z0-9._-]+(\/[A-Za-z0-9._-]+)*$/;

/** @typedef {import("./ijson.js").Json} Json */
/** @typedef {{[member: string]: Json}} Members */

/**
 * What a device says, before it is signed; `for`, `witness`, `replaces`, `rests_on` and `chain` may be absent.
 * @typedef {{log: string, number: number, previous: string | null, at: string, by: string, for?: string,
 *   witness?: string, subject: string, kind: string, body: Members, replaces?: string[], rests_on?: string[],
 *   chain?: Chain}} Payload
 */

/**
 * What stands at a position. A link that is unset is null or absent.
 * @typedef {{lens?: string | null, body?: string | null, run?: string[] | null, control?: string | null}} Chain
 */

/**
 * An entry: its text as signed, its name, the key that signed it, and its payload.
 * @typedef {Readonly<{jws: string, name: string, kid: string, log: string, number: number, previous: string | null,
 *   at: string, by: string, for: string | null, witness: string | null, subject: string, kind: string, body: Members,
 *   replaces: readonly string[], rests_on: readonly string[], chain: Members | null}>} Entry
 */

/** The text is not an entry, or its signature is false; the message says why in plain words. */
export class Refused extends Error {}

/**
 * Read an entry from the wire, strictly; of its signature only the form is looked at.
 *
 * @param {string} jws
 * @param {string} [log] the log that it must be of
 * @returns {Promise<Entry>}
 * @throws {Refused}
 */
export async function parseEntry(jws, log) {
  if (jws.length > MAX_CHARACTERS) throw new Refused("this entry is longer than 64 KiB");
  const { kid, payload, signed } = opened(jws);
  const entry = read(jws, await sha256(signed), kid, payload);
  if (log !== undefined && entry.log !== log) {
    throw new Refused(`this entry is of the log ${entry.log}, not of ${log}`);
  }
  return entry;
}

/**
 * Sign a payload as an entry.
 *
 * @param {Payload} payload
 * @param {string} kid the thumbprint of the key's public half
 * @param {CryptoKey} privateKey
 * @returns {Promise<string>} the JWS
 * @throws {Refused} where it would not be an entry
 */
export async function writeEntry(payload, kid, privateKey) {
  const octets = new TextEncoder().encode(JSON.stringify(payload));
  const jws = await sign({ alg: "ES256", kid }, octets, privateKey);
  await parseEntry(jws);
  return jws;
}

/** @param {string} jws */
function opened(jws) {
  try {
    const { kid, payload, signed } = split(jws);
    return { kid, signed, payload: readIJson(payload) };
  } catch (fault) {
    throw new Refused(`this is not an entry: ${fault instanceof Error ? fault.message : fault}`);
  }
}

/**
 * @param {string} jws
 * @param {string} name
 * @param {string} kid
 * @param {Json} payload
 * @returns {Entry}
 */
function read(jws, name, kid, payload) {
  if (!isObject(payload)) throw new Refused("this is not an entry: its payload is not an object");
  return Object.freeze({
    jws,
    name,
    kid,
    log: text(payload, "log", LOG),
    number: number(payload),
    previous: previous(payload),
    at: at(payload),
    by: text(payload, "by"),
    for: "for" in payload ? text(payload, "for") : null,
    witness: "witness" in payload ? text(payload, "witness") : null,
    subject: subject(payload),
    kind: text(payload, "kind"),
    body: object(payload, "body"),
    replaces: names(payload, "replaces"),
    rests_on: names(payload, "rests_on"),
    chain: "chain" in payload ? object(payload, "chain") : null,
  });
}

/**
 * @param {Json | undefined} value
 * @returns {value is Members}
 */
function isObject(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/**
 * @param {Members} payload
 * @param {string} member
 * @param {RegExp} [form]
 */
function text(payload, member, form) {
  const value = payload[member];
  if (typeof value !== "string" || value === "") {
    throw new Refused(`the entry's ${member} is missing or is not text`);
  }
  if (form && !form.test(value))
    throw new Refused(`the entry's ${member} has characters that it may not have`);
  return value;
}

/** @param {Members} payload */
function subject(payload) {
  const value = text(payload, "subject", SUBJECT);
  if (value.length > MAX_SUBJECT) {
    throw new Refused(`the entry's subject is longer than ${MAX_SUBJECT} characters`);
  }
  return value;
}

/** @param {Members} payload */
function number(payload) {
  const value = payload.number;
  if (typeof value !== "number" || value < 1) {
    throw new Refused("the entry's number is not a whole number from 1 on");
  }
  return value;
}

/** @param {Members} payload */
function previous(payload) {
  const value = payload.previous;
  if (value === undefined)
    throw new Refused("the entry does not say which one it follows: previous is missing");
  if (value !== null && !isDigest(value))
    throw new Refused("the entry's previous is neither a name nor null");
  return value;
}

/** @param {Members} payload */
function at(payload) {
  const value = text(payload, "at");
  if (readInstant(value) === null) {
    throw new Refused("the entry's at is not a time after RFC 3339, in full and with its offset");
  }
  return value;
}

/**
 * @param {Members} payload
 * @param {string} member
 */
function object(payload, member) {
  const value = payload[member];
  if (!isObject(value)) throw new Refused(`the entry's ${member} is missing or is not an object`);
  return value;
}

/**
 * @param {Members} payload
 * @param {string} member
 * @returns {string[]}
 */
function names(payload, member) {
  const value = member in payload ? payload[member] : [];
  if (!Array.isArray(value) || !value.every(isDigest)) {
    throw new Refused(`the entry's ${member} is not a list of names`);
  }
  return value;
}
