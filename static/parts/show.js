// What the screens read of the open show, and how they write into it.
import { signal } from "@preact/signals";
import { listOf, recordOf, thingsNow } from "../kit/records.js";
import { book, write as writeInto } from "../logbook/book.js";
import { sheets, stepOf } from "../logbook/sheets.js";
import * as views from "../logbook/views.js";

/** @typedef {import("./shapes.js").Definition} Definition */
/** @typedef {import("./shapes.js").Step} Step */
/** @typedef {import("./shapes.js").V} V */

/** On whose word entries are written, while somebody on talkback speaks; null: the writer's own. */
export const speaker = signal(/** @type {string | null} */ (null));

/** The open show. @throws {Error} where none is open; the frame says so before any screen asks */
export function current() {
  const show = book.show.value;
  if (!show) throw new Error("No show is open on this phone. Pick one first.");
  return show;
}

/** @type {WeakMap<object, Map<string, any>>} */
const answers = new WeakMap();

/**
 * What a question about the open show comes to, asked once until something new is heard.
 * @template T
 * @param {string} question
 * @param {() => T} answer
 * @returns {T}
 */
function once(question, answer) {
  const show = current();
  const known = answers.get(show) ?? new Map();
  answers.set(show, known);
  if (!known.has(question)) known.set(question, answer());
  return known.get(question);
}

/** The show as it stands, with what amends add and move. @returns {Definition} */
export function definition() {
  const { fold, definition: made } = current();
  return once("definition", () => views.amended(fold, made));
}

/** The sheets as they stand, amends included. @returns {import("./shapes.js").Sheet[]} */
export function allSheets() {
  return /** @type {any} */ ([...sheets(current().fold.held).values()]);
}

/** @param {string} id @returns {import("./shapes.js").Sheet | undefined} */
export function sheetOf(id) {
  return /** @type {any} */ (sheets(current().fold.held).get(id));
}

/** @param {string} subject @returns {Step | undefined} */
export function step(subject) {
  return /** @type {any} */ (stepOf(current().fold.held, subject)?.step);
}

/** @param {string} subject */
export function sheetIdOf(subject) {
  return stepOf(current().fold.held, subject)?.sheet ?? subject.split("/").slice(0, -1).join("/");
}

/** @param {string} id @returns {import("./shapes.js").SheetView} */
export const sheetView = (id) => /** @type {any} */ (views.sheet(current().fold, definition(), id));
/** @param {string} id @returns {import("./shapes.js").LockerView} */
export const lockerView = (id) =>
  /** @type {any} */ (once(`locker ${id}`, () => views.locker(current().fold, definition(), id)));
/** @param {string} id @returns {import("./shapes.js").PositionView} */
export const positionView = (id) => /** @type {any} */ (views.position(current().fold, definition(), id));
/** @param {string} tag @returns {import("./shapes.js").KitView} */
export const kitView = (tag) => /** @type {any} */ (views.kit(current().fold, definition(), tag));
/** @returns {any} */
export const reportView = () => once("report", () => views.report(current().fold, definition()));
/** @returns {Record<string, import("../logbook/chains.js").Heads>} */
export const devicesView = () => current().fold.devices();

/** @param {string} subject @returns {import("./shapes.js").StepView | undefined} */
export function stepView(subject) {
  return sheetView(sheetIdOf(subject))?.steps.find((view) => view.subject === subject);
}

/** The people of the show, whoever writes here, and whoever else wrote in it. */
export function people() {
  const { held } = current().fold;
  /** @type {import("./shapes.js").Person[]} */
  const cards = held.devices().flatMap((/** @type {string} */ kid) => held.cardsOfKey(kid));
  const found = new Map(definition().people.map((one) => [one.person, one]));
  for (const { person, name, roles } of [...book.writers.value, ...cards]) {
    if (!found.has(person) && !roles.includes("server")) found.set(person, { person, name, roles });
  }
  return [...found.values()];
}

/** Who writes by a key, as its cards say. @param {string} kid */
export function personOfKey(kid) {
  const persons = current()
    .fold.held.cardsOfKey(kid)
    .map((/** @type {{ name: string }} */ { name }) => name);
  return [...new Set(persons)].join(", ") || kid.slice(0, 10);
}

/** @param {string | null | undefined} person */
export function personName(person) {
  return people().find((one) => one.person === person)?.name ?? person ?? "nobody";
}

/** A log by what it is of. @param {string} log */
export function logName(log) {
  if (log === current().yardLog) return "The yard log, between shows";
  return book.shows.value.find((show) => show.id === log)?.title ?? log;
}

/** The unit's things as they stand now by the records, those that came since the show was made too. */
export function kitNow() {
  const { kit, lockers } = definition();
  return once("kit now", () => thingsNow(current().fold.held, kit, lockers));
}

/** A thing as it stands now; what is gone since stays known. @param {string} tag */
export function kitOf(tag) {
  return once("kit", () => new Map([...definition().kit, ...kitNow()].map((item) => [item.tag, item]))).get(
    tag,
  );
}

/** @param {string} tag */
export function kitName(tag) {
  const name = kitOf(tag)?.name;
  return name ? `${tag}, ${name}` : tag;
}

/** Whether the writer, or whoever they write for, holds one of the roles. @param {string[]} roles @param {boolean} [own] */
export function mayDo(roles, own = false) {
  if (roles.length === 0) return true;
  const held = book.writer.value?.roles ?? [];
  const spoken = own ? [] : (people().find((one) => one.person === speaker.value)?.roles ?? []);
  return roles.some((role) => held.includes(role) || spoken.includes(role));
}

/**
 * Writes into the open show's log, for the speaker if there is one.
 * @param {{ subject: string, kind: string, body: object, witness?: string, own?: boolean, replaces?: string[] }} touched
 */
export function write({ own = false, ...touched }) {
  const spoken = !own && speaker.value ? { for: speaker.value } : {};
  return writeInto({ log: current().log, ...touched, ...spoken });
}

/** The lockers with their lists as they stand now by the records: what the next show is made with. */
export function lockersNow() {
  const { held } = current().fold;
  return once("lockers now", () =>
    definition().lockers.map((locker) => ({ ...locker, holds: listOf(held, locker) })),
  );
}

/**
 * Writes into the yard's log what a thing or a list is from now on: what its record says, and what changes. What is
 * gone is the unit's again. Of records that differ nothing is taken over that was not told here.
 * @param {string} top `kit/TAG` or `locker/ID` @param {import("../kit/records.js").Fields} changed
 * @param {string[]} [rests_on] events that an examination answers
 */
export async function writeRecord(top, changed, rests_on = []) {
  const { fold, yardLog } = current();
  if (yardLog === null)
    throw new Error("This show says no log of the yard. Fetch it again when there is signal.");
  const { said, fields } = recordOf(fold.held, top);
  const { gone: _, ...before } = fields;
  const replaces = said.map(({ entry }) => entry.name).sort();
  const body = { fields: { ...before, ...changed } };
  return writeInto({ log: yardLog, subject: `${top}/record`, kind: "record", body, replaces, rests_on });
}
