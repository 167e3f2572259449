/**
 * Gives the phone's fold each case's cards and entries one at a time, mixed, and reads the whole answer after each:
 * `node one-by-one.mjs FILE` prints the last answers as a JSON array. A kept answer that should have gone shows.
 */

import { readFileSync } from "node:fs";
import { Fold } from "../../static/logbook/fold.js";

const { kinds, cases } = JSON.parse(readFileSync(process.argv[2] ?? "", "utf8"));
const answers = [];
for (const one of cases) {
  const fold = new Fold({ ...one, unitKey: one.unit_key, kinds, files: {} });
  const { cards, entries, files, carried_over: carried } = one;
  for (let at = 0; at < Math.max(cards.length, entries.length); at += 1) {
    if (entries[at]) await fold.addEntries([entries[at]]);
    if (cards[at]) await fold.addCards([cards[at]]);
    if (at === 20) await fold.addCarried(carried);
    if (at === 30) await fold.addFiles(files);
    fold.answer();
  }
  await fold.addCarried(carried);
  await fold.addFiles(files);
  answers.push(fold.answer());
}
process.stdout.write(JSON.stringify(answers));
