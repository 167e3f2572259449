// What differs between a thing or a list before and after, in words that a chief reads.

/** @typedef {import("../parts/shapes.js").Kit} Kit */
/** @typedef {{ tag: string, number: string }} Listed */
/** @typedef {{ what: string, was: string | null, now: string | null }} Difference null: not told, not listed */

const WORDS = /** @type {Record<string, string>} */ ({
  name: "called",
  type: "sort",
  number: "how many",
  mass_kg: "mass of one, kg",
});

/** How a key is said. @param {string} key */
export const spoken = (key) => WORDS[key] ?? key.replaceAll("_", " ");

/** @param {Kit} was @param {Kit} now @returns {Difference[]} */
export function differences(was, now) {
  return between(
    { ...plain(was), ...was.dates, ...was.about },
    { ...plain(now), ...now.dates, ...now.about },
  );
}

/** @param {readonly Listed[]} was @param {readonly Listed[]} now @returns {Difference[]} */
export function listDifferences(was, now) {
  return between(byTag(was), byTag(now));
}

/** @param {Kit} item @returns {Record<string, string | undefined>} */
const plain = ({ name, type, number, mass_kg }) => ({ name, type, number, mass_kg: mass_kg ?? undefined });

/** @param {readonly Listed[]} holds @returns {Record<string, string | undefined>} */
const byTag = (holds) => Object.fromEntries(holds.map(({ tag, number }) => [tag, number]));

/** @param {Record<string, string | undefined>} was @param {Record<string, string | undefined>} now @returns {Difference[]} */
function between(was, now) {
  const keys = [...new Set([...Object.keys(was), ...Object.keys(now)])];
  return keys
    .filter((key) => (was[key] || null) !== (now[key] || null))
    .map((key) => ({ what: key, was: was[key] || null, now: now[key] || null }));
}

/**
 * Things of which the lockers' lists do not hold as many as there are; the same as `kit_faults` in server/sheets/check.py.
 *
 * @param {readonly { tag: string, number: string }[]} kit
 * @param {readonly { id: string, holds: readonly Listed[] }[]} lockers
 * @returns {{ tag: string, says: string, where: { locker: string, number: string }[] }[]}
 */
export function sumFaults(kit, lockers) {
  /** @type {Map<string, { locker: string, number: string }[]>} */
  const listed = new Map();
  for (const { id, holds } of lockers) {
    for (const { tag, number } of holds)
      listed.set(tag, [...(listed.get(tag) ?? []), { locker: id, number }]);
  }
  return kit.flatMap(({ tag, number }) => {
    const where = listed.get(tag) ?? [];
    const held = where.reduce((sum, one) => sum + Number(one.number), 0);
    if (where.length === 0) return { tag, says: `${tag} has no home: no locker's list holds it`, where };
    return held === Number(number)
      ? []
      : { tag, says: `${tag}: number ${number}, but the lockers hold ${held}`, where };
  });
}
