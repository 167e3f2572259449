// Entries and states in words.
import { definition, kitName, personName, sheetOf, step } from "./show.js";

/** @typedef {import("./shapes.js").V} V */
/** @typedef {import("./shapes.js").Step} Step */

export const stages = ["pack", "travel", "rig", "line-up", "on-air", "de-rig", "stow"];

/** @param {string} stage */
export const stageWord = (stage) => stage.replace("on-air", "on air");

/** @param {string} role */
export const roleWord = (role) => role.replace("lift-leader", "lift leader");

/** @param {string[]} roles */
export const roleWords = (roles) => roles.map(roleWord).join(" or ");

/** The phone's own time of an entry; the day too, unless it is today by this clock. @param {string} at */
export function when(at) {
  const [day = "", time = ""] = at.split("T");
  const today = new Date();
  const here = `${today.getFullYear()}-${String(today.getMonth() + 1).padStart(2, "0")}-${String(today.getDate()).padStart(2, "0")}`;
  return day === here ? time.slice(0, 5) : `${dayWord(day)} ${time.slice(0, 5)}`;
}

/** @param {string} day YYYY-MM-DD */
export function dayWord(day) {
  const date = new Date(`${day}T12:00:00Z`);
  if (Number.isNaN(date.valueOf())) return day;
  return new Intl.DateTimeFormat("en-GB", { day: "numeric", month: "short", timeZone: "UTC" }).format(date);
}

/** A moment by this phone's clock. @param {string} instant */
export function here(instant) {
  return new Intl.DateTimeFormat("en-GB", {
    day: "numeric",
    month: "short",
    hour: "2-digit",
    minute: "2-digit",
  }).format(new Date(instant));
}

/** Who wrote it and when. @param {V} entry */
export function byWhom(entry) {
  const parts = [`${when(entry.at)} ${personName(entry.by)}`];
  if (entry.for) parts.push(`for ${personName(entry.for)}`);
  if (entry.witness) parts.push(`seen by ${personName(entry.witness)}`);
  return parts.join(", ");
}

/** What an entry states. @param {V} entry @param {Step} [about] */
export function states(entry, about) {
  const { kind, body } = entry;
  if (kind === "tick") return about?.done ?? "done";
  if (kind === "reopen") return `No longer so: ${body.reason}`;
  if (kind === "count") return `counted ${body.number}`;
  if (kind === "choice") return about?.choices?.find(({ id }) => id === body.choice)?.label ?? body.choice;
  if (kind === "reading") return `${body.figure} ${body.unit}`;
  if (kind === "assign") return (body.tags ?? [body.tag ?? "none"]).join(", ");
  if (kind === "state") return body.reason ? `${body.state}: ${body.reason}` : body.state;
  if (kind === "place") return [placeWord(body.where), body.text].filter(Boolean).join(": ");
  if (kind === "event") return eventLabel(body.event) + (body.text ? `: ${body.text}` : "");
  if (kind === "photo") return "Photo";
  return body.text ?? body.reason ?? `${kind}, written by a newer version`;
}

/** @param {string} id */
export function eventLabel(id) {
  return definition().events.find((event) => event.id === id)?.label ?? id;
}

/** @param {string} where */
export function placeWord(where) {
  const [room, id] = where.split("/");
  if (room === "away" && id) return id.replaceAll("-", " ");
  return room === "locker" || room === "position" ? `${room} ${id}` : where;
}

const markWords = {
  "without-sight": "Ticked without sight of what it waits for",
  "rests-on-absent": "Rests on what has not arrived",
  "rested-on-taken-back": "Rested on what was taken back",
  passed: "Passed on somebody's word",
};

/** @param {string} mark @param {V} [entry] */
export function markWord(mark, entry) {
  const told = entry?.body?.passed?.map(
    (/** @type {any} */ one) => `${one.told_by} for ${subjectWords(one.subject)}`,
  );
  const word = markWords[/** @type {keyof typeof markWords} */ (mark)] ?? mark;
  return mark === "passed" && told?.length ? `${word}: ${told.join("; ")}` : word;
}

/** What a subject is, for somebody who reads. @param {string} subject @returns {string} */
export function subjectWords(subject) {
  const about = step(subject);
  if (about && about.subject === subject) return `${about.do} (${sheetTitle(subject)})`;
  if (about) return `${kitName(subject.split("/").at(-1) ?? "")}, in: ${about.do}`;
  const [room = "", id = "", what = "", slot = ""] = subject.split("/");
  if (room === "kit") return `${kitName(id)}: ${what}`;
  if (what === "chain") return `Position ${id}: ${slot.replace("control", "control unit")}`;
  if (what === "given-up") return `Position ${id}: given up`;
  if (room === "position" && !what)
    return `Position ${id}, ${definition().positions.find((one) => one.id === id)?.name ?? ""}`;
  const plain = `${room} ${id} ${what}`.trim();
  return sheetOf(subject)?.title ?? plain.charAt(0).toUpperCase() + plain.slice(1);
}

/** @param {string} subject */
function sheetTitle(subject) {
  return sheetOf(subject.split("/").slice(0, -1).join("/"))?.title ?? subject;
}

/** Until when something holds, and whether this phone's clock says it has lapsed. @param {{ until: string | null, at?: string }} view */
export function lapsed({ until, at }) {
  if (!until) return false;
  const now = Date.now();
  return now > Date.parse(until) || (at !== undefined && now < Date.parse(at) - 120_000);
}
