// The numbers of a vehicle's door tags as one remark holds them: `L1 0412, L2 0413`.

/** @param {Record<string, string>} numbers by locker; what was not read is left out */
export function asRemark(numbers) {
  return Object.entries(numbers)
    .filter(([, number]) => number.trim())
    .map(([locker, number]) => `${locker} ${number.trim()}`)
    .join(", ");
}

/** The numbers that a remark tells, by locker. @param {string} text @returns {Record<string, string>} */
export function inRemark(text) {
  const parts = text.split(",").map((part) => part.trim().match(/^(\S+)\s+(.+)$/));
  return Object.fromEntries(parts.flatMap((found) => (found ? [[found[1] ?? "", found[2] ?? ""]] : [])));
}

/**
 * Doors whose tag is another than the one that left, or was not read again.
 * @param {Record<string, string>} left @param {Record<string, string>} came
 * @returns {{ locker: string, left: string, came: string | null }[]}
 */
export function otherwise(left, came) {
  return Object.entries(left)
    .map(([locker, number]) => ({ locker, left: number, came: came[locker]?.trim() || null }))
    .filter(({ left: number, came: again }) => again !== number);
}
