// What a chief's records say of the unit's things and lists, laid over what they were when the show was made.
import { together } from "../logbook/together.js";

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

/** A thing as its record has it; a field that is given stands in place of the definition's, whole. @param {Held} held @param {Kit} item @returns {Kit} */
export function asRecorded(held, item) {
  const { name, type, number, mass_kg, dates, about } = recordOf(held, `kit/${item.tag}`).fields;
  const given = { name, type, number, mass_kg, dates, about };
  return /** @type {Kit} */ ({
    ...item,
    ...Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined)),
  });
}

/** What belongs in a locker, as its record has it. @param {Held} held @param {Locker} locker */
export const listOf = (held, { id, holds }) => recordOf(held, `locker/${id}`).fields.holds ?? holds;

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
  const fresh = [...tagsRecorded(held)].filter((tag) => !known.has(tag)).map(unknown);
  const homes = new Map(lockers.flatMap((one) => listOf(held, one).map(({ tag }) => [tag, one.id])));
  return [...kit, ...fresh]
    .filter(({ tag }) => recordOf(held, `kit/${tag}`).fields.gone === undefined)
    .map((item) => ({ ...asRecorded(held, item), home: homes.get(item.tag) ?? "" }))
    .filter(({ name }) => name !== "");
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
