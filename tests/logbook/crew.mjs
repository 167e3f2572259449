/** An invented crew for the phone's tests: a unit, its people's phones, and a show that they all write in. */

import { readFileSync } from "node:fs";
import { draft } from "../../static/logbook/draft.js";
import { writeEntry } from "../../static/logbook/entry.js";
import { Fold } from "../../static/logbook/fold.js";
import { sign, thumbprint } from "../../static/logbook/jws.js";

export const KINDS = JSON.parse(
  readFileSync(new URL("../../static/logbook/kinds.json", import.meta.url), "utf8"),
);
const PEOPLE = { ann: ["rigger"], eve: ["engineer"], cy: ["chief"] };

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
 * A unit, and a phone with a card for each of its people.
 *
 * @param {Record<string, string[]>} people roles by person
 */
export async function crewOf(people = PEOPLE) {
  const unit = await newKey();
  /** @type {Map<string, Awaited<ReturnType<typeof newKey>>>} */
  const phones = new Map();
  const cards = [];
  for (const [person, roles] of Object.entries(people)) {
    const phone = await newKey();
    const stated = { type: "card", unit: "unit-1", jwk: phone.jwk, person, name: person, roles };
    const octets = new TextEncoder().encode(JSON.stringify({ ...stated, date: "2031-05-01" }));
    cards.push(await sign({ alg: "ES256", kid: unit.kid }, octets, unit.key));
    phones.set(person, phone);
  }
  return { unit, phones, cards };
}

/**
 * A show with one fold that hears all, and people who write in it with what that fold holds in front of them.
 *
 * @param {{sheets: {id: string, text: string}[], log?: string, people?: Record<string, string[]>,
 *   crew?: Awaited<ReturnType<typeof crewOf>>, files?: Record<string, string>}} plan
 *   `people`: roles by person; `crew`: that of another show
 */
export async function show({ sheets, log = "show-1", people, crew, files }) {
  const { unit, phones, cards } = crew ?? (await crewOf(people));
  const fold = new Fold({ log, unitKey: unit.jwk, kinds: KINDS, sheets, files });
  await fold.addCards(cards);
  /** @type {Map<string, {number: number, previous: string | null}>} */
  const heads = new Map();
  /** @type {string[]} */
  const written = [];
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
    const at = new Date(Date.UTC(2031, 4, 2, 9, minute)).toISOString();
    const head = heads.get(by) ?? { number: 0, previous: null };
    const { number, previous } = { ...head, number: head.number + 1 };
    const seen = draft(fold, { subject, kind });
    const jws = await writeEntry(
      { log, number, previous, at, by, subject, kind, body, ...seen, ...given },
      phone.kid,
      phone.key,
    );
    await fold.addEntries([jws]);
    const name = [...fold.held.all()].at(-1)?.name ?? "";
    heads.set(by, { number, previous: name });
    written.push(jws);
    return name;
  }

  return { fold, write, written, kid: (/** @type {string} */ person) => phones.get(person)?.kid };
}
