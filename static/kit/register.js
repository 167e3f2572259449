/**
 * The rule of the lifting register: why a piece may not be assigned to a lift, and what its first hoist still waits for.
 * The same on the server (`server/kit/register.py`); shared vectors hold the two equal. That nothing stops it is no word
 * that it is fit: a lift leader looks before each lift, and a competent person decides.
 */

import { isDecimal } from "../logbook/decimal.js";
import { due, lastDone } from "./due.js";

/**
 * `record`: how its record stands, `rests_on`: names that its record rests on; values of all logs side by side.
 *
 * @typedef {import("./due.js").Dated & {record: string | null, rests_on: string[],
 *   states: {state: string, log: string}[], pre_use: {choice: string, log: string, roles: string[]}[],
 *   events: {name: string, event: string, label: string, at: string}[]}} Piece
 * @typedef {{stop: string, says: string}} Stop a word for why not, and a sentence
 */

const LIFT_LEADER = "lift-leader";

/**
 * Why a piece may not be assigned to a lift in a show that ends on that day; none: nothing here stops it.
 *
 * @param {Piece} piece
 * @param {string} showEnd
 * @returns {Stop[]}
 */
export function liftStops(piece, showEnd) {
  return [
    ...record(piece),
    ...mark(piece),
    ...examination(piece, showEnd),
    ...finding(piece, showEnd),
    ...events(piece),
    ...state(piece),
    ...check(piece),
  ];
}

/**
 * Why no hoist may begin with a piece: what stops its assignment, or no pre-use check in the show of this log.
 *
 * @param {Piece} piece
 * @param {string} showEnd
 * @param {string} log
 * @returns {Stop[]}
 */
export function hoistStops(piece, showEnd, log) {
  const here = piece.pre_use.filter((one) => one.log === log && one.choice === "passed");
  const stops = liftStops(piece, showEnd);
  if (here.some(({ roles }) => roles.includes(LIFT_LEADER))) return stops;
  return [
    ...stops,
    { stop: "not-checked", says: "No lift leader has passed its pre-use check in this show yet." },
  ];
}

/**
 * Names of the events since its last examination that ask for another one. An event is answered by an examination of a
 * later day, or by a record that rests on the event.
 *
 * @param {Piece} piece
 */
export function asking(piece) {
  const last = lastDone(piece);
  const after = piece.interval?.after ?? [];
  return piece.events
    .filter(({ event, name }) => after.includes(event) && !piece.rests_on.includes(name))
    .filter(({ at }) => last === null || last <= at.slice(0, 10))
    .map(({ name }) => name);
}

/** @param {Piece} piece @returns {Stop[]} */
function record(piece) {
  if (piece.record !== "disputed" && piece.record !== "waits") return [];
  return [{ stop: "disputed", says: "Its record is disputed: a chief settles it first." }];
}

/** @param {Piece} piece @returns {Stop[]} */
function mark({ about }) {
  const found = [];
  if (!about.identity)
    found.push({ stop: "no-mark", says: "No identity is written: what carries no mark is not used." });
  if (!isLoad(about.wll_kg))
    found.push({
      stop: "no-mark",
      says: "No WLL or SWL in kg is written: what carries no mark is not used.",
    });
  return found;
}

/** @param {Piece} piece @param {string} showEnd @returns {Stop[]} */
function examination(piece, showEnd) {
  if (!piece.dates.examined) return [{ stop: "not-examined", says: "No thorough examination is written." }];
  const day = due(piece);
  if (day === null) {
    const says = "When its thorough examination falls due cannot be told: no date and no interval.";
    return [{ stop: "not-examined", says }];
  }
  if (day >= showEnd) return [];
  return [{ stop: "overdue", says: `Thorough examination due ${day}, before the show ends on ${showEnd}.` }];
}

/** @param {Piece} piece @param {string} showEnd @returns {Stop[]} */
function finding({ about }, showEnd) {
  const found = [];
  if ((about.safe_to_operate ?? "yes") !== "yes")
    found.push({ stop: "defect", says: "Its last thorough examination does not find it safe to operate." });
  if (about.repair_by !== undefined && about.repair_by < showEnd) {
    const says = `A defect was to be repaired by ${about.repair_by}: ${about.defect ?? "not described"}.`;
    found.push({ stop: "defect", says });
  }
  return found;
}

/** @param {Piece} piece @returns {Stop[]} */
function events(piece) {
  const asked = asking(piece);
  return piece.events
    .filter(({ name }) => asked.includes(name))
    .map(({ label, at }) => ({
      stop: "exceptional",
      says: `${label} on ${at.slice(0, 10)}: it asks for a thorough examination.`,
    }));
}

/** @param {Piece} piece @returns {Stop[]} */
function state({ states }) {
  const unfit = new Set(states.map((one) => one.state).filter((word) => word !== "serviceable"));
  return [...unfit].sort().map((word) => ({ stop: "unfit", says: `Written as ${word}.` }));
}

/** @param {Piece} piece @returns {Stop[]} */
function check({ pre_use }) {
  if (pre_use.every(({ choice }) => choice === "passed")) return [];
  return [{ stop: "check-failed", says: "It failed a pre-use check, and nobody has passed it since." }];
}

/** @param {string | undefined} text */
function isLoad(text) {
  return isDecimal(text) && Number(text) > 0;
}
