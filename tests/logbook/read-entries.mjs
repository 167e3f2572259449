/** Reads texts as the phone does: `node read-entries.mjs FILE LOG` prints each one's name, or null where it is refused. */

import { readFileSync } from "node:fs";
import { parseEntry, Refused } from "../../static/logbook/entry.js";

const [file = "", log] = process.argv.slice(2);
const verdicts = [];
for (const text of JSON.parse(readFileSync(file, "utf8"))) {
  verdicts.push(
    await parseEntry(text, log).then(
      ({ name }) => name,
      (fault) => {
        if (fault instanceof Refused) return null;
        throw fault;
      },
    ),
  );
}
process.stdout.write(JSON.stringify(verdicts));
