/**
 * All logs of a unit together: what this one and those carried over state of a subject, side by side.
 * Here `replaces` acts across logs. In a log's own values and gates it does not.
 */

import { says } from "./judge.js";
import { stating } from "./values.js";

/** @typedef {import("./entry.js").Entry} Entry */
/** @typedef {import("./held.js").Held} Held */
/** @typedef {{log: string, entry: Entry}} Said an entry, and the log that it stands in */

/**
 * How a subject stands over all logs: each log judges its own entries, any log's may replace them. The values come
 * by log and name.
 *
 * @param {Held} held
 * @param {string} subject
 * @returns {{state: import("./values.js").State, values: Said[]}}
 */
export function together(held, subject) {
  const logs = held.logsTogether();
  const counting = logs.flatMap((one) => stating(one, subject).map((entry) => ({ log: one.log, entry })));
  const replaced = reached(logs, counting).here;
  const values = counting.filter(({ entry }) => !replaced.has(entry.name)).sort(byLogAndName);
  if (values.length === 0) return { state: "none", values };
  if (new Set(values.map(({ entry }) => says(held, entry))).size === 1) return { state: "settled", values };
  return { state: reached(logs, values).absent ? "waits" : "disputed", values };
}

/**
 * The names that entries lead to by `replaces`, through those of their subject; whether one is in no log here.
 *
 * @param {readonly Held[]} logs
 * @param {readonly Said[]} said
 */
function reached(logs, said) {
  /** @type {Set<string>} */
  const here = new Set();
  let absent = false;
  const queue = said.map(({ entry }) => entry);
  for (const { subject, replaces } of queue) {
    for (const name of replaces) {
      const entry = logs.map((log) => log.entry(name)).find((found) => found !== undefined);
      if (entry === undefined) absent = true;
      else if (entry.subject === subject && !here.has(name)) {
        here.add(name);
        queue.push(entry);
      }
    }
  }
  return { here, absent };
}

/**
 * @param {Said} a
 * @param {Said} b
 */
function byLogAndName(a, b) {
  if (a.log !== b.log) return a.log < b.log ? -1 : 1;
  return a.entry.name < b.entry.name ? -1 : 1;
}
