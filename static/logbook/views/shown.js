/** Entries as the views show them, and the few questions that several views ask. */

import { counts } from "../judge.js";
import { byName, settled, standing, values } from "../values.js";

/** @typedef {import("../entry.js").Entry} Entry */
/** @typedef {import("../fold.js").Fold} Fold */
/** @typedef {import("../held.js").Held} Held */
/**
 * An entry as a view shows it.
 * @typedef {{name: string, by: string, for: string | null, witness: string | null, at: string, kind: string,
 *   body: import("../entry.js").Members, key: string}} Shown
 */

/**
 * @param {Entry} entry
 * @returns {Shown}
 */
export function shown({ name, by, for: lent, witness, at, kind, body, kid }) {
  return { name, by, for: lent, witness, at, kind, body, key: kid };
}

/** @param {readonly Entry[]} entries */
export function allShown(entries) {
  return [...entries].sort(byName).map(shown);
}

/**
 * The counting entries of one kind that a test picks.
 *
 * @param {Held} held
 * @param {string} kind
 * @param {(entry: Entry) => boolean} [picks]
 */
export function countingOf(held, kind, picks = () => true) {
  return allShown(held.ofKind(kind).filter((entry) => picks(entry) && counts(held, entry)));
}

/**
 * Whether a subject is another one or below it.
 *
 * @param {string} subject
 * @param {string} top
 */
export function isAtOrBelow(subject, top) {
  return subject === top || subject.startsWith(`${top}/`);
}

/**
 * The value of a settled subject as it is shown; null where there is none or several.
 *
 * @param {Held} held
 * @param {string} subject
 */
export function settledShown(held, subject) {
  const value = settled(held, subject);
  return value === undefined ? null : shown(value);
}

/**
 * The state of a thing of kit; null where nobody has written one.
 *
 * @param {Held} held
 * @param {string} tag
 * @returns {string | null} "serviceable", "suspect", "unserviceable" or "disputed"
 */
export function stateOf(held, tag) {
  const subject = `kit/${tag}/state`;
  const { state } = standing(held, subject);
  if (state === "none") return null;
  const value = settled(held, subject);
  return value?.kind === "state" ? String(value.body.state) : "disputed";
}

/**
 * @param {Held} held
 * @param {string} subject
 */
export function valuesShown(held, subject) {
  return allShown(values(held, subject));
}
