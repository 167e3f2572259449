/** Chains and heads: what each device's entries lead to, and which numbers were written and are not here. */

/** @typedef {import("./entry.js").Entry} Entry */
/** @typedef {import("./held.js").Held} Held */
/** @typedef {{tips: string[], gaps: [number, number][], forked: boolean}} Heads */

/**
 * Heads of a device: its connected tips, two or more where it is forked, and its gaps as ranges of numbers.
 *
 * @param {Held} held
 * @param {string} kid
 * @returns {Heads}
 */
export function heads(held, kid) {
  return held.memo.answer(`heads ${kid}`, () => {
    const chain = held.ofDevice(kid).toSorted((a, b) => a.number - b.number);
    const ends = tips(chain);
    return { tips: ends, gaps: gaps(held, chain), forked: ends.length > 1 };
  });
}

/**
 * An entry of a device and what its own `previous` lead back to; nothing where it is another device's or not here.
 *
 * @param {Held} held
 * @param {string | null} head
 * @param {string} kid
 * @returns {ReadonlySet<string>}
 */
export function ancestors(held, head, kid) {
  return held.memo.answer(`ancestors ${head} ${kid}`, () => {
    /** @type {Set<string>} */
    const line = new Set();
    for (let name = head; name !== null; ) {
      const entry = held.entry(name);
      if (entry?.kid !== kid) break;
      line.add(name);
      name = entry.previous;
    }
    return line;
  });
}

/** @param {Entry[]} chain by number */
function tips(chain) {
  /** @type {Map<string, number>} */
  const connected = new Map();
  const followed = new Set();
  for (const { name, number, previous } of chain) {
    const fits = previous === null ? number === 1 : connected.get(previous) === number - 1;
    if (!fits) continue;
    connected.set(name, number);
    followed.add(previous);
  }
  return [...connected.keys()].filter((name) => !followed.has(name)).sort();
}

/**
 * @param {Held} held
 * @param {Entry[]} chain by number
 */
function gaps(held, chain) {
  /** @type {[number, number][]} */
  const ranges = [];
  let highest = 0;
  for (const { number, previous } of chain) {
    if (number > highest + 1) ranges.push([highest + 1, number - 1]);
    if (number > 1 && previous !== null && !held.entry(previous)) ranges.push([number - 1, number - 1]);
    highest = number;
  }
  return joined(ranges);
}

/** @param {[number, number][]} ranges */
function joined(ranges) {
  /** @type {[number, number][]} */
  const whole = [];
  for (const [first, last] of ranges.sort((a, b) => a[0] - b[0] || a[1] - b[1])) {
    const before = whole.at(-1);
    if (before && first <= before[1] + 1) before[1] = Math.max(before[1], last);
    else whole.push([first, last]);
  }
  return whole;
}
