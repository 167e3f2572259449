/** A sheet: its steps as they stand, in the order of work, and the names put to it. */

import { gate, isDone } from "../gates.js";
import { counts, whyNot } from "../judge.js";
import { lasting } from "../lasting.js";
import { items, sheets } from "../sheets.js";
import { changedSince, signs } from "../signatures.js";
import { readings, standing } from "../values.js";
import { allShown, shown, valuesShown } from "./shown.js";

/** @typedef {import("../fold.js").Fold} Fold */
/** @typedef {import("../held.js").Held} Held */
/** @typedef {import("../sheets.js").Step} Step */
/** @typedef {import("./shown.js").Shown} Shown */
/** @typedef {Shown & import("../signatures.js").Change} Signed */
/** @typedef {{item: string, listed: string, state: string, values: Shown[]}} Item */
/**
 * @typedef {{subject: string, state: string, done: boolean, ended: boolean, until: string | null, stale: boolean,
 *   gate: string, waits_for: string[], unseen: string[], values: Shown[], readings: Shown[], evidence: Shown[],
 *   faults: Shown[], struck: Shown[], marks: Record<string, readonly string[]>, items: Item[]}} StepView
 * @typedef {{id: string, title: string, stage: string, done: number, total: number, steps: StepView[],
 *   signatures: Signed[]}} SheetView
 */

/**
 * @param {Fold} fold
 * @param {import("./definition.js").Definition} _definition every view of one thing is asked for alike
 * @param {string} id
 * @returns {SheetView | null} null: there is no such sheet
 */
export function sheetView(fold, _definition, id) {
  const { held } = fold;
  const sheet = sheets(held).get(id);
  if (sheet === undefined) return null;
  const { title, stage, steps } = sheet;
  return {
    id,
    title,
    stage,
    ...progress(held, steps),
    steps: steps.map((step) => stepView(fold, step)),
    signatures: signaturesOn(held, id),
  };
}

/**
 * How many of these steps are done.
 *
 * @param {Held} held
 * @param {readonly Step[]} steps
 */
export function progress(held, steps) {
  return { done: steps.filter((step) => isDone(held, step)).length, total: steps.length };
}

/**
 * The names put to a sheet, each with what has changed since.
 *
 * @param {Held} held
 * @param {string} sheet
 * @returns {Signed[]}
 */
export function signaturesOn(held, sheet) {
  return signs(held)
    .filter(({ body }) => body.sheet === sheet)
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .map((sign) => ({ ...shown(sign), ...changedSince(held, sign) }));
}

/**
 * @param {Fold} fold
 * @param {Step} step
 * @returns {StepView}
 */
function stepView(fold, step) {
  const { held } = fold;
  const { subject } = step;
  const written = [subject, ...items(step).map((item) => `${subject}/${item}`)].flatMap((one) =>
    held.ofSubject(one),
  );
  /** @param {string[]} kinds */
  const counting = (...kinds) =>
    allShown(written.filter((entry) => kinds.includes(entry.kind) && counts(held, entry)));
  return {
    subject,
    state: standing(held, subject).state,
    done: isDone(held, step),
    ...lasting(held, step),
    ...gate(held, step),
    values: valuesShown(held, subject),
    readings: allShown(readings(held, subject)),
    evidence: counting("photo", "remark"),
    faults: counting("fault"),
    struck: allShown(written.filter((entry) => whyNot(held, entry) === "withdrawn")),
    marks: marksOf(fold, step),
    items: items(step).map((item) => itemView(held, step, item)),
  };
}

/**
 * @param {Fold} fold
 * @param {Step} step
 */
function marksOf(fold, step) {
  const subjects = [step.subject, ...items(step).map((item) => `${step.subject}/${item}`)];
  return Object.assign({}, ...subjects.map((subject) => fold.subject(subject).marks));
}

/**
 * @param {Held} held
 * @param {Step} step
 * @param {string} item
 * @returns {Item}
 */
function itemView(held, step, item) {
  const subject = `${step.subject}/${item}`;
  const listed = step.items?.[item] ?? "";
  return { item, listed, state: standing(held, subject).state, values: valuesShown(held, subject) };
}
