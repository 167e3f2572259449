// A locker's door: how it stands at a stage, in counts, shape and words.
import { due } from "../kit/due.js";
import { intervalOf } from "../kit/pieces.js";
import { definition, kitOf, lockerView, sheetOf, sheetView } from "./show.js";

/** @typedef {import("./van.js").Door} Door */
/** @typedef {import("./van.js").DoorMark} DoorMark */

const words = {
  shut: "full, counted and tagged shut",
  short: "short",
  part: "open, part in",
  stranger: "open, holds a stranger",
  none: "not begun",
};

/** @param {import("./shapes.js").Locker} locker @param {string} stage @returns {Door} */
export function doorOf(locker, stage) {
  const view = lockerView(locker.id);
  const at = view.stages[stage];
  const sheet = `locker/${locker.id}/${stage}`;
  const mark = markOf(at, countedShort(locker.id, stage).length, view.strangers.length);
  const flagged = view.holds.some(
    ({ tag, state }) => (state !== null && state !== "serviceable") || overdue(tag),
  );
  return {
    locker,
    href: sheetOf(sheet) ? `#/sheet/${sheet}` : `#/locker/${locker.id}`,
    count:
      at && at.listed > 0
        ? `${at.counted} of ${at.listed}`
        : at
          ? `${at.done} of ${at.total}`
          : `${view.holds.length} kept`,
    mark,
    words: words[mark] + (flagged ? ", holds a tagged item" : ""),
    tagged: flagged,
  };
}

/** Tags that somebody counted and found fewer of than listed; what nobody counted yet is not short. @param {string} locker @param {string} stage */
export function countedShort(locker, stage) {
  const sheet = `locker/${locker}/${stage}`;
  if (!sheetOf(sheet)) return [];
  const items = sheetView(sheet).steps.flatMap((step) => step.items);
  return items
    .filter(
      ({ state, values, listed }) => state === "settled" && Number(values[0]?.body.number) < Number(listed),
    )
    .map(({ item }) => item);
}

/** @param {import("./shapes.js").LockerStage | undefined} at @param {number} short @param {number} strangers @returns {DoorMark} */
function markOf(at, short, strangers) {
  if (short > 0) return "short";
  if (strangers > 0) return "stranger";
  if (!at || (at.done === 0 && at.counted === 0)) return "none";
  return at.done === at.total ? "shut" : "part";
}

/** @param {Door[]} doors @param {string} side */
export function doorsOpen(doors, side) {
  return doors.filter((door) => door.locker.side === side && door.mark !== "shut").length;
}

/** The day by which it is due, where it has passed or will before the show ends. @param {string} tag */
export function overdue(tag) {
  const item = kitOf(tag);
  const day = item ? due({ ...item, interval: intervalOf(item.about) }) : null;
  return day !== null && day < definition().ends ? `due ${day}` : null;
}
