/** Values: what a subject's state entries come to, settled, disputed or waiting. */

import { counts, isState, isWellFormed, says } from "./judge.js";

/** @typedef {import("./entry.js").Entry} Entry */
/** @typedef {import("./held.js").Held} Held */
/** @typedef {"none" | "settled" | "disputed" | "waits"} State */

/**
 * The counting state entries of a subject that no other one replaces, by name.
 *
 * @param {Held} held
 * @param {string} subject
 * @returns {readonly Entry[]}
 */
export function values(held, subject) {
  return held.memo.answer(`values ${subject}`, () => {
    const counting = stating(held, subject);
    const replaced = reached(held, counting).here;
    return counting.filter(({ name }) => !replaced.has(name)).sort(byName);
  });
}

/**
 * The readings of a subject that count, by name.
 *
 * @param {Held} held
 * @param {string} subject
 * @returns {readonly Entry[]}
 */
export function readings(held, subject) {
  return held.memo.answer(`readings ${subject}`, () =>
    held
      .ofSubject(subject)
      .filter((entry) => entry.kind === "reading" && counts(held, entry))
      .sort(byName),
  );
}

/**
 * How the values of a subject stand to each other, and the names not here that they lead to where they wait.
 *
 * @param {Held} held
 * @param {string} subject
 * @returns {{state: State, waits_for: string[]}}
 */
export function standing(held, subject) {
  return held.memo.answer(`standing ${subject}`, () => {
    const now = values(held, subject);
    if (now.length === 0) return { state: "none", waits_for: [] };
    if (new Set(now.map((entry) => says(held, entry))).size === 1) return { state: "settled", waits_for: [] };
    const absent = [...reached(held, now).absent].sort();
    return { state: absent.length > 0 ? "waits" : "disputed", waits_for: absent };
  });
}

/**
 * One of the values of a settled subject: all of them state the same.
 *
 * @param {Held} held
 * @param {string} subject
 */
export function settled(held, subject) {
  return standing(held, subject).state === "settled" ? values(held, subject)[0] : undefined;
}

/**
 * The counting entries that replaced a state entry, through any chain, and state otherwise.
 *
 * @param {Held} held
 * @param {Entry} entry
 * @returns {readonly Entry[]}
 */
export function contradicting(held, entry) {
  return held.memo.answer(`contradicting ${entry.name}`, () =>
    stating(held, entry.subject).filter(
      (other) => says(held, other) !== says(held, entry) && reached(held, [other]).here.has(entry.name),
    ),
  );
}

/**
 * Whether an entry is a well-formed one of a kind that states, counting or not.
 *
 * @param {Held} held
 * @param {Entry} entry
 */
export function isStatement(held, entry) {
  return isState(held, entry) && isWellFormed(held, entry);
}

/**
 * The state entries of a subject that count.
 *
 * @param {Held} held
 * @param {string} subject
 */
export function stating(held, subject) {
  return held.ofSubject(subject).filter((entry) => isState(held, entry) && counts(held, entry));
}

/**
 * The names that entries of one subject lead to by `replaces`, followed through whatever of that subject is here.
 * A name carried over from another log is neither here nor absent: in this log it does nothing.
 *
 * @param {Held} held
 * @param {readonly Entry[]} entries
 */
export function reached(held, entries) {
  /** @type {Set<string>} */
  const here = new Set();
  /** @type {Set<string>} */
  const absent = new Set();
  const queue = [...entries];
  for (const { subject, replaces } of queue) {
    for (const name of replaces) {
      const entry = held.entry(name);
      if (entry === undefined) {
        if (!held.isCarried(name)) absent.add(name);
      } else if (entry.subject === subject && !here.has(name)) {
        here.add(name);
        queue.push(entry);
      }
    }
  }
  return { here, absent };
}

/**
 * @param {Entry} a
 * @param {Entry} b
 */
export function byName(a, b) {
  return a.name < b.name ? -1 : 1;
}
