/** A locker: what belongs in it, how far each stage has got, and what is in it that belongs elsewhere. */

import { isCountedAt } from "../gates.js";
import { items, sheets } from "../sheets.js";
import { settled } from "../values.js";
import { carried } from "./carried.js";
import { amended } from "./definition.js";
import { progress, signaturesOn } from "./sheet.js";
import { countingOf, isAtOrBelow, settledShown, stateOf } from "./shown.js";

/** @typedef {import("../fold.js").Fold} Fold */
/** @typedef {import("../held.js").Held} Held */
/** @typedef {import("../sheets.js").Sheet} Sheet */
/** @typedef {import("./definition.js").Definition} Definition */
/** @typedef {import("./shown.js").Shown} Shown */
/**
 * `listed` and `counted` are tags, `short` those not settled at their listed number; `signed`: by a name since which
 * nothing has changed.
 * @typedef {{listed: number, counted: number, short: string[], done: number, total: number, signed: boolean}} StageView
 * @typedef {{id: string, holds: {tag: string, number: string, place: Shown | null, state: string | null,
 *   carried: import("./carried.js").Carried[]}[], stages: Record<string, StageView>, strangers: {tag: string, home: string | null}[], events: Shown[]}} LockerView
 */

/**
 * @param {Fold} fold
 * @param {Definition} definition
 * @param {string} id
 * @returns {LockerView | null} null: there is no such locker
 */
export function lockerView(fold, definition, id) {
  const { held } = fold;
  const { kit, lockers } = amended(fold, definition);
  const locker = lockers.find((one) => one.id === id);
  if (locker === undefined) return null;
  const belongs = new Set(locker.holds.map(({ tag }) => tag));
  const placed = new Set(held.ofKind("place").map(({ subject }) => subject));
  return {
    id,
    holds: locker.holds.map(({ tag, number }) => ({
      tag,
      number,
      place: settledShown(held, `kit/${tag}/place`),
      state: stateOf(held, tag),
      carried: carried(held, tag),
    })),
    stages: Object.fromEntries(lockerSheets(held, id).map((sheet) => [sheet.stage, stageView(held, sheet)])),
    strangers: kit
      .filter(({ tag }) => placed.has(`kit/${tag}/place`) && !belongs.has(tag))
      .filter(({ tag }) => whereIs(held, tag) === `locker/${id}`)
      .map(({ tag, home }) => ({ tag, home })),
    events: countingOf(held, "event", ({ subject }) => isAtOrBelow(subject, `locker/${id}`)),
  };
}

/**
 * The sheets of a locker, as the show lists them.
 *
 * @param {Held} held
 * @param {string} id
 */
export function lockerSheets(held, id) {
  return [...sheets(held).values()].filter((sheet) => isAtOrBelow(sheet.id, `locker/${id}`));
}

/**
 * Tags that a sheet's count steps list and that are not settled at their listed number.
 *
 * @param {Held} held
 * @param {Sheet} sheet
 */
export function short(held, sheet) {
  return listed(sheet)
    .filter(({ subject, number }) => !isCountedAt(held, subject, number))
    .map(({ tag }) => tag);
}

/**
 * @param {Held} held
 * @param {Sheet} sheet
 * @returns {StageView}
 */
function stageView(held, sheet) {
  const missing = short(held, sheet);
  const all = listed(sheet).length;
  const signed = signaturesOn(held, sheet.id).some(({ changed }) => !changed);
  return {
    listed: all,
    counted: all - missing.length,
    short: missing,
    ...progress(held, sheet.steps),
    signed,
  };
}

/** @param {Sheet} sheet */
function listed(sheet) {
  return sheet.steps.flatMap((step) =>
    items(step).map((tag) => ({ tag, subject: `${step.subject}/${tag}`, number: step.items?.[tag] ?? "" })),
  );
}

/**
 * @param {Held} held
 * @param {string} tag
 */
function whereIs(held, tag) {
  return settled(held, `kit/${tag}/place`)?.body.where;
}
