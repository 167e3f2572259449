/** Cards: what makes a key somebody's, signed by the unit; and the unit's own keys. */

import { readIJson } from "./ijson.js";
import { importKey, publicJwk, split, thumbprint, verify } from "./jws.js";

/** @typedef {import("./jws.js").Jwk} Jwk */
/** @typedef {{[member: string]: import("./ijson.js").Json}} Members */
/**
 * A person, their roles and a device's key, as the unit signed them.
 * @typedef {Readonly<{jws: string, kid: string, unit: string, jwk: Jwk, person: string, name: string,
 *   roles: readonly string[], date: string}>} Card
 */

/** The text is no card, and no statement of a next unit key, that this unit's keys vouch for. */
export class NotACard extends Error {}

/**
 * The cards that a pinned unit key, and each unit key that a believed one signed, vouch for.
 *
 * Cards and statements come in any order: what a key not yet believed signed waits for it.
 */
export class Cards {
  /** @type {Map<string, CryptoKey>} */
  #unitKeys = new Map();
  /** @type {Map<string, string[]>} */
  #waiting = new Map();
  /** @type {Map<string, Card[]>} */
  #byKey = new Map();
  /** @type {Map<string, CryptoKey>} */
  #keys = new Map();
  #taken = new Set();
  #pinned;

  /** @param {JsonWebKey} unitKey the one that the invitation pinned */
  constructor(unitKey) {
    this.#pinned = unitKey;
  }

  /**
   * Take a card or a statement of a unit key.
   *
   * @param {string} jws
   * @returns {Promise<Card[]>} the cards that are believed now and were not before
   * @throws {NotACard} where it cannot be read or its signature is false
   */
  async take(jws) {
    if (this.#taken.has(jws)) return [];
    if (this.#unitKeys.size === 0) await this.#believe(this.#pinned);
    const { signer, payload } = opened(jws);
    const key = this.#unitKeys.get(signer);
    if (key === undefined) {
      this.#waiting.set(signer, [...(this.#waiting.get(signer) ?? []), jws]);
      return [];
    }
    if (!(await verify(jws, key))) throw new NotACard("the signature on this card is false");
    this.#taken.add(jws);
    if (payload.type === "unit-key") return this.#takeUnitKey(payload.jwk);
    const card = await readCard(jws, payload);
    this.#keys.set(card.kid, await importKey(card.jwk));
    this.#byKey.set(card.kid, [...this.of(card.kid), card]);
    return [card];
  }

  /**
   * The cards of a device's key.
   * @param {string} kid
   * @returns {readonly Card[]}
   */
  of(kid) {
    return this.#byKey.get(kid) ?? [];
  }

  /**
   * The key of a device that has a card.
   * @param {string} kid
   */
  key(kid) {
    return this.#keys.get(kid);
  }

  /** @param {unknown} jwk */
  async #believe(jwk) {
    const kid = await thumbprint(jwk);
    this.#unitKeys.set(kid, await importKey(jwk));
    return kid;
  }

  /**
   * @param {unknown} jwk
   * @returns {Promise<Card[]>}
   */
  async #takeUnitKey(jwk) {
    const kid = await this.#believe(jwk);
    const waiting = this.#waiting.get(kid) ?? [];
    this.#waiting.delete(kid);
    const cards = [];
    for (const jws of waiting) cards.push(...(await this.take(jws).catch(noCard)));
    return cards;
  }
}

/**
 * @param {unknown} fault
 * @returns {Card[]}
 */
function noCard(fault) {
  if (fault instanceof NotACard) return [];
  throw fault;
}

/** @param {string} jws */
function opened(jws) {
  try {
    const { kid, payload } = split(jws);
    const members = readIJson(payload);
    if (typeof members !== "object" || members === null || Array.isArray(members)) {
      throw new NotACard("it is not an object");
    }
    if (members.type !== "card" && members.type !== "unit-key") {
      throw new NotACard("its type is neither card nor unit-key");
    }
    publicJwk(members.jwk);
    return { signer: kid, payload: members };
  } catch (fault) {
    throw new NotACard(`this card cannot be read: ${fault instanceof Error ? fault.message : fault}`);
  }
}

/**
 * @param {string} jws
 * @param {Members} payload
 * @returns {Promise<Card>}
 */
async function readCard(jws, payload) {
  const { roles } = payload;
  if (!Array.isArray(roles) || !roles.every((role) => typeof role === "string")) {
    throw new NotACard("this card cannot be read: its roles are not a list of words");
  }
  const [unit, person, name, date] = ["unit", "person", "name", "date"].map((member) =>
    word(payload, member),
  );
  const jwk = publicJwk(payload.jwk);
  return Object.freeze(
    /** @type {Card} */ ({ jws, kid: await thumbprint(jwk), unit, jwk, person, name, roles, date }),
  );
}

/**
 * @param {Members} payload
 * @param {string} member
 */
function word(payload, member) {
  const value = payload[member];
  if (typeof value !== "string" || value === "") {
    throw new NotACard(`this card cannot be read: ${member} is missing or is not text`);
  }
  return value;
}
