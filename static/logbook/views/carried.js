/** What is carried over on a thing of kit, as the views show it: by log, beside what this log says. */

import { counts } from "../judge.js";
import { together } from "../together.js";
import { allShown, shown } from "./shown.js";

/** @typedef {import("../held.js").Held} Held */
/** @typedef {import("./shown.js").Shown} Shown */
/** @typedef {{log: string, values: Shown[], faults: Shown[], tests: Shown[]}} Carried */
/** @typedef {{tag: string, state: string, values: (Shown & {log: string})[]}} UnfitTogether */

/**
 * By log, what other logs say of a thing: the values that no log has replaced, its faults and tests.
 *
 * @param {Held} held
 * @param {string} tag
 * @returns {Carried[]}
 */
export function carried(held, tag) {
  return held
    .logsTogether()
    .filter((other) => other !== held)
    .map((other) => ({
      log: other.log,
      values: valuesIn(held, other.log, tag),
      faults: counting(other, "fault", tag),
      tests: counting(other, "test", tag),
    }))
    .filter(({ values, faults, tests }) => values.length + faults.length + tests.length > 0);
}

/**
 * The things that another log says are not serviceable, or of which two logs differ: all values, by log.
 *
 * @param {Held} held
 * @param {readonly {tag: string}[]} kit
 * @returns {UnfitTogether[]}
 */
export function unfitTogether(held, kit) {
  return kit.flatMap(({ tag }) => {
    const { state, values } = together(held, `kit/${tag}/state`);
    const fit = values.every(({ entry }) => entry.body.state === "serviceable");
    if (fit || values.every(({ log }) => log === held.log)) return [];
    return [{ tag, state, values: values.map(({ log, entry }) => ({ log, ...shown(entry) })) }];
  });
}

/**
 * @param {Held} held
 * @param {string} log
 * @param {string} tag
 */
function valuesIn(held, log, tag) {
  const stated = held.logsTogether().flatMap((one) => one.ofThing(tag).map(({ subject }) => subject));
  return [...new Set(stated)]
    .sort()
    .flatMap((subject) => together(held, subject).values)
    .filter((said) => said.log === log)
    .map(({ entry }) => shown(entry));
}

/**
 * @param {Held} other
 * @param {string} kind
 * @param {string} tag
 */
function counting(other, kind, tag) {
  return allShown(other.ofThing(tag).filter((entry) => entry.kind === kind && counts(other, entry)));
}
