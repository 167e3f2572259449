/**
 * Answers that are kept until something that they were computed from changes.
 *
 * Each answer goes by a key. While one is computed, every key that is asked for is noted as something that it rests
 * on; to forget a key forgets, through any chain, all that rests on it and nothing else. That is what makes an entry
 * cost its subject and not the log.
 */
export class Memo {
  /** @type {Map<string, unknown>} */
  #answers = new Map();
  /** @type {Map<string, Set<string>>} */
  #restingOn = new Map();
  /** @type {string[]} */
  #asking = [];

  /**
   * The answer of this key, computed where it is not kept.
   *
   * @template T
   * @param {string} key
   * @param {() => T} compute asks for all that may change through this memo
   * @returns {T}
   */
  answer(key, compute) {
    this.restsOn(key);
    if (this.#answers.has(key)) return /** @type {T} */ (this.#answers.get(key));
    this.#asking.push(key);
    try {
      const answer = compute();
      this.#answers.set(key, answer);
      return answer;
    } finally {
      this.#asking.pop();
    }
  }

  /**
   * Note that what is being computed rests on this key.
   * @param {string} key
   */
  restsOn(key) {
    const asker = this.#asking.at(-1);
    if (asker === undefined) return;
    const resting = this.#restingOn.get(key);
    if (resting) resting.add(asker);
    else this.#restingOn.set(key, new Set([asker]));
  }

  /**
   * Forget this key and all that rests on it.
   *
   * @param {string} key
   * @returns {Set<string>} the keys that were forgotten
   */
  forget(key) {
    const forgotten = new Set([key]);
    for (const one of forgotten) {
      this.#answers.delete(one);
      for (const resting of this.#restingOn.get(one) ?? []) forgotten.add(resting);
      this.#restingOn.delete(one);
    }
    return forgotten;
  }
}
