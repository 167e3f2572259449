/** Reads questions from standard input, one of the phone's rules of kit each, and prints its answers. */

import { readFileSync } from "node:fs";
import { falling } from "../../static/kit/falling.js";
import { faultsIn } from "../../static/kit/fields.js";

const rules = {
  fields: (fields) => faultsIn(fields).map(({ field }) => field),
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
