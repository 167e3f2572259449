// The fields of a report of thorough examination, after the statute's schedule; the same as server/kit/schedule.py.
import { signal } from "@preact/signals";

/** @typedef {{ paragraph: string, at: string, words: string, status: string }} Field */

/** The fields in the schedule's order; empty until this phone has read them. */
export const schedule = signal(/** @type {Field[]} */ ([]));

fetch("/static/kit/schedule.json")
  .then((answer) => answer.json())
  .then((fields) => {
    schedule.value = fields;
  })
  .catch(() => {}); // no field is asked for until the app starts with its files

const NONE = "none";

/**
 * The fields that the report of a piece's last thorough examination lacks: with one the report is incomplete.
 *
 * @param {readonly Field[]} fields
 * @param {{ dates: Record<string, string | undefined>, about: Record<string, string> }} piece
 * @returns {Field[]}
 */
export function lacking(fields, { dates, about }) {
  const first = about.first_after_installation === "yes";
  /** @type {Record<string, boolean>} */
  const asked = { 6: first, 7: !first, "8(b), (c)": (about.defect ?? NONE) !== NONE };
  const said = (/** @type {string} */ at) => {
    const [group, key = ""] = at.split(".");
    return (group === "dates" ? dates : about)[key];
  };
  return fields.filter(({ paragraph, at }) => (asked[paragraph] ?? true) && !said(at));
}
