/** The fold: a log's entries and cards in, what they come to out. Nothing of it is ever stored as truth. */

import { heads } from "./chains.js";
import { gate, isCountedAt, isDone } from "./gates.js";
import { Held } from "./held.js";
import { Intake } from "./intake.js";
import { counts, whyNot } from "./judge.js";
import { sha256 } from "./jws.js";
import { lasting } from "./lasting.js";
import { marks } from "./marks.js";
import { isAdded, missingFiles, places, sheets, signedText } from "./sheets.js";
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

const NO_STEP = { done: false, ended: false, stale: false, until: null };
const TOUCHES_SHEETS = new Set(["amend", "revoke", "admit", "withdraw"]);

/** @typedef {{log: string, entries: string[]}} Carried what another log of the unit says of kit, entries verbatim */

export class Fold {
  #log;
  #unitKey;
  #intake;
  /** @type {string[]} */
  #cards = [];
  /** @type {Map<string, Fold>} */
  #carried = new Map();
  #held;
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
    this.#unitKey = unitKey;
    this.#intake = new Intake(log, unitKey);
    this.#held = new Held(log, kinds, sheets);
    this.#files = { ...files };
  }

  /** What is held, for the views and for those who write. */
  get held() {
    return this.#held;
  }

  /** Why a text was refused, in plain words, by the text. */
  get refused() {
    return /** @type {ReadonlyMap<string, string>} */ (this.#intake.refused);
  }

  /**
   * Take cards and statements of unit keys, in any order.
   *
   * @param {readonly string[]} jwss
   * @returns {Promise<string[]>} the subjects that may stand otherwise now
   */
  addCards(jwss) {
    return this.#inTurn(async (changed) => {
      this.#cards.push(...jwss);
      for (const other of this.#carried.values()) {
        for (const subject of await other.addCards(jwss)) changed.add(subject);
        note(changed, this.#held.carry(other.held));
      }
      let believed = 0;
      for (const jws of jwss) {
        const { cards, entries } = await this.#intake.card(jws);
        for (const card of cards) note(changed, this.#held.addCard(card));
        this.#add(entries, changed);
        believed += cards.length;
      }
      if (believed > 0) await this.#renewSheets(changed);
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
      const entries = await this.#intake.entries(jwss);
      this.#add(entries, changed);
      if (!this.#sheetsKnown || entries.some(({ kind }) => TOUCHES_SHEETS.has(kind))) {
        await this.#renewSheets(changed);
      }
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

  /**
   * Take what other logs say, or more of it; it stays outside this log's chains and values.
   *
   * @param {readonly Carried[]} carried
   * @returns {Promise<string[]>} the subjects that may stand otherwise now, of any log
   */
  addCarried(carried) {
    return this.#inTurn(async (changed) => {
      for (const { log, entries } of carried) {
        if (log === this.#log) continue;
        const other = await this.#other(log);
        for (const subject of await other.addEntries(entries)) changed.add(subject);
        note(changed, this.#held.carry(other.held));
      }
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
    return this.#intake.waiting.has(name) ? { counts: false, why: "no-card" } : undefined;
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

  /** @returns {Answer["gates"]} */
  gates() {
    const subjects = [...places(this.#held).keys()];
    const gates = subjects.map((subject) => /** @type {const} */ ([subject, this.gate(subject)]));
    return Object.fromEntries(gates.flatMap(([subject, gate]) => (gate ? [[subject, gate]] : [])));
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
    const steps = places(held).keys();
    const counting = entries.filter((entry) => counts(held, entry));
    const subjects = new Set([...counting.map(({ subject }) => subject), ...steps]);
    const names = [...entries.map(({ name }) => name), ...this.#intake.waiting];
    return {
      entries: Object.fromEntries(names.map((name) => [name, this.judgement(name) ?? { counts: false }])),
      subjects: Object.fromEntries([...subjects].map((subject) => [subject, this.subject(subject)])),
      gates: this.gates(),
      signatures: this.signatures(),
      devices: this.devices(),
    };
  }

  /**
   * The fold of another log.
   * @param {string} log
   */
  async #other(log) {
    const known = this.#carried.get(log);
    if (known) return known;
    const made = new Fold({ log, unitKey: this.#unitKey, kinds: this.#held.kinds, sheets: [] });
    this.#carried.set(log, made);
    await made.addCards(this.#cards);
    return made;
  }

  get #sheetsKnown() {
    return this.#held.sheets.every(({ id }) => this.#held.digest(id) !== undefined);
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

  /**
   * @param {readonly Entry[]} entries
   * @param {Set<string>} changed
   */
  #add(entries, changed) {
    for (const entry of entries) note(changed, this.#held.add(entry)).add(entry.subject);
  }

  /**
   * Hashes are computed here, where one may wait for them, and only read when answering.
   * @param {Set<string>} changed
   */
  async #renewSheets(changed) {
    const held = this.#held;
    for (const digest of missingFiles(held)) {
      const text = this.#files[digest];
      if (text !== undefined && isAdded(held.kinds, text) && (await sha256(text)) === digest)
        note(changed, held.addFile(digest, text));
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
