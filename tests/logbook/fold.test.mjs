/** The phone's fold on the shared vectors: in any order of arrival, one entry at a time, and what an entry costs. */

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import test from "node:test";
import { Fold } from "../../static/logbook/fold.js";

/** @param {string} name */
const vectors = (name) =>
  JSON.parse(readFileSync(new URL(`./vectors/${name}.json`, import.meta.url), "utf8"));

const KINDS = vectors("kinds");
const OWN_KINDS = JSON.parse(
  readFileSync(new URL("../../static/logbook/kinds.json", import.meta.url), "utf8"),
);
const CASES = [...vectors("cases").cases, ...vectors("random").cases];

/** @param {any} one a case */
function foldOf(one, kinds = KINDS) {
  return new Fold({ ...one, unitKey: one.unit_key, kinds });
}

/**
 * A generator of numbers below 1 from a seed (mulberry32, public domain), so that a failure can be had again.
 * @param {number} seed
 */
function seeded(seed) {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/**
 * Fisher and Yates' shuffle.
 * @template T
 * @param {T[]} list
 * @param {() => number} random
 */
function shuffled(list, random) {
  const copy = [...list];
  for (let last = copy.length - 1; last > 0; last -= 1) {
    const other = Math.floor(random() * (last + 1));
    [copy[last], copy[other]] = /** @type {[T, T]} */ ([copy[other], copy[last]]);
  }
  return copy;
}

for (const one of CASES) {
  test(`${one.name}: cards and entries in shuffled orders, entries also before cards`, async () => {
    for (const seed of [1, 2, 3]) {
      const random = seeded(seed);
      const fold = foldOf(one);
      const mixed = shuffled([...one.cards, ...one.entries], random);
      const cards = new Set(one.cards);
      for (const jws of mixed) await (cards.has(jws) ? fold.addCards([jws]) : fold.addEntries([jws]));
      assert.deepEqual(fold.answer(), one.expect, `seed ${seed}`);
    }
  });

  test(`${one.name}: under the kinds that this app ships`, async () => {
    const fold = foldOf(one, OWN_KINDS);
    await fold.addCards(one.cards);
    await fold.addEntries(one.entries);
    assert.deepEqual(fold.answer(), one.expect);
  });
}

// The whole answer is read after each entry, so that an answer kept too long shows.
for (const one of CASES.filter((_, index) => index % 4 === 0)) {
  test(`${one.name}: after each entry the fold stands where a fresh one does`, async () => {
    const fold = foldOf(one);
    const entries = shuffled(one.entries, seeded(7));
    await fold.addCards(one.cards);
    for (const [index, jws] of entries.entries()) {
      const before = fold.answer();
      const changed = new Set(await fold.addEntries([jws]));
      const fresh = foldOf(one);
      await fresh.addCards(one.cards);
      await fresh.addEntries(entries.slice(0, index + 1));
      const after = fold.answer();
      assert.deepEqual(after, fresh.answer());
      for (const [subject, stands] of Object.entries(after.subjects)) {
        if (changed.has(subject)) continue;
        assert.deepEqual(stands, before.subjects[subject], `${subject} changed and was not said to`);
        assert.equal(after.gates[subject], before.gates[subject], `the gate of ${subject} changed unsaid`);
      }
    }
  });
}
