/**
 * What counts: each entry judged in the order of section 7, in which nothing is circular.
 *
 * This and the sheets ask each other: an amend is judged without a look at any step, all else by the steps that
 * amends leave.
 */

import { ancestors } from "./chains.js";
import { fits, statement } from "./kinds.js";
import { stepOf } from "./sheets.js";

/** @typedef {import("./entry.js").Entry} Entry */
/** @typedef {import("./held.js").Held} Held */
/** @typedef {"person" | "revoked" | "withdrawn" | "unknown-kind" | "role" | "body"} Why */

const NOT_WITHDRAWN = new Set(["revoke", "admit", "withdraw"]);
const BY_ROLE_OF_STEP = new Set(["reading", "test"]);

/**
 * Why an entry that has a card does not count, the first reason; null where it counts.
 *
 * @param {Held} held
 * @param {Entry} entry
 * @returns {Why | null}
 */
export function whyNot(held, entry) {
  return held.memo.answer(`why ${entry.name}`, () => {
    if (!isOnCard(held, entry)) return "person";
    if (isRevoked(held, entry)) return "revoked";
    if (isWithdrawn(held, entry)) return "withdrawn";
    if (!(entry.kind in held.kinds)) return "unknown-kind";
    if (!hasRole(held, entry)) return "role";
    return isWellFormed(held, entry) ? null : "body";
  });
}

/**
 * @param {Held} held
 * @param {Entry} entry
 */
export function counts(held, entry) {
  return whyNot(held, entry) === null;
}

/**
 * Whether an entry is of a kind that states, known here.
 * @param {Held} held
 * @param {Entry} entry
 */
export function isState(held, entry) {
  return held.kinds[entry.kind]?.does === "states";
}

/**
 * @param {Held} held
 * @param {Entry} entry
 */
export function isWellFormed(held, { kind, body }) {
  const rule = held.kinds[kind];
  return rule !== undefined && fits(body, rule.schema);
}

/**
 * What an entry of a known kind states; two agree where these are equal.
 * @param {Held} held
 * @param {Entry} entry
 */
export function says(held, { name, kind, body }) {
  const rule = held.kinds[kind];
  return held.memo.answer(`says ${name}`, () => (rule ? statement(kind, rule, body) : kind));
}

/**
 * The roles of a person on a key: the union over its cards for them.
 *
 * @param {Held} held
 * @param {string} kid
 * @param {string} person
 */
export function rolesOf(held, kid, person) {
  const cards = held.cardsOfKey(kid).filter((card) => card.person === person);
  return new Set(cards.flatMap((card) => card.roles));
}

/**
 * @param {Held} held
 * @param {Entry} entry
 */
function isOnCard(held, { kid, by }) {
  return held.cardsOfKey(kid).some((card) => card.person === by);
}

/**
 * @param {Held} held
 * @param {Entry} entry
 */
function isRevoked(held, entry) {
  if (entry.kind === "revoke") return false;
  const standing = revocations(held, entry.kid).every(({ body }) =>
    ancestors(held, /** @type {string | null} */ (body.head), entry.kid).has(entry.name),
  );
  if (standing) return false;
  return entry.kind === "admit" || !isAdmitted(held, entry);
}

/**
 * The revocations of a device that count and act: the server's own device cannot be revoked.
 *
 * @param {Held} held
 * @param {string} kid
 */
function revocations(held, kid) {
  return held.memo.answer(`revocations ${kid}`, () => {
    if (held.cardsOfKey(kid).some((card) => card.roles.includes("server"))) return [];
    return held.ofKind("revoke").filter((entry) => entry.body.device === kid && counts(held, entry));
  });
}

/**
 * @param {Held} held
 * @param {Entry} entry
 */
function isAdmitted(held, { name, kid }) {
  const admissions = held.memo.answer(`admissions ${kid}`, () =>
    held
      .ofKind("admit")
      .filter((entry) => entry.body.device === kid && entry.kid !== kid && counts(held, entry)),
  );
  return admissions.some(({ body }) =>
    Array.isArray(body.entries)
      ? body.entries.includes(name)
      : ancestors(held, /** @type {string} */ (body.head), kid).has(name),
  );
}

/**
 * @param {Held} held
 * @param {Entry} entry
 */
function isWithdrawn(held, { name, kind, by }) {
  if (NOT_WITHDRAWN.has(kind)) return false;
  return held
    .withdrawsOf(name)
    .some(
      (withdraw) =>
        counts(held, withdraw) &&
        (withdraw.by === by || rolesOf(held, withdraw.kid, withdraw.by).has("chief")),
    );
}

/**
 * @param {Held} held
 * @param {Entry} entry
 */
function hasRole(held, entry) {
  const own = rolesOf(held, entry.kid, entry.by);
  const ofKind = held.kinds[entry.kind]?.roles ?? null;
  if (ofKind !== null && !ofKind.some((role) => own.has(role))) return false;
  if (!isState(held, entry) && !BY_ROLE_OF_STEP.has(entry.kind)) return true;
  const step = stepOf(held, entry.subject)?.step;
  if (step === undefined || step.roles.length === 0) return true;
  if (step.roles.some((role) => own.has(role))) return true;
  if (entry.for === null || step.hazard) return false;
  const lent = lentRoles(held, entry.for);
  return step.roles.some((role) => lent.has(role));
}

/**
 * The roles that may be lent on a person's word: of their cards on keys that no acting revocation names.
 *
 * @param {Held} held
 * @param {string} person
 */
function lentRoles(held, person) {
  const cards = held.cardsOfPerson(person).filter((card) => revocations(held, card.kid).length === 0);
  return new Set(cards.flatMap((card) => card.roles));
}
