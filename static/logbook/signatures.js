/** Signatures: a name put to a sheet, and what has changed on it since. */

import { counts, says, whyNot } from "./judge.js";
import { isEnded, isStale, stillHolds } from "./lasting.js";
import { parts, sheets } from "./sheets.js";
import { contradicting, isStatement, readings, values } from "./values.js";

/** @typedef {import("./entry.js").Entry} Entry */
/** @typedef {import("./held.js").Held} Held */
/** @typedef {import("./sheets.js").Step} Step */
/** @typedef {{changed: boolean, subjects: string[]}} Change `changed` with no subjects: another digest */

/**
 * The signs that count.
 * @param {Held} held
 */
export function signs(held) {
  return held.memo.answer("signs", () => held.ofKind("sign").filter((entry) => counts(held, entry)));
}

/**
 * What has changed on its sheet since an entry signed it.
 *
 * @param {Held} held
 * @param {Entry} sign
 * @returns {Change}
 */
export function changedSince(held, sign) {
  return held.memo.answer(`changed ${sign.name}`, () => {
    const sheet = String(sign.body.sheet);
    const covered = new Set(/** @type {string[]} */ (sign.body.covers));
    const subjects = subjectsOf(held, sheet)
      .filter(({ subject, step }) => isChanged(held, subject, step, covered))
      .map(({ subject }) => subject)
      .sort();
    return { changed: subjects.length > 0 || sign.body.digest !== held.digest(sheet), subjects };
  });
}

/**
 * What a signature of a sheet covers as it stands: its values, and its readings that still hold.
 *
 * @param {Held} held
 * @param {string} sheet
 * @returns {string[]} names
 */
export function standingOn(held, sheet) {
  return subjectsOf(held, sheet).flatMap(({ subject, step }) =>
    stands(held, subject, step).map(({ name }) => name),
  );
}

/**
 * @param {Held} held
 * @param {string} sheet
 */
function subjectsOf(held, sheet) {
  const steps = sheets(held).get(sheet)?.steps ?? [];
  return steps.flatMap((step) =>
    [...new Set([step.subject, ...parts(step)])].map((subject) => ({ subject, step })),
  );
}

/**
 * @param {Held} held
 * @param {string} subject
 * @param {Step} step
 */
function stands(held, subject, step) {
  const good = readings(held, subject).filter((entry) => stillHolds(held, entry, step));
  return [...values(held, subject), ...good];
}

/**
 * @param {Held} held
 * @param {string} subject
 * @param {Step} step
 * @param {ReadonlySet<string>} names covered
 */
function isChanged(held, subject, step, names) {
  const covered = held
    .ofSubject(subject)
    .filter((entry) => names.has(entry.name) && (isStatement(held, entry) || entry.kind === "reading"));
  const now = new Set(stands(held, subject, step).map((entry) => says(held, entry)));
  const then = new Set(covered.map((entry) => says(held, entry)));
  if (now.size !== then.size || [...now].some((stated) => !then.has(stated))) return true;
  return covered.some(
    (entry) =>
      whyNot(held, entry) === "withdrawn" ||
      contradicting(held, entry).some(({ name }) => !names.has(name)) ||
      isEnded(held, entry, step) ||
      isStale(held, entry, step),
  );
}
