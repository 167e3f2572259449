/** The phone's rule of the lifting register against the vectors that the server's rule is held to. */

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import test from "node:test";
import { addMonths, due, overdue } from "../../static/kit/due.js";
import { hoistStops, liftStops } from "../../static/kit/register.js";

const { cases, months } = JSON.parse(readFileSync(new URL("./vectors/register.json", import.meta.url), "utf8"));

for (const { name, piece, show_end, log, due: day, stops, hoist } of cases)
  test(name, () => {
    assert.equal(due(piece), day);
    assert.deepEqual(liftStops(piece, show_end), stops);
    assert.deepEqual(hoistStops(piece, show_end, log), hoist);
  });

test("months are added as python-dateutil adds them", () => {
  assert.ok(months.length > 100);
  for (const [day, many, after] of months) assert.equal(addMonths(day, many), after);
  assert.throws(() => addMonths("9999-08-31", 6), /beyond the year 9999/);
});

test("in date on the day that it is due", () => {
  const { piece } = cases[0];
  assert.equal(overdue(piece, "2031-07-20", "2031-07-20"), null);
  assert.equal(overdue(piece, "2031-07-20", "2031-07-21"), "before the show ends");
  assert.equal(overdue(piece, "2031-07-21"), "now");
});
