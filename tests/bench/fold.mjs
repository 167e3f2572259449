/** What the phone's fold costs: `node fold.mjs FILE` prints seconds of the whole answer and of one more tick's sheet (median). */

import { readFileSync } from "node:fs";
import { Fold } from "../../static/logbook/fold.js";
import * as views from "../../static/logbook/views.js";

const one = JSON.parse(readFileSync(process.argv[2] ?? "", "utf8"));
const fold = new Fold({ ...one, unitKey: one.unit_key });
const begun = performance.now();
await fold.addCards(one.cards);
await fold.addEntries(one.entries);
fold.answer();
views.sheet(fold, /** @type {any} */ ({}), one.sheet);
const whole = performance.now();
const took = [];
for (const jws of one.more) {
  const before = performance.now();
  await fold.addEntries([jws]);
  views.sheet(fold, /** @type {any} */ ({}), one.sheet);
  took.push(performance.now() - before);
}
const median = took.sort((a, b) => a - b)[Math.floor(took.length / 2)] ?? 0;
process.stdout.write(JSON.stringify({ whole: (whole - begun) / 1000, one_more: median / 1000 }));
