/** An invented crew for the phone's tests: a unit, its people's phones, and a show that they all write in. */

import { readFileSync } from "node:fs";
import { draft } from "../../static/logbook/draft.js";
import { writeEntry } from "../../static/logbook/entry.js";
import { Fold } from "../../static/logbook/fold.js";
import { sign, thumbprint } from "../../static/logbook/jws.js";

export const KINDS = JSON.parse(
  readFileSync(new URL("../../static/logbook/kinds.json", import.meta.url), "utf8"),
);
const LOG = "show-1";

async function newKey() {
  const pair = await crypto.subtle.generateKey({ name: "ECDSA", namedCurve: "P-256" }, true, [
    "sign",
    "verify",
  ]);
  const { kty, crv, x, y } = await crypto.subtle.exportKey("jwk", pair.publicKey);
  const jwk = { kty, crv, x, y };
  return { key: pair.privateKey, jwk, kid: await thumbprint(jwk) };
}

/**
 * A step with the members that a test does not care for filled in.
 * @param {Partial<import("../../static/logbook/sheets.js").Step> & {subject: string}} members
 */
export function step(members) {
  const id = members.subject.replaceAll("/", ".");
  const roles = ["rigger", "camera", "engineer", "chief"];
  const plain = { id, asks: "tick", roles, after: [], hazard: false, minutes: null, ended_by: [], about: [] };
  return /** @type {import("../../static/logbook/sheets.js").Step} */ ({ ...plain, ...members });
}

/**
 * @param {string} id
 * @param {import("../../static/logbook/sheets.js").Step[]} steps
 */
export function sheet(id, steps) {
  const stage = id.slice(id.lastIndexOf("/") + 1);
  return {
    id,
    text: JSON.stringify({ id, stage, title: id, signed_by: ["engineer"], statement: "", steps }),
  };
}

/**
 * A show with one fold that hears all, and people who write in it with what that fold holds in front of them.
 *
 * @param {{sheets: {id: string, text: string}[], people?: Record<string, string[]>, files?: Record<string, string>}} plan
 *   `people`: roles by person
 */
export async function show({
  sheets,
  people = { ann: ["rigger"], eve: ["engineer"], cy: ["chief"] },
  files,
}) {
  const unit = await newKey();
  const fold = new Fold({ log: LOG, unitKey: unit.jwk, kinds: KINDS, sheets, files });
  /** @type {Map<string, Awaited<ReturnType<typeof newKey>> & {number: number, previous: string | null}>} */
  const phones = new Map();
  for (const [person, roles] of Object.entries(people)) {
    const phone = await newKey();
    const card = {
      type: "card",
      unit: "unit-1",
      jwk: phone.jwk,
      person,
      name: person,
      roles,
      date: "2031-05-01",
    };
    const octets = new TextEncoder().encode(JSON.stringify(card));
    await fold.addCards([await sign({ alg: "ES256", kid: unit.kid }, octets, unit.key)]);
    phones.set(person, { ...phone, number: 0, previous: null });
  }
  let minute = 0;

  /**
   * Write an entry; what is not given is drafted. Its name.
   *
   * @param {string} by
   * @param {string} subject
   * @param {string} kind
   * @param {Record<string, any>} [body]
   * @param {Record<string, any>} [given]
   */
  async function write(by, subject, kind, body = {}, given = {}) {
    const phone = phones.get(by);
    if (!phone) throw new Error(`${by} has no phone`);
    minute += 1;
    phone.number += 1;
    const at = new Date(Date.UTC(2031, 4, 2, 9, minute)).toISOString();
    const { number, previous } = phone;
    const seen = draft(fold, { subject, kind });
    const jws = await writeEntry(
      { log: LOG, number, previous, at, by, subject, kind, body, ...seen, ...given },
      phone.kid,
      phone.key,
    );
    await fold.addEntries([jws]);
    const name = [...fold.held.all()].at(-1)?.name ?? "";
    phone.previous = name;
    return name;
  }

  return { fold, write, kid: (/** @type {string} */ person) => phones.get(person)?.kid };
}
