/** The sheets of a show as they stand: as served, with what amends add and withdraw. */

import { NotIJson, readIJson } from "./ijson.js";
import { counts } from "./judge.js";
import { fits } from "./kinds.js";

/** @typedef {import("./held.js").Held} Held */
/** @typedef {import("./entry.js").Entry} Entry */

/**
 * A step as a sheet states it; what the folds need, the rest is for the screen.
 * @typedef {{id: string, subject: string, asks: "tick" | "count" | "reading" | "choice" | "photo" | "remark",
 *   roles: string[], after: string[], hazard: boolean, minutes: number | null, ended_by: string[], about: string[],
 *   items?: Record<string, string>, choices?: {id: string, label: string, done: boolean}[],
 *   [member: string]: unknown}} Step
 * @typedef {{id: string, stage: string, title: string, text: string, signed_by: string[], steps: Step[],
 *   [member: string]: unknown}} Sheet
 * @typedef {{step: Step, sheet: string, item: string | null, withdrawn: boolean}} Place
 */

/**
 * The sheets by id; `steps` are those that are not withdrawn, added ones last.
 *
 * @param {Held} held
 * @returns {ReadonlyMap<string, Sheet>}
 */
export function sheets(held) {
  return held.memo.answer("sheets", () => {
    const gone = withdrawnSteps(held);
    return new Map(
      allSheets(held).map((sheet) => [
        sheet.id,
        { ...sheet, steps: sheet.steps.filter((step) => !gone.has(step.subject)) },
      ]),
    );
  });
}

/**
 * Every step and item by its subject, withdrawn steps too: their roles go on judging.
 *
 * @param {Held} held
 * @returns {ReadonlyMap<string, Place>}
 */
export function places(held) {
  return held.memo.answer("places", () => {
    const gone = withdrawnSteps(held);
    /** @type {Map<string, Place>} */
    const found = new Map();
    for (const sheet of allSheets(held)) {
      for (const step of sheet.steps) {
        const place = { step, sheet: sheet.id, withdrawn: gone.has(step.subject) };
        if (found.has(step.subject)) continue;
        found.set(step.subject, { ...place, item: null });
        for (const item of items(step)) found.set(`${step.subject}/${item}`, { ...place, item });
      }
    }
    return found;
  });
}

/**
 * The step that a subject is, or is an item of: on a count step also of one that its list does not name.
 *
 * @param {Held} held
 * @param {string} subject
 * @returns {Place | undefined}
 */
export function stepOf(held, subject) {
  const known = places(held);
  const place = known.get(subject);
  if (place) return place;
  const cut = subject.lastIndexOf("/");
  const above = known.get(subject.slice(0, Math.max(cut, 0)));
  if (above?.item !== null || above.step.asks !== "count") return undefined;
  return { ...above, item: subject.slice(cut + 1) };
}

/**
 * The tags that a count step lists, sorted: their order in a sheet's text is another in another language.
 * @param {Step} step
 */
export function items(step) {
  return step.asks === "count" ? Object.keys(step.items ?? {}).sort(byCodePoint) : [];
}

/**
 * The order of UTF-8 bytes, which JavaScript's own is not beyond the basic plane.
 * @param {string} a
 * @param {string} b
 */
function byCodePoint(a, b) {
  const [left, right] = [[...a], [...b]];
  const at = left.findIndex((letter, index) => letter !== right[index]);
  if (at < 0) return left.length - right.length;
  return (left[at]?.codePointAt(0) ?? 0) - (right[at]?.codePointAt(0) ?? -1);
}

/**
 * The subjects that a step's state stands on: its own, or those of its items.
 * @param {Step} step
 */
export function parts(step) {
  return step.asks === "count" ? items(step).map((item) => `${step.subject}/${item}`) : [step.subject];
}

/**
 * What a signature over a sheet digests: its text, then the names of the amends that touch it.
 *
 * @param {Held} held
 * @param {string} sheet
 */
export function signedText(held, sheet) {
  const text = sheets(held).get(sheet)?.text;
  const touching = amends(held).filter(({ body }) => body.sheet === sheet);
  const names = touching.map(({ name }) => `\n${name}`).sort();
  return text === undefined ? undefined : [text, ...names].join("");
}

/**
 * Digests of the files of sheets that amends name and that are not here.
 * @param {Held} held
 */
export function missingFiles(held) {
  const named = amends(held).flatMap(({ body }) =>
    body.change === "add-sheets" ? [String(body.digest)] : [],
  );
  return named.filter((digest) => held.file(digest) === undefined);
}

/**
 * Whether a text is a file of what an amend may add: what is not stays missing, for whoever wrote it to send again.
 *
 * @param {import("./kinds.js").Kinds} kinds
 * @param {string} text
 */
export function isAdded({ amend }, text) {
  const { file, sheet } = amend ?? {};
  if (file === undefined || sheet === undefined) return false;
  try {
    const stated = readJson(text);
    return (
      fits(stated, file) &&
      (stated.sheets ?? []).every((/** @type {string} */ one) => fits(readJson(one), sheet))
    );
  } catch (fault) {
    if (fault instanceof NotIJson) return false;
    throw fault;
  }
}

/**
 * What the file of an add-sheets amend holds; nothing while it is not here.
 *
 * @param {Held} held
 * @param {Entry} amend
 * @returns {{positions?: any[], kit?: any[], people?: any[], sheets?: string[]}}
 */
export function addedBy(held, { body }) {
  const file = held.file(String(body.digest));
  return file === undefined ? {} : readJson(file);
}

/**
 * The amends that count, by name.
 * @param {Held} held
 */
export function amends(held) {
  return held.memo.answer("amends", () =>
    held
      .ofKind("amend")
      .filter((entry) => counts(held, entry))
      .sort((a, b) => (a.name < b.name ? -1 : 1)),
  );
}

/** @param {Held} held */
function withdrawnSteps(held) {
  const withdrawing = amends(held).filter(({ body }) => body.change === "withdraw-step");
  return new Set(withdrawing.map(({ body }) => body.step));
}

/**
 * @param {Held} held
 * @returns {Sheet[]}
 */
function allSheets(held) {
  return held.memo.answer("all sheets", () => {
    const added = amends(held).flatMap((amend) => addedTexts(held, amend));
    const served = [...held.sheets.map(({ text }) => text), ...added].map(read);
    return served.map((sheet) => ({ ...sheet, steps: [...sheet.steps, ...addedSteps(held, sheet)] }));
  });
}

/**
 * @param {Held} held
 * @param {Entry} amend
 * @returns {string[]}
 */
function addedTexts(held, amend) {
  return amend.body.change === "add-sheets" ? (addedBy(held, amend).sheets ?? []) : [];
}

/**
 * An amend never changes a step: one that is there already is not added again.
 *
 * @param {Held} held
 * @param {Sheet} sheet
 */
function addedSteps(held, sheet) {
  const there = new Set(sheet.steps.map((step) => step.subject));
  return amends(held)
    .filter(({ body }) => body.change === "add-step" && body.sheet === sheet.id)
    .map(({ body }) => /** @type {Step} */ (/** @type {unknown} */ (body.added)))
    .filter(({ subject }) => !there.has(subject) && there.add(subject));
}

/**
 * @param {string} text
 * @returns {Sheet}
 */
function read(text) {
  return { title: "", signed_by: [], ...readJson(text), text };
}

/**
 * @param {string} text
 * @returns {any}
 */
function readJson(text) {
  return readIJson(new TextEncoder().encode(text));
}
