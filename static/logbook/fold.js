/** The fold: a log's entries and cards in, what they come to out. Nothing of it is ever stored as truth. */

import { Cards, NotACard } from "./card.js";
import { heads } from "./chains.js";
import { parseEntry, Refused } from "./entry.js";
import { gate, isCountedAt, isDone } from "./gates.js";
import { Held } from "./held.js";
import { counts, whyNot } from "./judge.js";
import { sha256, verify } from "./jws.js";
import { lasting } from "./lasting.js";
import { marks } from "./marks.js";
import { missingFiles, places, sheets, signedText } from "./sheets.js";
import { changedSince, signs } from "./signatures.js";
import { readings, standing, values } from "./values.js";

/** @typedef {import("./entry.js").Entry} Entry */
/** @typedef {import("./gates.js").Gate} Gate */
/** @typedef {import("./sheets.js").Step} Step */
/**
 * How a subject stands; `ended`, `stale` and `until` are false, false and null where it is no step.
 * @typedef {{values: string[], state: import("./values.js").State, waits_for: string[], done: boolean, ended: boolean,
 *   until: string | null, stale: boolean, marks: Record<string, readonly string[]>}} Subject
 */
/**
 * The whole answer, as the shared vectors state it.
 * @typedef {{entries: Record<string, {counts: boolean, why?: string}>, subjects: Record<string, Subject>,
 *   gates: Record<string, Gate>, signatures: Record<string, import("./signatures.js").Change>,
 *   devices: Record<string, import("./chains.js").Heads>}} Answer
 */

const BATCH = 200;
const NO_STEP = { done: false, ended: false, stale: false, until: null };
const TOUCHES_SHEETS = new Set(["amend", "revoke", "admit", "withdraw"]);

export class Fold {
  #log;
  #cards;
  #held;
  /** @type {Map<string, Map<string, Entry>>} */
  #waiting = new Map();
  /** @type {Map<string, string>} */
  #refused = new Map();
  /** @type {Record<string, string>} */
  #files;
  /** @type {Promise<unknown>} */
  #turn = Promise.resolve();

  /**
   * @param {{log: string, unitKey: JsonWebKey, kinds: import("./kinds.js").Kinds,
   *   sheets: import("./held.js").SheetText[], files?: Record<string, string>}} history `unitKey` is the pinned one;
   *   `files` are the texts that amends name, by digest
   */
  constructor({ log, unitKey, kinds, sheets, files = {} }) {
    this.#log = log;
    this.#cards = new Cards(unitKey);
    this.#held = new Held(kinds, sheets);
    this.#files = files;
  }

  /** What is held, for the views and for those who write. */
  get held() {
    return this.#held;
  }

  /** Why a text was refused, in plain words, by the text. */
  get refused() {
    return /** @type {ReadonlyMap<string, string>} */ (this.#refused);
  }

  /**
   * Take cards and statements of unit keys, in any order.
   *
   * @param {readonly string[]} jwss
   * @returns {Promise<string[]>} the subjects that may stand otherwise now
   */
  addCards(jwss) {
    return this.#inTurn(async (changed) => {
      for (const jws of jwss) {
        for (const card of await this.#takeCard(jws)) {
          note(changed, this.#held.addCard(card));
          const waiting = this.#waiting.get(card.kid) ?? new Map();
          this.#waiting.delete(card.kid);
          await this.#addBatch([...waiting.keys()], changed);
        }
      }
      await this.#renewSheets(changed);
    });
  }

