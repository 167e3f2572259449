/** A thing of kit: its state, where it is, its faults and tests, and what other logs say of it. */

import { carried } from "./carried.js";
import { countingOf, isAtOrBelow, settledShown, stateOf, valuesShown } from "./shown.js";

/** @typedef {import("../fold.js").Fold} Fold */
/** @typedef {import("./shown.js").Shown} Shown */
/**
 * @typedef {{tag: string, state: string | null, state_values: Shown[], place: Shown | null, faults: Shown[],
 *   tests: Shown[], carried: import("./carried.js").Carried[]}} KitView
 */

/**
 * @param {Fold} fold
 * @param {import("./definition.js").Definition} _definition every view of one thing is asked for alike
 * @param {string} tag
 * @returns {KitView}
 */
export function kitView({ held }, _definition, tag) {
  const kit = `kit/${tag}`;
  /** @param {import("../entry.js").Entry} entry */
  const isOfIt = ({ subject, body }) => isAtOrBelow(subject, kit) || body.about === tag;
  return {
    tag,
    state: stateOf(held, tag),
    state_values: valuesShown(held, `${kit}/state`),
    place: settledShown(held, `${kit}/place`),
    faults: countingOf(held, "fault", isOfIt),
    tests: countingOf(held, "test", isOfIt),
    carried: carried(held, tag),
  };
}
