/** What stands at the positions: the links of each chain, by the assigns of their slots. */

import { counts } from "./judge.js";
import { settled } from "./values.js";

/** @typedef {import("./entry.js").Entry} Entry */
/** @typedef {import("./held.js").Held} Held */
/** @typedef {import("./sheets.js").Step} Step */

const SLOT = /^position\/[^/]+\/chain\/[^/]+$/;

/** @param {string} subject */
export function isSlot(subject) {
  return SLOT.test(subject);
}

/**
 * The slot of a link at the position that a subject belongs to; null where it belongs to none.
 *
 * @param {string} subject
 * @param {string} link
 */
export function slotFor(subject, link) {
  const [kind, position] = subject.split("/");
  return kind === "position" && position !== undefined ? `position/${position}/chain/${link}` : null;
}

/**
 * The tags that stand in a slot, in order; null where it is unset or disputed.
 *
 * @param {Held} held
 * @param {string} slot
 * @returns {readonly string[] | null}
 */
export function tagsIn(held, slot) {
  return held.memo.answer(`tags ${slot}`, () => {
    const assign = settled(held, slot);
    return assign?.kind === "assign" ? tagsOf(assign.body.tag ?? assign.body.tags) : null;
  });
}

/**
 * Whether a tag that a step is about stands in another slot too.
 *
 * @param {Held} held
 * @param {Step} step
 */
export function isInTwoPlaces(held, step) {
  return step.about.some((link) => {
    const slot = slotFor(step.subject, link);
    const tags = slot === null ? null : tagsIn(held, slot);
    return tags?.some((tag) => slotsOfTag(held, tag).size > 1);
  });
}

/**
 * The slots in which a tag stands, at all positions.
 *
 * @param {Held} held
 * @param {string} tag
 * @returns {ReadonlySet<string>}
 */
export function slotsOfTag(held, tag) {
  return slotsOfTags(held).get(tag) ?? new Set();
}

/**
 * Tags as a list, from a chain or an assign: one tag, or those of a run in order; null where nothing is named.
 *
 * @param {unknown} stated
 * @returns {string[] | null}
 */
export function tagsOf(stated) {
  if (stated === null || stated === undefined) return null;
  return [stated].flat().map((tag) => (typeof tag === "string" ? tag : JSON.stringify(tag)));
}

/**
 * @param {Held} held
 * @returns {ReadonlyMap<string, ReadonlySet<string>>}
 */
function slotsOfTags(held) {
  return held.memo.answer("slots of tags", () => {
    /** @type {Map<string, Set<string>>} */
    const slots = new Map();
    for (const { subject } of held
      .ofKind("assign")
      .filter((entry) => isSlot(entry.subject) && counts(held, entry))) {
      for (const tag of tagsIn(held, subject) ?? [])
        slots.set(tag, (slots.get(tag) ?? new Set()).add(subject));
    }
    return slots;
  });
}
