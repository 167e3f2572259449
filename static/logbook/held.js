/** What is held of a log: entries with a card, found by name, subject, kind and device, and what changes by one more. */

import { isDigest } from "./jws.js";
import { Memo } from "./memo.js";
import { Past } from "./past.js";

/** @typedef {import("./entry.js").Entry} Entry */
/** @typedef {import("./card.js").Card} Card */
/** @typedef {import("./kinds.js").Kinds} Kinds */
/** @typedef {{id: string, text: string}} SheetText a sheet as served */

/**
 * A reading method notes what is being computed as resting on what it read (see `Memo`), unless it says otherwise.
 */
export class Held {
  memo = new Memo();
  past = new Past();
  /** @type {Map<string, Entry>} */
  #entries = new Map();
  /** @type {Map<string, Entry[]>} */
  #found = new Map();
  /** @type {Map<string, Card[]>} */
  #cards = new Map();
  /** @type {Map<string, string>} */
  #files = new Map();
  /** @type {Map<string, string>} */
  #digests = new Map();
  /** @type {Map<string, Held>} */
  #carried = new Map();

  /**
   * @param {string} log
   * @param {Kinds} kinds
   * @param {readonly SheetText[]} sheets
   */
  constructor(log, kinds, sheets) {
    this.log = log;
    // Without a prototype, a kind called "constructor" is as unknown as any other.
    this.kinds = /** @type {Kinds} */ (Object.assign(Object.create(null), kinds));
    this.sheets = sheets;
  }

  /** @returns {IterableIterator<Entry>} all that is held; notes nothing */
  all() {
    return this.#entries.values();
  }

  /**
   * The entry of this name, if it is here.
   * @param {string} name
   */
  entry(name) {
    const entry = this.#entries.get(name);
    if (entry === undefined) this.memo.restsOn(`here ${name}`);
    return entry;
  }

  /**
   * Whether this name is that of an entry of another log, carried over: nobody waits for it to arrive here.
   * @param {string} name
   */
  isCarried(name) {
    this.memo.restsOn(`here ${name}`);
    return [...this.#carried.values()].some((other) => other.#entries.has(name));
  }

  /** This log and those carried over, by their ids; notes nothing. @returns {Held[]} */
  logsTogether() {
    return [this, ...this.#carried.values()].sort((a, b) => (a.log < b.log ? -1 : 1));
  }

  /** @param {string} subject */
  ofSubject(subject) {
    return this.#find(`subject ${subject}`);
  }

  /** Entries written on a thing of kit, at `kit/TAG` and below. @param {string} tag */
  ofThing(tag) {
    return this.#find(`thing ${tag}`);
  }

  /** @param {string} kind */
  ofKind(kind) {
    return this.#find(`kind ${kind}`);
  }

  /** @param {string} kid */
  ofDevice(kid) {
    return this.#find(`device ${kid}`);
  }

  /** @param {string} subject */
  eventsAt(subject) {
    return this.#find(`events ${subject}`);
  }

  /**
   * The withdraws that name this entry.
   * @param {string} name
   */
  withdrawsOf(name) {
    return this.#find(`withdraws ${name}`);
  }

  /** Every subject that something is written on; notes nothing. */
  subjects() {
    return [...this.#found.keys()].filter(isSubject).map((key) => key.slice("subject ".length));
  }

  /** Every device that has a card and something here; notes nothing. */
  devices() {
    return [...this.#found.keys()].filter(isDevice).map((key) => key.slice("device ".length));
  }

  /**
   * The cards of a device's key.
   * @param {string} kid
   */
  cardsOfKey(kid) {
    this.memo.restsOn(`cards ${kid}`);
    return this.#cards.get(`cards ${kid}`) ?? [];
  }

  /** @param {string} person */
  cardsOfPerson(person) {
    this.memo.restsOn(`person ${person}`);
    return this.#cards.get(`person ${person}`) ?? [];
  }

  /**
   * A file of sheets that an amend names, if it is here.
   * @param {string} digest
   */
  file(digest) {
    this.memo.restsOn(`file ${digest}`);
    return this.#files.get(digest);
  }

  /**
   * The digest of a sheet as it stands, amends and all.
   * @param {string} sheet
   */
  digest(sheet) {
    this.memo.restsOn(`digest ${sheet}`);
    return this.#digests.get(sheet);
  }

  /**
   * Take an entry whose signature and card are good.
   * @param {Entry} entry
   * @returns {Set<string>} keys of the answers that no longer hold
   */
  add(entry) {
    this.#entries.set(entry.name, entry);
    const places = [`here ${entry.name}`, ...this.#places(entry)];
    for (const place of places.slice(1)) {
      const found = this.#found.get(place);
      if (found) found.push(entry);
      else this.#found.set(place, [entry]);
    }
    for (const name of this.past.add(entry)) places.push(`past ${name}`);
    return this.#forget(places);
  }

  /**
   * @param {Card} card
   * @returns {Set<string>}
   */
  addCard(card) {
    const places = [`cards ${card.kid}`, `person ${card.person}`];
    for (const place of places) this.#cards.set(place, [...(this.#cards.get(place) ?? []), card]);
    return this.#forget(places);
  }

  /**
   * @param {string} digest
   * @param {string} text
   * @returns {Set<string>}
   */
  addFile(digest, text) {
    this.#files.set(digest, text);
    return this.#forget([`file ${digest}`]);
  }

  /**
   * @param {string} sheet
   * @param {string} digest
   * @returns {Set<string>}
   */
  setDigest(sheet, digest) {
    if (this.#digests.get(sheet) === digest) return new Set();
    this.#digests.set(sheet, digest);
    return this.#forget([`digest ${sheet}`]);
  }

  /**
   * Take what another log says, or more of it, carried over.
   * @param {Held} other
   * @returns {Set<string>}
   */
  carry(other) {
    this.#carried.set(other.log, other);
    return this.#forget([...other.all()].map(({ name }) => `here ${name}`));
  }

  /**
   * @param {string} key
   * @returns {readonly Entry[]}
   */
  #find(key) {
    this.memo.restsOn(key);
    return this.#found.get(key) ?? [];
  }

  /** @param {Entry} entry */
  #places(entry) {
    const { subject, kind, kid, body } = entry;
    const places = [`subject ${subject}`, `kind ${kind}`, `device ${kid}`];
    const [room, tag] = subject.split("/");
    if (room === "kit" && tag !== undefined) places.push(`thing ${tag}`);
    if (kind === "event") places.push(`events ${subject}`);
    if (kind === "withdraw" && Array.isArray(body.entries)) {
      for (const name of new Set(body.entries.filter(isDigest))) places.push(`withdraws ${name}`);
    }
    return places;
  }

  /** @param {string[]} keys */
  #forget(keys) {
    /** @type {Set<string>} */
    const forgotten = new Set();
    for (const key of keys) for (const one of this.memo.forget(key)) forgotten.add(one);
    return forgotten;
  }
}

/** @param {string} key */
function isSubject(key) {
  return key.startsWith("subject ");
}

/** @param {string} key */
function isDevice(key) {
  return key.startsWith("device ");
}
