/** Marks on what was done: what its writer had not seen, had not got, or leant on though it was taken back. */

import { awaited } from "./gates.js";
import { counts, isState, whyNot } from "./judge.js";
import { parts, stepOf } from "./sheets.js";
import { contradicting, isStatement } from "./values.js";

/** @typedef {import("./entry.js").Entry} Entry */
/** @typedef {import("./held.js").Held} Held */
/** @typedef {"passed" | "rested-on-taken-back" | "rests-on-absent" | "without-sight"} Mark */

/**
 * The marks of a value or a reading, sorted; a reopen has none.
 *
 * @param {Held} held
 * @param {Entry} entry
 * @returns {readonly Mark[]}
 */
export function marks(held, entry) {
  if (entry.kind === "reopen") return [];
  return held.memo.answer(`marks ${entry.name}`, () => {
    const here = entry.rests_on.map((name) => held.entry(name)).filter((one) => one !== undefined);
    const isAbsent = (/** @type {string} */ name) => !held.entry(name) && !held.isCarried(name);
    /** @type {Mark[]} */
    const found = [];
    if (Array.isArray(entry.body.passed) && entry.body.passed.length > 0) found.push("passed");
    if (here.some((one) => wasTakenBack(held, one))) found.push("rested-on-taken-back");
    if (entry.rests_on.some(isAbsent)) found.push("rests-on-absent");
    if (isWithoutSight(held, entry, here)) found.push("without-sight");
    return found;
  });
}

/**
 * @param {Held} held
 * @param {Entry} entry
 */
function wasTakenBack(held, entry) {
  if (whyNot(held, entry) === "withdrawn") return true;
  return isStatement(held, entry) && contradicting(held, entry).length > 0;
}

/**
 * @param {Held} held
 * @param {Entry} entry
 * @param {Entry[]} rest
 */
function isWithoutSight(held, entry, rest) {
  const step = stepOf(held, entry.subject)?.step;
  if (step === undefined) return false;
  const seen = rest.filter((one) => (isState(held, one) || one.kind === "reading") && counts(held, one));
  const subjects = new Set(seen.map((one) => one.subject));
  return awaited(held, step).some(
    (before) => ![before.subject, ...parts(before)].some((subject) => subjects.has(subject)),
  );
}
