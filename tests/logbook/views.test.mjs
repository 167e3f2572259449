/** The phone's views over one invented show: two lockers, a position, a lens that comes back and one that does not. */

import assert from "node:assert/strict";
import test from "node:test";
import { coverOf } from "../../static/logbook/draft.js";
import { sha256 } from "../../static/logbook/jws.js";
import * as views from "../../static/logbook/views.js";
import { crewOf, sheet, show, step } from "./crew.mjs";

const STOW = "locker/L1/stow";
const RIG = "position/2/rig";
const COUNT = step({ subject: `${STOW}/count`, asks: "count", items: { "LEN-1": "1", "LEN-2": "1" } });
const SEAL = step({ subject: `${STOW}/seal`, after: [COUNT.subject] });
const LEGS = step({ subject: `${RIG}/legs` });

const DEFINITION = {
  ends: "2031-05-05",
  positions: [{ id: "2" }],
  lockers: [
    {
      id: "L1",
      vehicle: "VAN",
      name: "lenses",
      holds: [
        { tag: "LEN-1", number: "1" },
        { tag: "LEN-2", number: "1" },
      ],
    },
    { id: "R1", vehicle: "VAN", name: "drums", holds: [] },
  ],
  kit: [
    { tag: "LEN-1", name: "a lens", home: "L1", dates: { due: "2031-05-04" } },
    { tag: "LEN-2", name: "a lens", home: "L1", dates: { due: "2031-05-05" } },
    { tag: "DRM-1", name: "a drum", home: "R1", dates: {} },
  ],
  people: [],
};

const outing = () => show({ sheets: [sheet(STOW, [COUNT, SEAL]), sheet(RIG, [LEGS])] });

/** @param {{name: string}[]} list */
const names = (list) => list.map(({ name }) => name);

test("a sheet: steps in the order of work, with what was struck and what is short", async () => {
  const { fold, write } = await outing();
  const counted = await write("ann", `${COUNT.subject}/LEN-1`, "count", { number: "1.0" });
  const tick = await write("ann", SEAL.subject, "tick");
  await write("ann", SEAL.subject, "withdraw", { entries: [tick], reason: "ticked by mistake" });
  const fault = await write("eve", SEAL.subject, "fault", { text: "the tag is torn" });
  const view = views.sheet(fold, DEFINITION, STOW);
  assert.deepEqual([view?.done, view?.total, view?.stage], [0, 2, "stow"]);
  const [count, seal] = view?.steps ?? [];
  assert.deepEqual(
    count?.items.map(({ item, listed, state }) => [item, listed, state]),
    [
      ["LEN-1", "1", "settled"],
      ["LEN-2", "1", "none"],
    ],
  );
  assert.deepEqual(names(count?.items[0]?.values ?? []), [counted]);
  assert.deepEqual([seal?.gate, seal?.waits_for, seal?.unseen], ["shut", [COUNT.subject], []]);
  assert.deepEqual(names(seal?.struck ?? []), [tick]);
  assert.deepEqual(names(seal?.faults ?? []), [fault]);
  assert.equal(views.sheet(fold, DEFINITION, "locker/L9/stow"), null);
});

test("a locker: where its kit is, what a stage is short of, and who is in it that belongs elsewhere", async () => {
  const { fold, write } = await outing();
  await write("ann", "kit/DRM-1/place", "place", { where: "locker/L1" });
  const place = await write("ann", "kit/LEN-2/place", "place", { where: "position/2" });
  await write("eve", "kit/LEN-1/state", "state", { state: "suspect" });
  await write("ann", `${COUNT.subject}/LEN-1`, "count", { number: "1" });
  const opened = await write("ann", "locker/L1", "event", { event: "opened" });
  const view = views.locker(fold, DEFINITION, "L1");
  assert.deepEqual(
    view?.holds.map(({ tag, place, state }) => [tag, place?.name ?? null, state]),
    [
      ["LEN-1", null, "suspect"],
      ["LEN-2", place, null],
    ],
  );
  assert.deepEqual(view?.stages, {
    stow: { listed: 2, counted: 1, short: ["LEN-2"], done: 0, total: 2, signed: false },
  });
  assert.deepEqual(view?.strangers, [{ tag: "DRM-1", home: "R1" }]);
  assert.deepEqual(names(view?.events ?? []), [opened]);
  assert.equal(views.locker(fold, DEFINITION, "L9"), null);
});

