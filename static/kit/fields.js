// What may stand in a record: the same rules as server/kit/fields.py, said before anything is written.

/** @typedef {{ field: string, reason: string }} Fault */
/** @typedef {import("./records.js").Fields} Fields */

/** What a thing may be; the same as in server/sheets/words.py. */
export const TYPES = [
  ...["body", "lens", "viewfinder", "pan-head", "legs", "column", "wedge-plate", "pan-bar", "control"],
  ...["drum", "control-unit", "lifting-gear", "stretcher", "board", "headset", "chart", "rain-cover"],
  ...["extinguisher", "electrical", "test-gear", "protective", "cable-care", "carrying", "consumable"],
  "pressure-vessel",
];
export const DATES = /** @type {const} */ (["made", "examined", "tested", "due"]);
const TAG = /^[A-Za-z0-9._-]+$/;
const DECIMAL = /^-?(0|[1-9][0-9]*)(\.[0-9]+)?$/;
const WHOLE = /^[1-9][0-9]{0,5}$/;
const LONGEST = 400;
const LONGEST_NAME = 60;
const LONGEST_DECIMAL = 32;

/** @param {string} tag @returns {Fault[]} */
export function tagFaults(tag) {
  if (TAG.test(tag) && tag.length <= LONGEST_NAME) return [];
  return [fault("tag", `letters, digits, '.', '-' and '_', at most ${LONGEST_NAME}`)];
}

/** What is wrong with the fields of a record, none where it can be used. @param {Fields} fields @returns {Fault[]} */
export function faultsIn(fields) {
  const { name, type, number, mass_kg, dates = {}, about = {}, holds = [] } = fields;
  return [
    ...(name === undefined ? [] : lineFaults("name", name)),
    ...(type === undefined ? [] : typeFaults(type)),
    ...(number === undefined ? [] : wholeFaults("number", number)),
    ...(mass_kg === undefined || mass_kg === null ? [] : massFaults(mass_kg)),
    ...Object.entries(dates).flatMap(([which, day]) => dateFaults(`dates.${which}`, which, day)),
    ...Object.entries(about).flatMap(([key, value]) => [
      ...lineFaults("about", key, LONGEST_NAME),
      ...lineFaults(`about.${key}`, value),
    ]),
    ...holdsFaults(holds),
  ];
}

/** @param {string} field @param {string} reason @returns {Fault} */
const fault = (field, reason) => ({ field, reason });

/** @param {string} field @param {string} text @param {number} [longest] @returns {Fault[]} */
function lineFaults(field, text, longest = LONGEST) {
  if (!text) return [fault(field, "must be some text")];
  if ([...text].length > longest) return [fault(field, `at most ${longest} characters`)];
  if (text !== text.trim()) return [fault(field, "begins or ends with a space")];
  return /[\p{Cc}\u2028\u2029]/u.test(text)
    ? [fault(field, "holds a character that no line of text has")]
    : [];
}

/** @param {string} type @returns {Fault[]} */
function typeFaults(type) {
  if (!type) return [fault("type", "must be some text")];
  return TYPES.includes(type) ? [] : [fault("type", `'${type}' is not one of ${TYPES.join(", ")}`)];
}

/** @param {string} mass @returns {Fault[]} */
function massFaults(mass) {
  if (!DECIMAL.test(mass) || mass.length > LONGEST_DECIMAL)
    return [fault("mass_kg", `'${mass}' must be a decimal in kg such as 34.5`)];
  return mass.startsWith("-") ? [fault("mass_kg", `'${mass}' kg is below 0`)] : [];
}

/** @param {string} field @param {string} number @returns {Fault[]} */
function wholeFaults(field, number) {
  return WHOLE.test(number) ? [] : [fault(field, `'${number}' must be a whole number above 0`)];
}

/** @param {string} field @param {string} which @param {string} day @returns {Fault[]} */
function dateFaults(field, which, day) {
  if (!DATES.some((one) => one === which)) return [fault(field, `is not one of ${DATES.join(", ")}`)];
  return isDay(day) ? [] : [fault(field, `'${day}' must be a date such as 2031-05-02`)];
}

/** @param {string} text */
function isDay(text) {
  if (!/^[0-9]{4}-[0-9]{2}-[0-9]{2}$/.test(text) || text.startsWith("0000")) return false;
  const day = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(day.getTime()) && day.toISOString().startsWith(text);
}

/** @param {{ tag: string, number: string }[]} holds @returns {Fault[]} */
function holdsFaults(holds) {
  const tags = holds.map(({ tag }) => tag);
  const twice = [...new Set(tags.filter((tag, place) => tags.indexOf(tag) !== place))];
  return [
    ...holds.flatMap(({ tag, number }, place) => [
      ...tagFaults(tag).map(({ reason }) => fault(`holds.${place}.tag`, reason)),
      ...wholeFaults(`holds.${place}.number`, number),
    ]),
    ...twice.map((tag) => fault("holds", `${tag} stands twice`)),
  ];
}
