/** What stands in a chain or is chosen for a lift although it is suspect or unserviceable. */

import { slotsOfTag } from "../positions.js";
import { together } from "../together.js";
import { settledShown } from "./shown.js";

/** @typedef {import("../held.js").Held} Held */
/** @typedef {import("./shown.js").Shown} Shown */
/** @typedef {{tag: string, slot: string, state: string, assign: Shown | null}} UsedThough */

const WORST_FIRST = ["unserviceable", "suspect"];

/**
 * By thing and slot: the worst that any log's value says of it, and the assign, whose `though` says why.
 *
 * @param {Held} held
 * @param {readonly {tag: string}[]} kit
 * @returns {UsedThough[]}
 */
export function usedThough(held, kit) {
  return kit.flatMap(({ tag }) =>
    [...slotsOfTag(held, tag)].sort().flatMap((slot) => {
      const state = worst(held, tag);
      return state === undefined ? [] : [{ tag, slot, state, assign: settledShown(held, slot) }];
    }),
  );
}

/**
 * @param {Held} held
 * @param {string} tag
 */
export function worst(held, tag) {
  const said = together(held, `kit/${tag}/state`).values.map(({ entry }) => entry.body.state);
  return WORST_FIRST.find((state) => said.includes(state));
}
