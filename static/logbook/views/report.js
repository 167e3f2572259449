/** What the next crew must be told: missing, unfit, overdue, disputed, unsigned, not arrived, given up. */

import { heads } from "../chains.js";
import { compareInstants, readInstant } from "../instant.js";
import { sheets } from "../sheets.js";
import { standing } from "../values.js";
import { unfitTogether } from "./carried.js";
import { amended } from "./definition.js";
import { usedThough } from "./in-use.js";
import { givenUp, signedState } from "./position.js";
import { reconcile } from "./reconcile.js";
import { signaturesOn } from "./sheet.js";
import { countingOf, stateOf, valuesShown } from "./shown.js";

/** @typedef {import("../fold.js").Fold} Fold */
/** @typedef {import("../held.js").Held} Held */
/** @typedef {import("./definition.js").Definition} Definition */
/** @typedef {import("./shown.js").Shown} Shown */
/** @typedef {{tag: string, values: Shown[]}} Unfit */
/**
 * What is missing, extra, away, astray or not counted is as `reconcile` says; `heard` is the latest that each device
 * wrote of what is here, by its own clock.
 * @typedef {import("./reconcile.js").Reconciled & {unserviceable: Unfit[], suspect: Unfit[],
 *   used_though: import("./in-use.js").UsedThough[], carried: import("./carried.js").UnfitTogether[],
 *   overdue: {tag: string, due: string}[], disputed: string[], unsigned: string[],
 *   changed: {sheet: string, subjects: string[]}[],
 *   not_arrived: {key: string, person: string, gaps: [number, number][]}[],
 *   heard: {key: string, person: string, at: string}[], given_up: {position: string, value: Shown}[],
 *   faults: Shown[], accepted: Shown[]}} ReportView
 */

/**
 * @param {Fold} fold
 * @param {Definition} definition
 * @returns {ReportView}
 */
export function reportView(fold, definition) {
  const { held } = fold;
  const now = amended(fold, definition);
  const { kit, positions, ends } = now;
  const all = [...sheets(held).keys()];
  const devices = held.devices().sort();
  return {
    ...reconcile(held, now),
    unserviceable: inState(held, kit, "unserviceable"),
    suspect: inState(held, kit, "suspect"),
    used_though: usedThough(held, kit),
    carried: unfitTogether(held, kit),
    overdue: kit.flatMap(({ tag, dates }) =>
      dates?.due && dates.due < ends ? [{ tag, due: dates.due }] : [],
    ),
    disputed: held
      .subjects()
      .filter((subject) => standing(held, subject).state === "disputed")
      .sort(),
    unsigned: all.filter((id) => signaturesOn(held, id).length === 0),
    changed: all
      .filter((id) => signedState(held, id).changed)
      .map((id) => ({ sheet: id, subjects: changes(held, id) })),
    not_arrived: devices
      .map((key) => ({ key, person: personOf(held, key), gaps: heads(held, key).gaps }))
      .filter(({ gaps }) => gaps.length > 0),
    heard: devices.map((key) => ({ key, person: personOf(held, key), at: lastAt(held, key) })),
    given_up: positions.flatMap(({ id }) => {
      const value = givenUp(held, id);
      return value ? [{ position: id, value }] : [];
    }),
    faults: countingOf(held, "fault"),
    accepted: countingOf(held, "accept"),
  };
}

/**
 * @param {Held} held
 * @param {{tag: string}[]} kit
 * @param {string} state
 */
function inState(held, kit, state) {
  return kit
    .filter(({ tag }) => stateOf(held, tag) === state)
    .map(({ tag }) => ({ tag, values: valuesShown(held, `kit/${tag}/state`) }));
}

/**
 * @param {Held} held
 * @param {string} sheet
 */
function changes(held, sheet) {
  return [...new Set(signaturesOn(held, sheet).flatMap(({ subjects }) => subjects))].sort();
}

/**
 * @param {Held} held
 * @param {string} key
 */
function personOf(held, key) {
  return [...new Set(held.cardsOfKey(key).map(({ person }) => person))].sort().join(", ");
}

/**
 * @param {Held} held
 * @param {string} key
 */
function lastAt(held, key) {
  const written = held.ofDevice(key).map(({ at }) => ({ at, instant: readInstant(at) }));
  written.sort((a, b) => (a.instant && b.instant ? compareInstants(a.instant, b.instant) : 0));
  return written.at(-1)?.at ?? "";
}
