/** What a show is made of as it stands: its definition with what amends add and move. */

import { addedBy, amends } from "../sheets.js";

/** @typedef {import("../fold.js").Fold} Fold */
/** @typedef {{tag: string, number: string}} Belongs */
/** @typedef {{id: string, vehicle: string, name: string, holds: Belongs[]}} Locker */
/** @typedef {{tag: string, name: string, home: string | null, dates?: {examined?: string, due?: string}}} Kit */
/**
 * As much of a show's definition as the views read.
 * @typedef {{ends: string, positions: {id: string}[], lockers: Locker[], kit: Kit[],
 *   people: {person: string, name: string, roles: string[]}[]}} Definition
 */

/** What amends add to, and by what one of each is known: what is there is not added again, nor changed. */
const NAMED_BY = { positions: "id", kit: "tag", people: "person" };

/**
 * @template {Definition} T
 * @param {Fold} fold
 * @param {T} definition as the show was made
 * @returns {T}
 */
export function amended({ held }, definition) {
  const now = { ...definition };
  for (const amend of amends(held)) {
    if (amend.body.change === "add-sheets") add(now, addedBy(held, amend));
    if (amend.body.change === "move-end") now.ends = latest(held, definition.ends);
  }
  return now;
}

/**
 * @param {Record<string, any>} definition
 * @param {Record<string, any>} added
 */
function add(definition, added) {
  for (const [part, key] of Object.entries(NAMED_BY)) {
    const known = new Set(definition[part].map((/** @type {any} */ one) => one[key]));
    const fresh = (added[part] ?? []).filter((/** @type {any} */ one) => !known.has(one[key]));
    definition[part] = [...definition[part], ...fresh];
  }
}

/**
 * Two ends moved without sight of each other leave the later one: nobody is sent home by a race.
 *
 * @param {import("../held.js").Held} held
 * @param {string} ends
 */
function latest(held, ends) {
  const moves = amends(held).filter(({ body }) => body.change === "move-end");
  const replaced = new Set(moves.flatMap(({ replaces, rests_on }) => [...replaces, ...rests_on]));
  const standing = moves.filter(({ name }) => !replaced.has(name)).map(({ body }) => String(body.ends));
  return standing.sort().at(-1) ?? ends;
}
