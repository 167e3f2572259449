/** How long what was done lasts: ended by an event, stale by another link, or until a time. */

import { compareInstants, inUtc, readInstant } from "./instant.js";
import { counts } from "./judge.js";
import { slotFor, tagsIn, tagsOf } from "./positions.js";
import { parts } from "./sheets.js";
import { contradicting, readings, values } from "./values.js";

/** @typedef {import("./entry.js").Entry} Entry */
/** @typedef {import("./held.js").Held} Held */
/** @typedef {import("./sheets.js").Step} Step */
/** @typedef {{ended: boolean, stale: boolean, until: string | null}} Lasting */

/**
 * What a step's state stands on: its readings, the values of each of its items, or its values. One list a part.
 *
 * @param {Held} held
 * @param {Step} step
 */
export function evidence(held, step) {
  const read = step.asks === "reading" ? readings : values;
  return parts(step).map((subject) => read(held, subject));
}

/**
 * How long what a step, or one item of it, stands on lasts: ended or stale when all that one part stands on is.
 *
 * @param {Held} held
 * @param {Step} step
 * @param {string} [item] the subject of one item
 * @returns {Lasting}
 */
export function lasting(held, step, item) {
  return held.memo.answer(`lasting ${item ?? step.subject}`, () => {
    const stands = (item ? [values(held, item)] : evidence(held, step)).filter((part) => part.length > 0);
    return {
      ended: stands.some((part) => part.every((entry) => isEnded(held, entry, step))),
      stale: stands.some((part) => part.every((entry) => isStale(held, entry, step))),
      until: until(
        stands.map((part) => part.filter((entry) => stillHolds(held, entry, step))),
        step,
      ),
    };
  });
}

/**
 * @param {Held} held
 * @param {Entry} entry
 * @param {Step} step
 */
export function stillHolds(held, entry, step) {
  return !isEnded(held, entry, step) && !isStale(held, entry, step);
}

/**
 * Whether an event that ends this step is not in the past of an entry: unknown order means ended.
 *
 * @param {Held} held
 * @param {Entry} entry a value or reading of the step or of an item of it
 * @param {Step} step
 */
export function isEnded(held, entry, step) {
  held.memo.restsOn(`past ${entry.name}`);
  return endings(held, step).some(({ name }) => name !== entry.name && !held.past.knows(entry.name, name));
}

/**
 * The entries that end a step: its events that count, at its subject and above it and on the show; and on reading
 * and count steps the reopens of the step itself.
 *
 * @param {Held} held
 * @param {Step} step
 * @returns {readonly Entry[]}
 */
export function endings(held, step) {
  return held.memo.answer(`endings ${step.subject}`, () => {
    const events = atAndAbove(step.subject)
      .flatMap((subject) => held.eventsAt(subject))
      .filter((event) => step.ended_by.some((ending) => ending === event.body.event));
    const reopens =
      step.asks === "reading" || step.asks === "count"
        ? held.ofSubject(step.subject).filter(({ kind }) => kind === "reopen")
        : [];
    return [...events, ...reopens].filter((entry) => counts(held, entry));
  });
}

/**
 * Whether another tag than in its `chain` now stands where the step is about, or an assign that the entry rests on
 * was replaced by one that states otherwise.
 *
 * @param {Held} held
 * @param {Entry} entry
 * @param {Step} step
 */
export function isStale(held, entry, step) {
  return step.about.some((link) => {
    const slot = slotFor(step.subject, link);
    if (slot === null) return false;
    return isAnother(tagsOf(entry.chain?.[link]), tagsIn(held, slot)) || restsOnReplaced(held, entry, slot);
  });
}

/**
 * @param {readonly string[] | null} then
 * @param {readonly string[] | null} now
 */
function isAnother(then, now) {
  return then !== null && now !== null && JSON.stringify(then) !== JSON.stringify(now);
}

/**
 * @param {Held} held
 * @param {Entry} entry
 * @param {string} slot
 */
function restsOnReplaced(held, entry, slot) {
  return entry.rests_on.some((name) => {
    const assign = held.entry(name);
    return (
      assign?.subject === slot &&
      assign.kind === "assign" &&
      contradicting(held, assign).some(({ kind }) => kind === "assign")
    );
  });
}

/** @param {string} subject */
function atAndAbove(subject) {
  const words = subject.split("/");
  const above = words.map((_, index) => words.slice(0, index + 1).join("/"));
  return above.includes("show") ? above : [...above, "show"];
}

/**
 * The earliest over the parts of: the latest that still holds, plus the step's minutes.
 *
 * @param {readonly Entry[][]} parts what still holds of each
 * @param {Step} step
 */
function until(parts, { minutes }) {
  if (minutes === null) return null;
  const earliest = parts.flatMap((part) => instants(part).slice(-1)).sort(compareInstants)[0];
  return earliest === undefined ? null : inUtc(earliest, minutes);
}

/** @param {readonly Entry[]} entries */
function instants(entries) {
  return entries
    .map(({ at }) => readInstant(at))
    .filter((instant) => instant !== null)
    .sort(compareInstants);
}
