/** Reads questions from standard input, one of the phone's rules of kit each, and prints its answers. */

import { readFileSync } from "node:fs";
import { sumFaults } from "../../static/kit/changing.js";
import { falling } from "../../static/kit/falling.js";
import { faultsIn } from "../../static/kit/fields.js";
import { laidOver, unknown } from "../../static/kit/records.js";

const rules = {
  fields: (fields) => faultsIn(fields).map(({ field }) => field),
  laid: ({ item, fields }) => laidOver(item ?? unknown("NEW-1"), fields),
  sums: ({ kit, lockers }) => sumFaults(kit, lockers).map(({ says }) => says),
  falling({ pieces, today, weeks }) {
    const told = falling(pieces, today, weeks);
    const row = ({ piece, due }) => [due, piece.tag];
    return {
      until: told.until,
      overdue: told.overdue.map(row),
      weeks: told.weeks.map(({ starts, due }) => ({ starts, due: due.map(row) })),
    };
  },
};
const asked = JSON.parse(readFileSync(0, "utf8"));
console.log(JSON.stringify(asked.map(({ rule, of }) => rules[rule](of))));
