// Things of kit as the rules of dates and of the lifting register ask for them, from what this phone holds.
import { counts } from "../logbook/judge.js";
import { together } from "../logbook/together.js";
import { current, definition, kitOf } from "../parts/show.js";
import { asRecorded, recordOf } from "./records.js";

/** @typedef {import("./register.js").Piece} Piece */
/** @typedef {import("../logbook/together.js").Said} Said */
/** @typedef {import("../parts/shapes.js").Kit} Kit */

/** @returns {import("../logbook/held.js").Held} */
const held = () => current().fold.held;

/** What belongs in the lifting register. @param {Kit} item */
export function isLifting({ type, about }) {
  return type === "lifting-gear" || Boolean(intervalOf(about)?.limb);
}

/** A thing, its record and what all logs say of it laid together. @param {Kit} item @returns {Piece} */
export function pieceOf(item) {
  const top = `kit/${item.tag}`;
  const said = (/** @type {string} */ what) => together(held(), `${top}/${what}`);
  const record = recordOf(held(), top);
  const { tag, name, type, dates, about } = asRecorded(held(), item);
  return {
    tag,
    name,
    type,
    dates,
    about,
    interval: intervalOf(about),
    record: record.state === "none" ? null : record.state,
    rests_on: record.said.flatMap(({ entry }) => entry.rests_on),
    states: ofKind(said("state").values, "state").map(({ log, entry }) => ({
      log,
      state: String(entry.body.state),
    })),
    pre_use: ofKind(said("pre-use").values, "choice").map((one) => ({
      log: one.log,
      choice: String(one.entry.body.choice),
      roles: rolesOf(one),
    })),
    events: eventsOn(top),
  };
}

/** The piece with that tag; undefined where this show has no such thing. @param {string} tag */
export function pieceWith(tag) {
  const item = kitOf(tag);
  return item && pieceOf(item);
}

/** @param {Record<string, string>} about */
export function intervalOf(about) {
  return definition().intervals?.find(({ id }) => id === about.interval) ?? null;
}

/** @param {Said[]} said @param {string} kind */
function ofKind(said, kind) {
  return said.filter(({ entry }) => entry.kind === kind);
}

/** @param {Said} said */
function rolesOf({ log, entry }) {
  const where = held()
    .logsTogether()
    .find((one) => one.log === log);
  const cards = where?.cardsOfKey(entry.kid).filter(({ person }) => person === entry.by) ?? [];
  return [...new Set(cards.flatMap(({ roles }) => roles))];
}

/** @param {string} subject */
function eventsOn(subject) {
  const labels = new Map(definition().events.map(({ id, label }) => [id, label]));
  const found = held()
    .logsTogether()
    .flatMap((log) => log.eventsAt(subject).filter((entry) => counts(log, entry)));
  return found.map(({ name, at, body }) => {
    const event = String(body.event);
    return { name, at, event, label: labels.get(event) ?? event };
  });
}
