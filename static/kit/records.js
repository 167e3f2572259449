// What a chief's records say of the unit's things and lists, laid over what they were when the show was made.
import { together } from "../logbook/together.js";
import { faultsIn } from "./fields.js";

/**
 * @typedef {import("../logbook/held.js").Held} Held
 * @typedef {import("../logbook/together.js").Said} Said
 * @typedef {import("../parts/shapes.js").Kit} Kit
 * @typedef {import("../parts/shapes.js").Locker} Locker
 * @typedef {{ name?: string, type?: string, number?: string, mass_kg?: string | null, dates?: Record<string, string>,
 *   about?: Record<string, string>, holds?: { tag: string, number: string }[], gone?: string }} Fields
 */

/**
 * How the record of a subject stands over all logs: what it says where it is settled, and by whom.
 *
 * @param {Held} held
 * @param {string} top `kit/TAG` or `locker/ID`
 * @returns {{ state: import("../logbook/values.js").State, said: Said[], fields: Fields }}
 */
export function recordOf(held, top) {
  const { state, values } = together(held, `${top}/record`);
  const said = values.filter(({ entry }) => entry.kind === "record");
  const fields = state === "settled" ? /** @type {Fields} */ (said[0]?.entry.body.fields ?? {}) : {};
  return { state, said, fields };
}

/** A thing as its record has it. @param {Held} held @param {Kit} item @returns {Kit} */
export const asRecorded = (held, item) => laidOver(item, recordOf(held, `kit/${item.tag}`).fields);

/**
 * A thing with the fields of a record: each stands in place of the thing's, whole. Where they cannot be used, the
 * thing stands as it was.
 *
 * @param {Kit} item
 * @param {Fields} fields
 * @returns {Kit}
 */
export function laidOver(item, { name, type, number, mass_kg, dates, about }) {
  const given = Object.entries({ name, type, number, mass_kg, dates, about });
  const fields = Object.fromEntries(given.filter(([, value]) => value !== undefined));
  return faultsIn(fields).length > 0 ? item : /** @type {Kit} */ ({ ...item, ...fields });
}

/** What belongs in a locker, as its record has it. @param {Held} held @param {Locker} locker */
export function listOf(held, { id, holds }) {
  const recorded = recordOf(held, `locker/${id}`).fields.holds;
  return recorded === undefined || faultsIn({ holds: recorded }).length > 0 ? holds : recorded;
}

/**
 * The unit's things as they stand now: without what is gone, with what came since the show was made.
 *
 * @param {Held} held
 * @param {Kit[]} kit as the show was made with
 * @param {Locker[]} lockers
 * @returns {Kit[]}
 */
export function thingsNow(held, kit, lockers) {
  const known = new Set(kit.map(({ tag }) => tag));
  const recorded = tagsRecorded(held);
  const fresh = [...recorded].filter((tag) => !known.has(tag)).map(unknown);
  const homes = new Map(lockers.flatMap((one) => listOf(held, one).map(({ tag }) => [tag, one.id])));
  return [...kit, ...fresh]
    .flatMap((item) => {
      if (!recorded.has(item.tag)) return item;
      const { fields } = recordOf(held, `kit/${item.tag}`);
      return fields.gone === undefined ? laidOver(item, fields) : [];
    })
    .filter(({ name, type }) => name !== "" && type !== "")
    .map((item) => ({ ...item, home: homes.get(item.tag) ?? "" }));
}

/** @param {Held} held */
function tagsRecorded(held) {
  const records = held.logsTogether().flatMap((log) => log.ofKind("record"));
  return new Set(
    records.map(({ subject }) => subject.match(/^kit\/([^/]+)\/record$/)?.[1] ?? "").filter(Boolean),
  );
}

/** A thing of which nothing but its record is known. @param {string} tag @returns {Kit} */
export const unknown = (tag) => ({
  tag,
  name: "",
  type: "",
  number: "1",
  mass_kg: null,
  home: "",
  dates: {},
  about: {},
});
