/** What an entry says of what its writer had in front of them, filled in from the fold. */

import { awaited } from "./gates.js";
import { counts, isState } from "./judge.js";
import { endings, evidence, stillHolds } from "./lasting.js";
import { isSlot, slotFor, tagsIn } from "./positions.js";
import { stepOf } from "./sheets.js";
import { standingOn } from "./signatures.js";
import { together } from "./together.js";
import { reached, values } from "./values.js";

/** @typedef {import("./fold.js").Fold} Fold */
/** @typedef {import("./held.js").Held} Held */
/** @typedef {import("./sheets.js").Step} Step */
/** @typedef {import("./entry.js").Chain} Chain */

const LINKS = /** @type {const} */ (["lens", "body", "control"]);
const OF_THE_STEP = new Set(["reading", "test"]);

/**
 * The members of an entry that come from what is held (section 2): `replaces`, the values of the subject that it
 * replaces, and what a newer version wrote there; `rests_on`, the entries that met the step's `after`, its ending
 * events, its photo or remark, the assigns that `chain` was read from and those of what else the step is about;
 * `chain`, what stands at its position.
 *
 * @param {Fold} fold
 * @param {{subject: string, kind: string}} touched
 * @returns {{replaces: string[], rests_on: string[], chain?: Chain}}
 */
export function draft({ held }, { subject, kind }) {
  const states = held.kinds[kind]?.does === "states";
  const step = states || OF_THE_STEP.has(kind) ? stepOf(held, subject)?.step : undefined;
  const chain = slotFor(subject, "lens") !== null && !isSlot(subject) ? chainAt(held, subject) : undefined;
  const rest = [
    ...(step ? restOf(held, step) : []),
    ...(chain ? assignsAt(held, subject, step?.about ?? []) : []),
  ];
  return {
    replaces: states ? replaced(held, subject) : [],
    rests_on: [...new Set(rest)].sort(),
    ...(chain && { chain }),
  };
}

/**
 * The body of a sign over a sheet as it stands here.
 *
 * @param {Fold} fold
 * @param {string} sheet
 * @returns {{sheet: string, digest: string, covers: string[]}}
 * @throws {Error} where there is no such sheet
 */
export function coverOf({ held }, sheet) {
  const digest = held.digest(sheet);
  if (digest === undefined) throw new Error(`There is no sheet ${sheet} in this show.`);
  return { sheet, digest, covers: [...new Set(standingOn(held, sheet))].sort() };
}

/**
 * Of kit also what other logs say, carried over: in the view of all logs together this entry replaces it.
 *
 * @param {Held} held
 * @param {string} subject
 */
function replaced(held, subject) {
  const carried = subject.startsWith("kit/") ? together(held, subject).values.map(({ entry }) => entry) : [];
  const now = [...new Set([...values(held, subject), ...carried])];
  const newer = held.ofSubject(subject).filter(({ kind }) => !(kind in held.kinds));
  const behind = reached(held, [...now, ...newer]).here;
  return [...now, ...newer]
    .map(({ name }) => name)
    .filter((name) => !behind.has(name))
    .sort();
}

/**
 * @param {Held} held
 * @param {Step} step
 */
function restOf(held, step) {
  const met = awaited(held, step).flatMap((before) =>
    evidence(held, before).flatMap((part) => part.filter((entry) => stillHolds(held, entry, before))),
  );
  const proof = held
    .ofSubject(step.subject)
    .filter(
      (entry) =>
        entry.kind === step.asks && !isState(held, entry) && entry.kind !== "reading" && counts(held, entry),
    );
  return [...met, ...endings(held, step), ...proof].map(({ name }) => name);
}

/**
 * @param {Held} held
 * @param {string} subject
 * @returns {Chain} links that are unset or disputed are left out
 */
function chainAt(held, subject) {
  /** @param {string} link */
  const tags = (link) => tagsIn(held, slotFor(subject, link) ?? "");
  /** @type {Chain} */
  const chain = {};
  for (const link of LINKS) {
    const tag = tags(link)?.[0];
    if (tag !== undefined) chain[link] = tag;
  }
  const run = tags("run");
  if (run !== null) chain.run = [...run];
  return chain;
}

/**
 * @param {Held} held
 * @param {string} subject
 * @param {readonly string[]} about
 */
function assignsAt(held, subject, about) {
  const slots = [...new Set([...LINKS, "run", ...about])].map((link) => slotFor(subject, link) ?? "");
  return slots
    .filter((slot) => tagsIn(held, slot) !== null)
    .flatMap((slot) => values(held, slot).map(({ name }) => name));
}
