/** The views of a log, a closed list: what screens and reports show, as plain data. */

export { amended } from "./views/definition.js";
export { kitView as kit } from "./views/kit.js";
export { lockerView as locker } from "./views/locker.js";
export { positionView as position } from "./views/position.js";
export { reportView as report } from "./views/report.js";
export { sheetView as sheet } from "./views/sheet.js";

/** @typedef {import("./fold.js").Fold} Fold */

/**
 * The gate of each step that is not withdrawn.
 * @param {Fold} fold
 */
export function gates(fold) {
  return fold.gates();
}

/**
 * What has changed since each signature, by the name of its entry.
 * @param {Fold} fold
 */
export function signatures(fold) {
  return fold.signatures();
}

/**
 * Heads and gaps of each device.
 * @param {Fold} fold
 */
export function devices(fold) {
  return fold.devices();
}