test("a position: its chain, its sheets as signed and changed, and given up until restored", async () => {
  const { fold, write } = await outing();
  await write("eve", "position/2/chain/lens", "assign", { tag: "LEN-1" });
  await write("eve", "position/2/chain/run", "assign", { tags: ["DRM-1"] });
  await write("ann", LEGS.subject, "tick");
  await write("eve", RIG, "sign", coverOf(fold, RIG));
  const signed = views.position(fold, DEFINITION, "2");
  assert.deepEqual(
    [signed.chain.lens?.tag, signed.chain.run?.tags, signed.chain.body?.tag],
    ["LEN-1", ["DRM-1"], null],
  );
  assert.deepEqual(signed.sheets, [
    { id: RIG, stage: "rig", done: 1, total: 1, signed: true, changed: false },
  ]);
  await write("ann", LEGS.subject, "reopen", { reason: "slipped" });
  const out = await write("cy", "position/2/given-up", "choice", {
    choice: "out",
    told: { who: "the desk" },
  });
  const changed = views.position(fold, DEFINITION, "2");
  assert.deepEqual(changed.sheets, [
    { id: RIG, stage: "rig", done: 0, total: 1, signed: false, changed: true },
  ]);
  assert.equal(changed.given_up?.name, out);
  await write("cy", "position/2/given-up", "choice", { choice: "restored" });
  assert.equal(views.position(fold, DEFINITION, "2").given_up, null);
});

test("kit: its state, its faults on itself and about it", async () => {
  const { fold, write } = await outing();
  await write("ann", "kit/LEN-1/state", "state", { state: "suspect" }, { replaces: [] });
  await write("eve", "kit/LEN-1/state", "state", { state: "serviceable" }, { replaces: [] });
  const about = await write("eve", "position/2", "fault", { text: "soft wide", about: "LEN-1" });
  await write("eve", "position/2", "fault", { text: "hum", about: "CAM-1" });
  const view = views.kit(fold, DEFINITION, "LEN-1");
  assert.equal(view.state, "disputed");
  assert.equal(view.state_values.length, 2);
  assert.deepEqual(names(view.faults), [about]);
  assert.deepEqual(view.carried, []);
});

test("kit: what another log says of it stands beside, until an entry here replaces it", async () => {
  const crew = await crewOf();
  const before = await show({ log: "show-0", crew, sheets: [] });
  const now = await show({ log: "show-1", crew, sheets: [] });
  const unfit = await before.write("ann", "kit/LEN-1/state", "state", { state: "unserviceable" });
  const left = await before.write("ann", "kit/LEN-1/place", "place", { where: "locker/L1" });
  const fault = await before.write("eve", "kit/LEN-1", "fault", { text: "haze in the rear group" });
  await before.write("ann", "kit/LEN-2/state", "state", { state: "serviceable" });
  const unsaid = await now.write("ann", "kit/LEN-1/state", "state", { state: "serviceable" });
  await now.fold.addCarried([{ log: "show-0", entries: before.written }]);
  const carried = () =>
    views.kit(now.fold, DEFINITION, "LEN-1").carried.map((one) => [one.log, names(one.values)]);
  assert.deepEqual(carried(), [["show-0", [left, unfit]]]);
  assert.deepEqual(names(views.kit(now.fold, DEFINITION, "LEN-1").carried[0]?.faults ?? []), [fault]);
  assert.deepEqual(
    views
      .report(now.fold, DEFINITION)
      .carried.map(({ tag, state, values }) => [tag, state, values.map(({ log, name }) => [log, name])]),
    [
      [
        "LEN-1",
        "disputed",
        [
          ["show-0", unfit],
          ["show-1", unsaid],
        ],
      ],
    ],
  );
  const seen = await now.write("eve", "kit/LEN-1/state", "state", { state: "suspect" });
  assert.deepEqual([...(now.fold.entry(seen)?.replaces ?? [])].sort(), [unfit, unsaid].sort());
  assert.deepEqual(carried(), [["show-0", [left]]]);
  assert.deepEqual(views.report(now.fold, DEFINITION).carried, []);
});

test("a name carried over is not waited for", async () => {
  const crew = await crewOf();
  const before = await show({ log: "show-0", crew, sheets: [] });
  const now = await show({ log: "show-1", crew, sheets: [] });
  const old = await before.write("ann", "kit/LEN-1/state", "state", { state: "suspect" });
  await now.write("ann", "kit/LEN-1/state", "state", { state: "serviceable" }, { replaces: [old] });
  await now.write("eve", "kit/LEN-1/state", "state", { state: "unserviceable" }, { replaces: [old] });
  assert.equal(now.fold.subject("kit/LEN-1/state").state, "waits");
  const changed = await now.fold.addCarried([{ log: "show-0", entries: before.written }]);
  assert.ok(changed.includes("kit/LEN-1/state"));
  assert.equal(now.fold.subject("kit/LEN-1/state").state, "disputed");
});

