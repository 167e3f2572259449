/** What is back of what the lockers list: counted short or over, away by name, in the wrong locker, not counted. */

import { plain } from "../decimal.js";
import { slotsOfTag } from "../positions.js";
import { items } from "../sheets.js";
import { settled, standing } from "../values.js";
import { lockerSheets } from "./locker.js";
import { settledShown } from "./shown.js";

/** @typedef {import("../held.js").Held} Held */
/** @typedef {import("./shown.js").Shown} Shown */
/**
 * `counted` is the number that the last count found, null where nobody counted; `where` what was last stated of where
 * the thing is, and `last` the entry that says so: its place, else the slot of a chain that it stands in, else a count
 * that saw it.
 * @typedef {{tag: string, locker: string, listed: string, counted: string | null, where: string | null,
 *   last: Shown | null}} Open
 * @typedef {Record<"missing" | "extra" | "away" | "astray" | "not_counted", Open[]>} Reconciled
 */

/** The stages that count what came back; where a thing was counted in both, the later has the word. */
const BACK = ["de-rig", "stow"];

/** A place outside the vehicles that accounts for a thing: away/left-at-site, away/lent, away/broken, away/lost. */
const AWAY = "away/";

/**
 * The things that are not back in full, by what is known of them, in the order of the lockers. A disputed count stands
 * among the disputes, not here.
 *
 * @param {Held} held
 * @param {import("./definition.js").Definition} now
 * @returns {Reconciled}
 */
export function reconcile(held, now) {
  /** @type {Reconciled} */
  const found = { missing: [], extra: [], away: [], astray: [], not_counted: [] };
  for (const { id, holds } of now.lockers) {
    for (const { tag, number: listed } of holds) {
      const counts = countsOf(held, id, tag);
      const back = counts.filter(({ stage }) => BACK.includes(stage)).map(({ subject }) => subject);
      const counted = back.findLast((subject) => standing(held, subject).state !== "none") ?? back.at(-1);
      if (counted === undefined) continue;
      const seen = lastSeen(
        held,
        tag,
        counts.map(({ subject }) => subject),
      );
      const word = wordFor(held, id, listed, counted, seen.where ?? "");
      if (word) found[word].push({ tag, locker: id, listed, counted: numberIn(held, counted), ...seen });
    }
  }
  return found;
}

/**
 * @param {Held} held
 * @param {string} locker
 * @param {string} listed
 * @param {string} counted
 * @param {string} where
 * @returns {keyof Reconciled | null}
 */
function wordFor(held, locker, listed, counted, where) {
  if (["disputed", "waits"].includes(standing(held, counted).state)) return null;
  const number = numberIn(held, counted);
  const missing = Number(listed) - Number(number ?? 0);
  if (missing <= 0) return missing < 0 ? "extra" : null;
  if (where.startsWith(AWAY)) return "away";
  if (where.startsWith("locker/") && where !== `locker/${locker}`) return "astray";
  return number === null ? "not_counted" : "missing";
}

/**
 * Each count of a thing in its locker, in the order of the sheets.
 *
 * @param {Held} held
 * @param {string} locker
 * @param {string} tag
 */
function countsOf(held, locker, tag) {
  return lockerSheets(held, locker).flatMap(({ stage, steps }) =>
    steps
      .filter((step) => items(step).includes(tag))
      .map(({ subject }) => ({ stage, subject: `${subject}/${tag}` })),
  );
}

/**
 * @param {Held} held
 * @param {string} subject
 */
function numberIn(held, subject) {
  const value = settled(held, subject);
  return value?.kind === "count" ? plain(String(value.body.number)) : null;
}

/**
 * @param {Held} held
 * @param {string} tag
 * @param {string[]} counts
 * @returns {{where: string | null, last: Shown | null}}
 */
function lastSeen(held, tag, counts) {
  const place = settledShown(held, `kit/${tag}/place`);
  if (place?.kind === "place") return { where: String(place.body.where), last: place };
  const saw = counts.filter((subject) => ![null, "0"].includes(numberIn(held, subject))).reverse();
  const subject = [...[...slotsOfTag(held, tag)].sort(), ...saw][0];
  if (subject === undefined) return { where: null, last: null };
  return { where: subject.split("/").slice(0, 2).join("/"), last: settledShown(held, subject) };
}
