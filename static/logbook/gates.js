/** Gates: what is done, and what may be done now. A gate stands on the phone, never at receipt. */

import { isDecimal, plain } from "./decimal.js";
import { counts, isState, whyNot } from "./judge.js";
import { evidence, stillHolds } from "./lasting.js";
import { isInTwoPlaces } from "./positions.js";
import { parts, places } from "./sheets.js";
import { readings, settled, standing, values } from "./values.js";

/** @typedef {import("./entry.js").Entry} Entry */
/** @typedef {import("./held.js").Held} Held */
/** @typedef {import("./sheets.js").Step} Step */
/** @typedef {"open" | "shut" | "unseen"} Gate */

/**
 * Whether a step is done: it has a settled value that says so, a reading that counts, or each item at its number.
 *
 * @param {Held} held
 * @param {Step} step
 */
export function isDone(held, step) {
  return held.memo.answer(`done ${step.subject}`, () => {
    if (step.asks === "reading") return readings(held, step.subject).length > 0;
    if (step.asks === "count") return isCounted(held, step);
    if (step.asks === "choice") return isChosen(step, settled(held, step.subject));
    if (settled(held, step.subject)?.kind !== "tick") return false;
    return step.asks === "tick" || values(held, step.subject).some((tick) => hasProof(held, tick, step));
  });
}

/**
 * Whether a count subject is settled at a number.
 *
 * @param {Held} held
 * @param {string} subject
 * @param {string} number
 */
export function isCountedAt(held, subject, number) {
  const value = settled(held, subject);
  if (value?.kind !== "count" || !isDecimal(number)) return false;
  return plain(String(value.body.number)) === plain(number);
}

/**
 * The gate of a step, and the awaited subjects that hold it.
 *
 * @param {Held} held
 * @param {Step} step
 * @returns {{gate: Gate, waits_for: string[], unseen: string[]}} `waits_for`: this phone holds a no; `unseen`: nothing
 */
export function gate(held, step) {
  return held.memo.answer(`gate ${step.subject}`, () => {
    const waiting = step.after.filter((subject) => answerOf(held, subject) === "no");
    const unseen = step.after.filter((subject) => answerOf(held, subject) === "unseen");
    const gate = waiting.length > 0 ? "shut" : unseen.length > 0 ? "unseen" : "open";
    return { gate, waits_for: waiting, unseen };
  });
}

/**
 * The steps that a step waits for and that have not been withdrawn.
 *
 * @param {Held} held
 * @param {Step} step
 */
export function awaited(held, step) {
  return step.after.flatMap((subject) => {
    const place = places(held).get(subject);
    return place && !place.withdrawn ? [place.step] : [];
  });
}

/**
 * @param {Held} held
 * @param {string} subject awaited
 * @returns {"yes" | "no" | "unseen"}
 */
function answerOf(held, subject) {
  const place = places(held).get(subject);
  if (place?.withdrawn) return "yes";
  // What no sheet here has, no entry here can answer.
  if (place === undefined) return "unseen";
  if (!isHeld(held, place.step)) return "unseen";
  return opens(held, place.step) ? "yes" : "no";
}

/**
 * @param {Held} held
 * @param {Step} step
 */
function opens(held, step) {
  const { state } = standing(held, step.subject);
  return (
    isDone(held, step) &&
    state !== "disputed" &&
    state !== "waits" &&
    !isInTwoPlaces(held, step) &&
    evidence(held, step).every((part) => part.some((entry) => stillHolds(held, entry, step)))
  );
}

/**
 * Whether anything is here that says how a step stands, be it that it was withdrawn.
 *
 * @param {Held} held
 * @param {Step} step
 */
function isHeld(held, step) {
  return [step.subject, ...parts(step)].some((subject) =>
    held
      .ofSubject(subject)
      .some(
        (entry) =>
          (isState(held, entry) || entry.kind === "reading") &&
          [null, "withdrawn"].includes(whyNot(held, entry)),
      ),
  );
}

/**
 * @param {Held} held
 * @param {Step} step
 */
function isCounted(held, step) {
  const listed = Object.entries(step.items ?? {});
  return (
    listed.length > 0 &&
    listed.every(([item, number]) => isCountedAt(held, `${step.subject}/${item}`, number))
  );
}

/**
 * @param {Step} step
 * @param {Entry | undefined} value
 */
function isChosen(step, value) {
  if (value?.kind !== "choice") return false;
  return step.choices?.find(({ id }) => id === value.body.choice)?.done ?? step.choices === undefined;
}

/**
 * Whether a tick rests on the photo or remark that its step asks for.
 *
 * @param {Held} held
 * @param {Entry} tick
 * @param {Step} step
 */
function hasProof(held, tick, step) {
  return tick.rests_on.some((name) => {
    const proof = held.entry(name);
    return proof?.kind === step.asks && proof.subject === step.subject && counts(held, proof);
  });
}
