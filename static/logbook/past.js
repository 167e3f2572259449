/**
 * What an entry's writer can have known: the entries that it leads to by `previous`, `replaces` and `rests_on`,
 * followed through whatever is here. Of these only what may end something is kept: events and reopens.
 */

/** @typedef {import("./entry.js").Entry} Entry */

const ENDING = new Set(["event", "reopen"]);
/** @type {ReadonlySet<string>} */
const NOTHING = new Set();

export class Past {
  /** @type {Map<string, Entry>} */
  #entries = new Map();
  /** @type {Map<string, ReadonlySet<string>>} */
  #known = new Map();
  /** @type {Map<string, string[]>} */
  #followers = new Map();

  /**
   * Take an entry, in any order of arrival.
   *
   * @param {Entry} entry
   * @returns {Set<string>} the names of those whose past grew by it
   */
  add(entry) {
    this.#entries.set(entry.name, entry);
    for (const name of ledTo(entry)) {
      const followers = this.#followers.get(name);
      if (followers) followers.push(entry.name);
      else this.#followers.set(name, [entry.name]);
    }
    /** @type {Set<string>} */
    const grown = new Set();
    const queue = [entry.name];
    for (const name of queue) {
      const changed = this.#renew(name);
      if (changed) grown.add(name);
      // A new entry is news to those that came before it and lead to it, even when nothing lies behind it.
      if (changed || name === entry.name) queue.push(...(this.#followers.get(name) ?? []));
    }
    return grown;
  }

  /**
   * Whether an event or reopen lies in the past of an entry.
   * @param {string} name
   * @param {string} ending
   */
  knows(name, ending) {
    return this.#known.get(name)?.has(ending) ?? false;
  }

  /** @param {string} name */
  #renew(name) {
    const entry = this.#entries.get(name);
    if (entry === undefined) return false;
    const before = this.#known.get(name);
    const known = this.#gathered(entry);
    this.#known.set(name, known);
    return known.size > (before?.size ?? 0);
  }

  /**
   * @param {Entry} entry
   * @returns {ReadonlySet<string>} shared with an entry before it where both know the same
   */
  #gathered(entry) {
    let known = NOTHING;
    for (const name of ledTo(entry)) {
      known = union(known, this.#known.get(name) ?? NOTHING);
      const before = this.#entries.get(name);
      if (before && ENDING.has(before.kind) && !known.has(name)) known = new Set([...known, name]);
    }
    return known;
  }
}

/** @param {Entry} entry */
function ledTo(entry) {
  const names = new Set([...entry.replaces, ...entry.rests_on]);
  if (entry.previous !== null) names.add(entry.previous);
  return names;
}

/**
 * @param {ReadonlySet<string>} a
 * @param {ReadonlySet<string>} b
 * @returns {ReadonlySet<string>}
 */
function union(a, b) {
  if (a === b || b.size === 0) return a;
  if (a.size === 0) return b;
  const [large, small] = a.size < b.size ? [b, a] : [a, b];
  const more = [...small].filter((name) => !large.has(name));
  return more.length === 0 ? large : new Set([...large, ...more]);
}
