/** Figures as the logbook writes them: decimal strings, compared by value and never as binary fractions. */

const DECIMAL = /^-?(0|[1-9][0-9]*)(\.[0-9]+)?$/;
const MAX_CHARACTERS = 32;

/**
 * @param {unknown} value
 * @returns {value is string}
 */
export function isDecimal(value) {
  return typeof value === "string" && value.length <= MAX_CHARACTERS && DECIMAL.test(value);
}

/**
 * The shortest way to write the same figure: `20.10` is `20.1`, `-0.0` is `0`. Equal texts are equal figures.
 * @param {string} figure
 */
export function plain(figure) {
  const short = figure.includes(".") ? figure.replace(/\.?0+$/, "") : figure;
  return short === "-0" ? "0" : short;
}
