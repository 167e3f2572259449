/** What a show is made of as it stands: its definition with what amends add and move. */

import { amends } from "../sheets.js";

/** @typedef {import("../fold.js").Fold} Fold */
/** @typedef {{tag: string, number: string}} Belongs */
/** @typedef {{id: string, vehicle: string, name: string, holds: Belongs[]}} Locker */
/** @typedef {{tag: string, name: string, home: string | null, dates?: {examined?: string, due?: string}}} Kit */
/**
 * As much of a show's definition as the views read.
 * @typedef {{ends: string, positions: {id: string}[], lockers: Locker[], kit: Kit[],
 *   people: {person: string, name: string, roles: string[]}[]}} Definition
 */

const ADDED = /** @type {const} */ (["positions", "kit", "people"]);

/**
 * @template {Definition} T
 * @param {Fold} fold
 * @param {T} definition as the show was made
 * @returns {T}
 */
export function amended({ held }, definition) {
  const now = { ...definition };
  for (const { body } of amends(held)) {
    if (body.change === "add-sheets") add(now, held.file(String(body.digest)));
    if (body.change === "move-end") now.ends = latest(held, definition.ends);
  }
  return now;
}

/**
 * @param {Definition} definition
 * @param {string | undefined} file
 */
function add(definition, file) {
  if (file === undefined) return;
  const added = JSON.parse(file);
  for (const part of ADDED)
    Object.assign(definition, { [part]: [...definition[part], ...(added[part] ?? [])] });
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
