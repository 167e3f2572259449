/** What a computation is filled in with, and how a reading is kept: the parts that need no browser. */

import assert from "node:assert/strict";
import test from "node:test";
import { prefill } from "../../static/trade/prefill.js";
import { decimalText, readingBody } from "../../static/trade/reading-body.js";

const number = (name, more = {}) => ({ name, label: name, help: "", needed: true, default: null, kind: "quantity", unit: "m", ...more });
const table = (name, columns) => ({ ...number(name), kind: "table", default: [], columns: columns.map((one) => number(one)) });
const drum = (tag, length_m) => ({ tag, number: "1", mass_kg: "18", dates: { due: "2031-05-18" }, about: { length_m } });
const things = [drum("CAB-1", "60"), drum("CAB-2", "30.5"), { ...drum("BAG-1"), about: { wll_kg: "150" } }];
const stock = (chain = {}) => ({
  kit: (tag) => things.find((one) => one.tag === tag),
  chain: (link) => chain[link] ?? [],
  vehicle: (id) => (id === "VAN" ? { about: { track_m: "1.8" }, lockers: [{ locker: "L1", mass_kg: "70" }], things: [{ tag: "CAM-1", mass_kg: "41", locker: "L1" }] } : undefined),
  show: { starts: "2031-05-02T10:00:00+01:00", ends: "2031-05-04T18:00:00+01:00" },
});
const one = (source, field, chain) => prefill({ [field.name]: source }, [field], stock(chain))[field.name];

test("a thing's own figure is filled in, and where it is from is said", () => {
  assert.deepEqual(one("kit:BAG-1.wll_kg", number("wll_kg")), { value: "150", words: "from BAG-1" });
  assert.deepEqual(one("kit:CAB-1.mass_kg", number("load_kg")), { value: "18", words: "from CAB-1" });
});

test("a run is the sum over its drums", () => {
  const filled = one("chain:run.length_m", number("length_m"), { run: ["CAB-1", "CAB-2"] });
  assert.deepEqual(filled, { value: "90.5", words: "from CAB-1, CAB-2" });
});

test("what does not stand there or does not say is left open with the reason", () => {
  assert.deepEqual(one("chain:body.mass_kg", number("load_kg")), { value: null, words: "no body stands there yet" });
  assert.deepEqual(one("kit:BAG-1.length_m", number("length_m")), { value: null, words: "BAG-1 does not say" });
  assert.deepEqual(one("kit:GONE.length_m", number("length_m")), { value: null, words: "GONE does not say" });
  const half = one("chain:run.length_m", number("length_m"), { run: ["CAB-1", "BAG-1"] });
  assert.deepEqual(half, { value: null, words: "BAG-1 does not say" });
});

test("a table has a row for each thing, with what it says of the columns", () => {
  const gear = table("gear", ["tag", "wll_kg", "next_examination"]);
  assert.deepEqual(one("kit:BAG-1 kit:CAB-1", gear), {
    value: [
      { tag: "BAG-1", wll_kg: "150", next_examination: "2031-05-18" },
      { tag: "CAB-1", next_examination: "2031-05-18" },
    ],
    words: "from BAG-1, CAB-1",
  });
  const drums = table("drums", ["tag", "length_m"]);
  assert.deepEqual(one("chain:run", drums, { run: ["CAB-2"] }).value, [{ tag: "CAB-2", length_m: "30.5" }]);
  const lockers = table("lockers", ["locker", "mass_kg"]);
  assert.deepEqual(one("vehicle:VAN", lockers), { value: [{ locker: "L1", mass_kg: "70" }], words: "from VAN" });
});

test("a vehicle, the show and the sheet itself fill in too; what is not asked for is left alone", () => {
  assert.deepEqual(one("vehicle:VAN.track_m", number("track_m")), { value: "1.8", words: "from VAN" });
  assert.deepEqual(one("show:ends", { ...number("on_date"), kind: "day" }), { value: "2031-05-04", words: "from the show" });
  assert.deepEqual(one("500", number("test_v")), { value: "500", words: "from the sheet" });
  const pins = { ...number("pins"), kind: "names" };
  assert.deepEqual(one("L: mains live, N: neutral", pins).value, { L: "mains live", N: "neutral" });
  assert.deepEqual(prefill({ other: "1" }, [number("length_m")], stock()), {});
});

test("a number is plain decimal text of at most 32 characters", () => {
  const texts = [0, -0, 12, -2.5, 1e21, 1.5e-7, -3e-40, 0.1 + 0.2, 123456789012345680000].map(decimalText);
  assert.deepEqual(texts, ["0", "0", "12", "-2.5", "1000000000000000000000", "0.00000015", "0", "0.30000000000000004", "123456789012345680000"]);
  for (const value of [1 / 3, 2e-9 / 3, 1e9 / 7, -Math.PI]) {
    assert.ok(decimalText(value).length <= 32);
    assert.ok(Math.abs(Number(decimalText(value)) - value) <= 1e-15 * Math.max(1, Math.abs(value)));
  }
});

const form = { name: "probe", question: "?", draws: false, fields: [number("load_kg", { unit: "kg" }), number("seen_v", { unit: "V" })] };
const step = (more = {}) => ({ unit: null, low: null, high: null, limit_of: "", assess: { from: { load_kg: "5" } }, ...more });
const answer = {
  assessment: "probe", core: "1", verdict: "adjust", findings: ["so"], advice: [], cautions: [], basis: [],
  figures: { far_m: { value: null, unit: "m" }, pull_kg: { value: 21.5, unit: "kg" }, drop_v: { value: 1e-7, unit: "V" } },
};

test("a reading is told by the first figure with a number, or by the one in the step's unit", () => {
  const first = readingBody(step(), form, { load_kg: "5" }, answer);
  assert.deepEqual([first.figure, first.unit], ["21.5", "kg"]);
  assert.deepEqual(first.assessment.figures.far_m, { value: null, unit: "m" });
  assert.deepEqual(first.assessment.figures.drop_v, { value: "0.0000001", unit: "V" });
  const limited = readingBody(step({ unit: "V", low: "1", limit_of: "house" }), form, { load_kg: "5" }, answer);
  assert.deepEqual([limited.figure, limited.unit], ["0.0000001", "V"]);
  assert.deepEqual(limited.assessment.limits, { low: "1", high: null, of: "house" });
});

test("with no arithmetic the reading is kept raw, told by what was typed before what was filled in", () => {
  const raw = readingBody(step(), form, { load_kg: "5", seen_v: "228" }, null);
  assert.deepEqual([raw.figure, raw.unit], ["228", "V"]);
  assert.equal(raw.assessment.core, "none");
  assert.equal(raw.assessment.verdict, "not computed here");
  assert.deepEqual(raw.assessment.figures, {});
  assert.deepEqual(raw.assessment.inputs, { load_kg: "5", seen_v: "228" });
});

test("judged by eye alone, the reading is told by how many answers there are", () => {
  const zones = { ...number("zones"), kind: "names", needed: false, options: ["none", "half-line"], keys: ["a", "b"] };
  const eyed = { ...form, fields: [zones, table("readings", ["x"])] };
  const body = readingBody(step(), eyed, { zones: { a: "none", b: "none" } }, { ...answer, figures: {} });
  assert.deepEqual([body.figure, body.unit], ["2", "answers"]);
});
