/** When an examination or test falls due: months from the last one, a date that its report states, the earlier of both. */

/**
 * A thing of kit as plain data, the same on the server (`server/kit/due.py`). Days are 2031-05-02.
 *
 * @typedef {{id: string, of: string, months: number, limb: string | null, rule: string, status: string,
 *   after: string[]}} Interval
 * @typedef {{tag: string, name: string, type: string, dates: Record<string, string>, about: Record<string, string>,
 *   interval: Interval | null}} Dated
 */

/** The limb under which a written scheme of examination sets the date, and no number of months. */
const SCHEME = "scheme";
const LAST_YEAR = 9999;

/**
 * The same day so many months later, or that month's last day where it has no such day.
 *
 * @param {string} day
 * @param {number} months
 * @throws {RangeError} beyond the year 9999
 */
export function addMonths(day, months) {
  const [year = 0, month = 0, date = 0] = day.split("-").map(Number);
  const all = year * 12 + month - 1 + months;
  const [toYear, toMonth] = [Math.floor(all / 12), (all % 12) + 1];
  if (toYear > LAST_YEAR)
    throw new RangeError(`${months} months after ${day} lie beyond the year ${LAST_YEAR}`);
  return [digits(toYear, 4), digits(toMonth, 2), digits(Math.min(date, daysOf(toYear, toMonth)), 2)].join(
    "-",
  );
}

/**
 * The date of the last examination, or test; null where none is written.
 *
 * @param {Dated} piece
 */
export function lastDone({ dates }) {
  return dates.examined ?? dates.tested ?? null;
}

/**
 * The date by which the next one is due: the earlier of what is stated and what the interval allows. Where a scheme of
 * examination governs, it is the stated one. Null where it cannot be told.
 *
 * @param {Dated} piece
 */
export function due(piece) {
  const found = [stated(piece), allowed(piece)].filter((day) => day !== null).sort();
  return found[0] ?? null;
}

/**
 * The date due that is written of it.
 *
 * @param {Dated} piece
 */
export function stated({ dates }) {
  return dates.due ?? null;
}

/**
 * The last date that its interval allows; null without a last date or interval, or under a scheme.
 *
 * @param {Dated} piece
 */
export function allowed(piece) {
  const last = lastDone(piece);
  if (piece.interval === null || last === null || piece.about.limb === SCHEME) return null;
  return addMonths(last, piece.interval.months);
}

/**
 * Whether it is overdue; a thing is in date on the day that it is due.
 *
 * @param {Dated} piece
 * @param {string} today
 * @param {string | null} [showEnd]
 * @returns {"now" | "before the show ends" | null}
 */
export function overdue(piece, today, showEnd = null) {
  const day = due(piece);
  if (day === null) return null;
  if (day < today) return "now";
  return showEnd !== null && day < showEnd ? "before the show ends" : null;
}

/**
 * @param {number} year
 * @param {number} month
 */
function daysOf(year, month) {
  if (month === 2) return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0 ? 29 : 28;
  return [4, 6, 9, 11].includes(month) ? 30 : 31;
}

/**
 * @param {number} value
 * @param {number} many
 */
function digits(value, many) {
  return String(value).padStart(many, "0");
}
