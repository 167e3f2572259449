/** What comes over the wire, verified: entries whose card is here go on, others wait for it, false ones are refused. */

import { Cards, NotACard } from "./card.js";
import { parseEntry, Refused } from "./entry.js";
import { verify } from "./jws.js";

/** @typedef {import("./entry.js").Entry} Entry */
/** @typedef {import("./card.js").Card} Card */

/** Signatures that are verified side by side: enough to keep the browser's threads busy, few enough to hold. */
const BATCH = 200;

export class Intake {
  #log;
  #cards;
  /** @type {Map<string, Map<string, Entry>>} */
  #waiting = new Map();
  /** @type {Set<string>} */
  #good = new Set();

  /**
   * Why a text was refused, in plain words, by the text.
   * @type {Map<string, string>}
   */
  refused = new Map();

  /**
   * @param {string} log
   * @param {JsonWebKey} unitKey the pinned one
   */
  constructor(log, unitKey) {
    this.#log = log;
    this.#cards = new Cards(unitKey);
  }

  /** Names of the entries that wait for a card. */
  get waiting() {
    const entries = [...this.#waiting.values()].flatMap((texts) => [...texts.values()]);
    return new Set(entries.map(({ name }) => name));
  }

  /**
   * Take a card or a statement of a unit key.
   *
   * @param {string} jws
   * @returns {Promise<{cards: Card[], entries: Entry[]}>} the cards believed now, and the entries that waited for them
   */
  async card(jws) {
    const cards = await this.#cards.take(jws).catch((fault) => this.#refuse(jws, fault, NotACard) ?? []);
    const texts = cards.flatMap(({ kid }) => [...(this.#waiting.get(kid)?.keys() ?? [])]);
    for (const { kid } of cards) this.#waiting.delete(kid);
    return { cards, entries: await this.entries(texts) };
  }

  /**
   * Take entries. Of one name one signature is kept, the first that verified.
   *
   * @param {readonly string[]} jwss
   * @returns {Promise<Entry[]>} those whose signature is good, none twice, and none that was given before
   */
  async entries(jwss) {
    /** @type {Entry[]} */
    const entries = [];
    for (let first = 0; first < jwss.length; first += BATCH) {
      const batch = jwss.slice(first, first + BATCH);
      for (const entry of await Promise.all(batch.map((jws) => this.#read(jws)))) {
        if (entry === null || this.#good.has(entry.name)) continue;
        this.#good.add(entry.name);
        entries.push(entry);
      }
    }
    return entries;
  }

  /** @param {string} jws */
  async #read(jws) {
    try {
      const entry = await parseEntry(jws, this.#log);
      if (this.#good.has(entry.name)) return null;
      const key = this.#cards.key(entry.kid);
      if (key === undefined) return this.#wait(entry);
      if (!(await verify(jws, key))) throw new Refused("the signature of this entry is false");
      return entry;
    } catch (fault) {
      return this.#refuse(jws, fault, Refused);
    }
  }

  /** @param {Entry} entry */
  #wait(entry) {
    const texts = this.#waiting.get(entry.kid) ?? new Map();
    this.#waiting.set(entry.kid, texts.set(entry.jws, entry));
    return null;
  }

  /**
   * @param {string} jws
   * @param {unknown} fault
   * @param {new () => Error} expected
   */
  #refuse(jws, fault, expected) {
    if (!(fault instanceof expected)) throw fault;
    this.refused.set(jws, fault.message);
    return null;
  }
}
