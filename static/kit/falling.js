// What falls due in the coming weeks; the same as server/kit/calendar/falling.py.
import { due } from "./due.js";

const DAY_MS = 86_400_000;

/**
 * What is overdue, and what falls due from a day to the end of so many weeks, that day's being the first. `weeks` are
 * those in which something does, each by its Monday; things stand by their day. A thing is in date on its day.
 *
 * @template {import("./due.js").Dated} Piece
 * @param {readonly Piece[]} pieces
 * @param {string} today
 * @param {number} weeks
 */
export function falling(pieces, today, weeks) {
  const until = later(monday(today), 7 * weeks - 1);
  const dated = pieces
    .flatMap((piece) => {
      const day = due(piece);
      return day === null ? [] : { piece, due: day };
    })
    .sort((a, b) => order(`${a.due} ${a.piece.tag}`, `${b.due} ${b.piece.tag}`));
  /** @type {Map<string, typeof dated>} */
  const found = new Map();
  for (const one of dated.filter((each) => today <= each.due && each.due <= until)) {
    const starts = monday(one.due);
    found.set(starts, [...(found.get(starts) ?? []), one]);
  }
  return {
    until,
    overdue: dated.filter((one) => one.due < today),
    weeks: [...found].map(([starts, things]) => ({ starts, due: things })),
  };
}

/** The Monday of a day's week. @param {string} day */
function monday(day) {
  return later(day, -((new Date(`${day}T00:00:00Z`).getUTCDay() + 6) % 7));
}

/** @param {string} day @param {number} days */
function later(day, days) {
  return new Date(Date.parse(`${day}T00:00:00Z`) + days * DAY_MS).toISOString().slice(0, 10);
}

/** @param {string} a @param {string} b */
const order = (a, b) => (a < b ? -1 : a > b ? 1 : 0);