test("the report: what the next crew must be told", async () => {
  const { fold, write, kid } = await outing();
  await write("ann", `${COUNT.subject}/LEN-1`, "count", { number: "1" });
  const place = await write("ann", "kit/LEN-2/place", "place", { where: "position/2" });
  await write("eve", "kit/LEN-1/state", "state", { state: "unserviceable" });
  await write("ann", LEGS.subject, "tick");
  await write("eve", RIG, "sign", coverOf(fold, RIG));
  await write("ann", LEGS.subject, "reopen", { reason: "slipped" });
  const accept = await write("cy", "locker/L1", "accept", {
    locker: "L1",
    seen: "as the report says",
    exceptions: [],
  });
  const report = views.report(fold, DEFINITION);
  assert.deepEqual(report.missing, []);
  assert.deepEqual(
    report.not_counted.map(({ tag, locker, last }) => [tag, locker, last?.name]),
    [["LEN-2", "L1", place]],
  );
  assert.deepEqual(
    report.unserviceable.map(({ tag }) => tag),
    ["LEN-1"],
  );
  assert.deepEqual(report.suspect, []);
  assert.deepEqual(report.overdue, [{ tag: "LEN-1", due: "2031-05-04" }]);
  assert.deepEqual(report.unsigned, [STOW]);
  assert.deepEqual(report.changed, [{ sheet: RIG, subjects: [LEGS.subject] }]);
  assert.deepEqual(report.not_arrived, []);
  assert.deepEqual(
    report.heard.map(({ key }) => key).sort(),
    ["ann", "eve", "cy"].map((one) => kid(one)).sort(),
  );
  assert.deepEqual(names(report.accepted), [accept]);
});

test("what is used though suspect is named with where and why", async () => {
  const { fold, write } = await outing();
  await write("eve", "kit/LEN-1/state", "state", { state: "suspect", reason: "soft wide" });
  assert.deepEqual(views.report(fold, DEFINITION).used_though, []);
  await write("eve", "position/2/chain/lens", "assign", {
    tag: "LEN-1",
    though: [{ tag: "LEN-1", reason: "no other here", who: "the desk" }],
  });
  const [used, ...more] = views.report(fold, DEFINITION).used_though;
  assert.deepEqual(
    [used?.tag, used?.slot, used?.state, more.length],
    ["LEN-1", "position/2/chain/lens", "suspect", 0],
  );
  assert.equal(/** @type {any} */ (used?.assign?.body.though)[0].reason, "no other here");
  await write("eve", "kit/LEN-1/state", "state", { state: "serviceable" });
  assert.deepEqual(views.report(fold, DEFINITION).used_though, []);
});

test("what an amend adds and moves is in the definition as it stands", async () => {
  const added = {
    id: "3",
    name: "Bank",
    camera: "three-sensor",
    way_up: "ground",
    height_m: "2",
    distance_m: "80",
  };
  const file = JSON.stringify({ positions: [{ ...added, chain: {} }] });
  const digest = await sha256(file);
  const { fold, write } = await show({ sheets: [], files: { [digest]: file } });
  await write("cy", "show", "amend", { change: "add-sheets", digest, reason: "one more camera" });
  await write(
    "cy",
    "show",
    "amend",
    { change: "move-end", ends: "2031-05-07", reason: "rain" },
    { replaces: [] },
  );
  await write(
    "cy",
    "show",
    "amend",
    { change: "move-end", ends: "2031-05-06", reason: "less rain" },
    { replaces: [] },
  );
  const now = views.amended(fold, DEFINITION);
  assert.deepEqual(
    now.positions.map(({ id }) => id),
    ["2", "3"],
  );
  assert.equal(now.ends, "2031-05-07");
  assert.equal(DEFINITION.positions.length, 1);
});

test("what came back: short, over, away by name, in the wrong locker; what was not counted is not missing", async () => {
  const { fold, write } = await outing();
  const found = () => {
    const { missing, extra, away, astray, not_counted } = views.report(fold, DEFINITION);
    return Object.entries({ missing, extra, away, astray, not_counted }).flatMap(([word, rows]) =>
      rows.map(({ tag, counted }) => `${word} ${tag} ${counted}`),
    );
  };
  assert.deepEqual(found(), ["not_counted LEN-1 null", "not_counted LEN-2 null"]);
  await write("ann", `${COUNT.subject}/LEN-1`, "count", { number: "2" });
  await write("ann", `${COUNT.subject}/LEN-2`, "count", { number: "0" });
  assert.deepEqual(found(), ["missing LEN-2 0", "extra LEN-1 2"]);
  await write("ann", "kit/LEN-2/place", "place", { where: "locker/R1" });
  assert.deepEqual(found(), ["extra LEN-1 2", "astray LEN-2 0"]);
  await write("ann", "kit/LEN-2/place", "place", { where: "away/lent", text: "the boat club" });
  assert.deepEqual(found(), ["extra LEN-1 2", "away LEN-2 0"]);
  await write("ann", `${COUNT.subject}/LEN-2`, "count", { number: "1" });
  await write("eve", `${COUNT.subject}/LEN-1`, "count", { number: "1" }, { replaces: [] });
  assert.deepEqual(found(), []);
  const { fold: other, write: write2 } = await outing();
  const wheres = () => views.report(other, DEFINITION).not_counted.map(({ where }) => where);
  await write2("eve", "position/2/chain/lens", "assign", { tag: "LEN-1" });
  assert.deepEqual(wheres(), ["position/2", null]);
});