  /**
   * Take entries, in any order. Each is read and verified, whatever it came from; what is held already is not again.
   *
   * @param {readonly string[]} jwss
   * @returns {Promise<string[]>} the subjects that may stand otherwise now
   */
  addEntries(jwss) {
    return this.#inTurn(async (changed) => {
      let touched = false;
      for (let first = 0; first < jwss.length; first += BATCH) {
        const added = await this.#addBatch(jwss.slice(first, first + BATCH), changed);
        touched ||= added.some(({ kind }) => TOUCHES_SHEETS.has(kind));
      }
      if (touched || !this.#sheetsKnown) await this.#renewSheets(changed);
    });
  }

  /**
   * Take files that amends name.
   *
   * @param {Record<string, string>} files texts by digest
   * @returns {Promise<string[]>} the subjects that may stand otherwise now
   */
  addFiles(files) {
    return this.#inTurn(async (changed) => {
      Object.assign(this.#files, files);
      await this.#renewSheets(changed);
    });
  }

  /** Digests of the files that amends name and that are not here. */
  missingFiles() {
    return missingFiles(this.#held);
  }

  /**
   * @param {string} name
   * @returns {Entry | undefined}
   */
  entry(name) {
    return this.#held.entry(name);
  }

  /**
   * Whether an entry counts and, where not, the first reason.
   *
   * @param {string} name
   * @returns {{counts: boolean, why?: string} | undefined} undefined: no such entry here
   */
  judgement(name) {
    const entry = this.#held.entry(name);
    if (entry) {
      const why = whyNot(this.#held, entry);
      return why === null ? { counts: true } : { counts: false, why };
    }
    return this.#waitingNames().has(name) ? { counts: false, why: "no-card" } : undefined;
  }

  /**
   * @param {string} subject
   * @returns {Subject}
   */
  subject(subject) {
    const held = this.#held;
    return held.memo.answer(`answer ${subject}`, () => {
      const place = places(held).get(subject);
      const now = values(held, subject);
      const reads = place?.item === null && place.step.asks === "reading";
      const marked = reads ? [...now, ...readings(held, subject)] : now;
      return {
        values: now.map(({ name }) => name),
        ...standing(held, subject),
        ...(place ? standingOfPart(held, place, subject) : NO_STEP),
        marks: Object.fromEntries(
          marked.map((entry) => [entry.name, marks(held, entry)]).filter(([, found]) => found?.length),
        ),
      };
    });
  }

  /**
   * @param {string} subject
   * @returns {Gate | undefined} undefined: no step, or a withdrawn one
   */
  gate(subject) {
    const place = places(this.#held).get(subject);
    if (place?.item !== null || place.withdrawn) return undefined;
    return gate(this.#held, place.step).gate;
  }

  /** @returns {Answer["signatures"]} */
  signatures() {
    return Object.fromEntries(signs(this.#held).map((sign) => [sign.name, changedSince(this.#held, sign)]));
  }

  /** @returns {Answer["devices"]} */
  devices() {
    return Object.fromEntries(this.#held.devices().map((kid) => [kid, heads(this.#held, kid)]));
  }

  /** @returns {Answer} */
  answer() {
    const held = this.#held;
    const entries = [...held.all()];
    const steps = [...places(held)];
    const counting = entries.filter((entry) => counts(held, entry));
    const subjects = new Set([
      ...counting.map(({ subject }) => subject),
      ...steps.map(([subject]) => subject),
    ]);
    const names = [...entries.map(({ name }) => name), ...this.#waitingNames()];
    const gates = steps.flatMap(([subject]) => {
      const stands = this.gate(subject);
      return stands ? [/** @type {const} */ ([subject, stands])] : [];
    });
    return {
      entries: Object.fromEntries(names.map((name) => [name, this.judgement(name) ?? { counts: false }])),
      subjects: Object.fromEntries([...subjects].map((subject) => [subject, this.subject(subject)])),
      gates: Object.fromEntries(gates),
      signatures: this.signatures(),
      devices: this.devices(),
    };
  }

  get #sheetsKnown() {
    return this.#held.sheets.every(({ id }) => this.#held.digest(id) !== undefined);
  }

  #waitingNames() {
    const names = [...this.#waiting.values()].flatMap((entries) =>
      [...entries.values()].map(({ name }) => name),
    );
    return new Set(names);
  }

  /**
   * One after the other, so that what is being verified and what is being added do not interleave.
   *
   * @param {(changed: Set<string>) => Promise<void>} work notes the answers that no longer hold
   * @returns {Promise<string[]>}
   */
  #inTurn(work) {
    /** @type {Set<string>} */
    const changed = new Set();
    const turn = this.#turn.then(() => work(changed));
    this.#turn = turn.catch(() => undefined);
    return turn.then(() => [...changed].sort());
  }

  /** @param {string} jws */
  async #takeCard(jws) {
    try {
      return await this.#cards.take(jws);
    } catch (fault) {
      if (!(fault instanceof NotACard)) throw fault;
      this.#refused.set(jws, fault.message);
      return [];
    }
  }

  /**
   * @param {readonly string[]} jwss
   * @param {Set<string>} changed
   */
  async #addBatch(jwss, changed) {
    const read = await Promise.all(jwss.map((jws) => this.#read(jws)));
    /** @type {Entry[]} */
    const added = [];
    for (const entry of read) {
      if (entry === null || this.#held.entry(entry.name)) continue;
      note(changed, this.#held.add(entry)).add(entry.subject);
      added.push(entry);
    }
    return added;
  }

  /**
   * An entry whose signature is good; null where it is refused, here already, or waits for its card.
   * @param {string} jws
   */
  async #read(jws) {
    try {
      const entry = await parseEntry(jws, this.#log);
      if (this.#held.entry(entry.name)) return null;
      const key = this.#cards.key(entry.kid);
      if (key === undefined) {
        const waiting = this.#waiting.get(entry.kid) ?? new Map();
        this.#waiting.set(entry.kid, waiting.set(jws, entry));
        return null;
      }
      if (!(await verify(jws, key))) throw new Refused("the signature of this entry is false");
      return entry;
    } catch (fault) {
      if (!(fault instanceof Refused)) throw fault;
      this.#refused.set(jws, fault.message);
      return null;
    }
  }

  /**
   * Hashes are computed here, where one may wait for them, and only read when answering.
   * @param {Set<string>} changed
   */
  async #renewSheets(changed) {
    const held = this.#held;
    for (const digest of missingFiles(held)) {
      const text = this.#files[digest];
      if (text !== undefined && (await sha256(text)) === digest) note(changed, held.addFile(digest, text));
    }
    for (const id of sheets(held).keys()) {
      const text = signedText(held, id);
      if (text !== undefined) note(changed, held.setDigest(id, await sha256(text)));
    }
  }
}

/**
 * @param {Held} held
 * @param {import("./sheets.js").Place} place
 * @param {string} subject a step, or an item of one
 */
function standingOfPart(held, { step, item }, subject) {
  if (item === null) return { done: isDone(held, step), ...lasting(held, step) };
  return { done: isCountedAt(held, subject, step.items?.[item] ?? ""), ...lasting(held, step, subject) };
}

/**
 * @param {Set<string>} changed subjects
 * @param {Set<string>} forgotten keys of answers
 */
function note(changed, forgotten) {
  for (const key of forgotten) {
    if (key.startsWith("answer ")) changed.add(key.slice("answer ".length));
    if (key.startsWith("gate ")) changed.add(key.slice("gate ".length));
  }
  return changed;
}
