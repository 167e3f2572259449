/** Instants after RFC 3339: read, compared and moved exactly, whatever their fraction. */

const FULL = /^(\d{4})-(\d{2})-(\d{2})T(\d{2}):(\d{2}):(\d{2})(?:\.(\d+))?(?:Z|([+-])(\d{2}):(\d{2}))$/;

/**
 * Whole seconds in UTC since 1970, and the decimals after them without noughts at the end.
 * @typedef {{seconds: number, decimals: string}} Instant
 */

/**
 * An instant in the full form, with its offset; null where the text is none: also for a day that no calendar has,
 * the year 0000, and a leap second, which no phone's clock shows.
 *
 * @param {string} text
 * @returns {Instant | null}
 */
export function readInstant(text) {
  const match = FULL.exec(text);
  if (match === null) return null;
  const parts = [1, 2, 3, 4, 5, 6, 9, 10].map((group) => Number(match[group] ?? 0));
  const [year = 0, month = 0, day = 0, hour = 0, minute = 0, second = 0, offsetHour = 0, offsetMinute = 0] =
    parts;
  if (hour > 23 || minute > 59 || second > 59 || offsetHour > 23 || offsetMinute > 59) return null;
  // The constructor would read the years below 100 as of the twentieth century.
  const midnight = new Date(0);
  midnight.setUTCFullYear(year, month - 1, day);
  if (year === 0 || midnight.getUTCMonth() !== month - 1 || midnight.getUTCDate() !== day) return null;
  const offsetS = 60 * (60 * offsetHour + offsetMinute) * (match[8] === "-" ? -1 : 1);
  const seconds = midnight.getTime() / 1000 + 3600 * hour + 60 * minute + second - offsetS;
  return { seconds, decimals: (match[7] ?? "").replace(/0+$/, "") };
}

/**
 * Below nought where `a` is the earlier, above where it is the later.
 * @param {Instant} a
 * @param {Instant} b
 */
export function compareInstants(a, b) {
  if (a.seconds !== b.seconds) return a.seconds - b.seconds;
  if (a.decimals === b.decimals) return 0;
  return a.decimals < b.decimals ? -1 : 1;
}

/**
 * The instant so many minutes later, after RFC 3339 in UTC with its fraction.
 * @param {Instant} instant
 * @param {number} minutes
 */
export function inUtc({ seconds, decimals }, minutes) {
  const moved = new Date((seconds + 60 * minutes) * 1000);
  const year = String(moved.getUTCFullYear()).padStart(4, "0");
  const rest = moved.toISOString().slice(-"-MM-DDThh:mm:ss.000Z".length, -".000Z".length);
  return `${year}${rest}${decimals && `.${decimals}`}Z`;
}
