/** What an entry is given of what its writer had in front of them; and the steps and amends that no shared vector has. */

import assert from "node:assert/strict";
import test from "node:test";
import { coverOf, draft } from "../../static/logbook/draft.js";
import { sha256 } from "../../static/logbook/jws.js";
import { sheet, show, step } from "./crew.mjs";

const RIG = "position/2/rig";
const LEGS = step({ subject: `${RIG}/legs`, ended_by: ["knocked"] });
const LENS = step({
  subject: `${RIG}/lens-on`,
  after: [LEGS.subject],
  about: ["lens", "run"],
  ended_by: ["knocked"],
});

const rig = () => show({ sheets: [sheet(RIG, [LEGS, LENS])] });

test("a tick drafted from what is held carries no mark, and names what met its gate", async () => {
  const { fold, write } = await rig();
  assert.equal(fold.gate(LENS.subject), "unseen");
  const legs = await write("ann", LEGS.subject, "tick");
  assert.equal(fold.gate(LENS.subject), "open");
  const lens = await write("eve", LENS.subject, "tick");
  assert.deepEqual(fold.entry(lens)?.rests_on, [legs]);
  assert.deepEqual(fold.subject(LENS.subject).marks, {});
});

test("ticked again after an event, drafted, it has the event in its past", async () => {
  const { fold, write } = await rig();
  await write("ann", LEGS.subject, "tick");
  await write("eve", "position/2", "event", { event: "knocked" });
  assert.equal(fold.subject(LEGS.subject).ended, true);
  assert.equal(fold.gate(LENS.subject), "shut");
  await write("ann", LEGS.subject, "tick");
  assert.equal(fold.subject(LEGS.subject).ended, false);
  assert.equal(fold.gate(LENS.subject), "open");
});

test("what does not hold is no evidence: a lens ticked while the legs are ended does not rest on them", async () => {
  const { fold, write } = await rig();
  const legs = await write("ann", LEGS.subject, "tick");
  const knock = await write("ann", "position/2", "event", { event: "knocked" });
  assert.deepEqual(draft(fold, { subject: LENS.subject, kind: "tick" }).rests_on, [knock]);
  assert.notEqual(legs, knock);
});

test("chain and its assigns are what stands; links unset or disputed are left out", async () => {
  const { fold, write } = await rig();
  const lens = await write("eve", "position/2/chain/lens", "assign", { tag: "LEN-1" });
  const run = await write("eve", "position/2/chain/run", "assign", { tags: ["DRM-1", "DRM-2"] });
  await write("eve", "position/2/chain/body", "assign", { tag: null });
  await write("eve", "position/2/chain/control", "assign", { tag: "CCU-1" }, { replaces: [] });
  await write("ann", "position/2/chain/control", "assign", { tag: "CCU-2" }, { replaces: [] });
  const drafted = draft(fold, { subject: LENS.subject, kind: "tick" });
  assert.deepEqual(drafted.chain, { lens: "LEN-1", run: ["DRM-1", "DRM-2"] });
  assert.deepEqual(drafted.rests_on, [lens, run].sort());
  assert.equal(draft(fold, { subject: "locker/L2/pack/seal", kind: "tick" }).chain, undefined);
  assert.equal(draft(fold, { subject: "position/2/chain/lens", kind: "assign" }).chain, undefined);
});

test("another lens makes the tick stale; ticked again, drafted, it is not", async () => {
  const { fold, write } = await rig();
  await write("eve", "position/2/chain/lens", "assign", { tag: "LEN-1" });
  await write("ann", LEGS.subject, "tick");
  await write("eve", LENS.subject, "tick");
  await write("eve", "position/2/chain/lens", "assign", { tag: "LEN-2" });
  assert.equal(fold.subject(LENS.subject).stale, true);
  await write("eve", LENS.subject, "tick");
  assert.equal(fold.subject(LENS.subject).stale, false);
});

test("a lift plan is void once other gear is chosen, also when the first comes back", async () => {
  const PLAN = step({ subject: "position/2/lift-plan/passed", about: ["body", "gear"] });
  const { fold, write } = await show({ sheets: [sheet("position/2/lift-plan", [PLAN])] });
  const gear = await write("eve", "position/2/chain/gear", "assign", { tags: ["BAG-1", "ROPE-1"] });
  const plan = await write("eve", PLAN.subject, "tick");
  assert.deepEqual(fold.entry(plan)?.rests_on, [gear]);
  assert.equal(fold.subject(PLAN.subject).stale, false);
  await write("eve", "position/2/chain/gear", "assign", { tags: ["BAG-1", "ROPE-2"] });
  assert.equal(fold.subject(PLAN.subject).stale, true);
  await write("eve", "position/2/chain/gear", "assign", { tags: ["BAG-1", "ROPE-1"] });
  assert.equal(fold.subject(PLAN.subject).stale, true);
  await write("eve", PLAN.subject, "tick");
  assert.equal(fold.subject(PLAN.subject).stale, false);
});

test("a value replaces every value in front of it, and what a newer version wrote", async () => {
  const { fold, write } = await rig();
  const one = await write("ann", "kit/LEN-1/state", "state", { state: "suspect" }, { replaces: [] });
  const two = await write("eve", "kit/LEN-1/state", "state", { state: "serviceable" }, { replaces: [] });
  const newer = await write("eve", "kit/LEN-1/state", "state-2", { state: "asleep" }, { replaces: [two] });
  assert.equal(fold.subject("kit/LEN-1/state").state, "disputed");
  assert.deepEqual(draft(fold, { subject: "kit/LEN-1/state", kind: "state" }).replaces, [newer, one].sort());
  await write("cy", "kit/LEN-1/state", "state", { state: "suspect" });
  assert.equal(fold.subject("kit/LEN-1/state").state, "settled");
  assert.deepEqual(draft(fold, { subject: "kit/LEN-1/state", kind: "remark" }).replaces, []);
});

test("a signature over what stands is unchanged until it is another state", async () => {
  const { fold, write } = await rig();
  const legs = await write("ann", LEGS.subject, "tick");
  const cover = coverOf(fold, RIG);
  assert.deepEqual(cover.covers, [legs]);
  assert.equal(cover.digest, await sha256(fold.held.sheets[0]?.text ?? ""));
  const sign = await write("eve", RIG, "sign", cover);
  assert.deepEqual(fold.signatures(), { [sign]: { changed: false, subjects: [] } });
  await write("ann", LEGS.subject, "reopen", { reason: "slipped" });
  assert.deepEqual(fold.signatures(), { [sign]: { changed: true, subjects: [LEGS.subject] } });
  assert.throws(() => coverOf(fold, "position/9/rig"), /no sheet position\/9\/rig/);
});

for (const [asks, body] of /** @type {const} */ ([
  ["photo", { file: "A".repeat(43) }],
  ["remark", { text: "seen" }],
])) {
  test(`a ${asks} step is done by a tick that rests on the ${asks}`, async () => {
    const look = step({ subject: `${RIG}/look`, asks });
    const { fold, write } = await show({ sheets: [sheet(RIG, [look])] });
    await write("ann", look.subject, "tick");
    assert.equal(fold.subject(look.subject).done, false);
    await write("ann", look.subject, asks, body);
    await write("ann", look.subject, "tick");
    assert.equal(fold.subject(look.subject).done, true);
  });
}

test("a choice step is done by a choice that the sheet says is one", async () => {
  const choices = [
    { id: "holds", label: "holds", done: true },
    { id: "soft", label: "soft wide", done: false },
  ];
  const choice = step({ subject: `${RIG}/tracking`, asks: "choice", choices });
  const { fold, write } = await show({ sheets: [sheet(RIG, [choice])] });
  await write("eve", choice.subject, "choice", { choice: "soft" });
  assert.equal(fold.subject(choice.subject).done, false);
  await write("eve", choice.subject, "choice", { choice: "holds" });
  assert.equal(fold.subject(choice.subject).done, true);
});

test("an amend adds a step, and a signature over the sheet before it is changed", async () => {
  const { fold, write } = await rig();
  const sign = await write("eve", RIG, "sign", coverOf(fold, RIG));
  const added = step({ subject: `${RIG}/guy`, after: [LEGS.subject] });
  await write("cy", RIG, "amend", { change: "add-step", sheet: RIG, added, reason: "wind" });
  assert.equal(fold.gate(added.subject), "unseen");
  assert.deepEqual(fold.signatures()[sign], { changed: true, subjects: [] });
  await write("eve", RIG, "sign", coverOf(fold, RIG));
  assert.equal(Object.values(fold.signatures()).filter(({ changed }) => changed).length, 1);
});

test("an added step that is there already changes nothing of it", async () => {
  const { fold, write } = await rig();
  const added = step({ subject: LENS.subject, after: [] });
  await write("cy", RIG, "amend", { change: "add-step", sheet: RIG, added, reason: "hurry" });
  assert.equal(fold.gate(LENS.subject), "unseen");
});

test("an amend adds sheets by a file, once it has come and is the one that was named", async () => {
  const lift = step({ subject: "position/3/rig/legs" });
  const file = JSON.stringify({
    positions: [],
    kit: [],
    people: [],
    sheets: [sheet("position/3/rig", [lift]).text],
  });
  const digest = await sha256(file);
  const { fold, write } = await rig();
  await write("cy", "show", "amend", { change: "add-sheets", digest, reason: "one more camera" });
  assert.deepEqual(fold.missingFiles(), [digest]);
  await fold.addFiles({ [digest]: `${file} ` });
  assert.equal(fold.gate(lift.subject), undefined);
  await fold.addFiles({ [digest]: file });
  assert.equal(fold.gate(lift.subject), "open");
  assert.deepEqual(fold.missingFiles(), []);
  assert.ok(coverOf(fold, "position/3/rig").digest);
});

test("in a show of many sheets a tick makes nothing but its own subject and what waits for it be computed again", async () => {
  const sheets = Array.from({ length: 40 }, (_, index) => {
    const id = `position/${index + 10}/rig`;
    const legs = step({ subject: `${id}/legs` });
    return sheet(id, [legs, step({ subject: `${id}/lens-on`, after: [legs.subject] })]);
  });
  const { fold, write } = await show({ sheets });
  for (const { id } of sheets) await write("ann", `${id}/legs`, "tick");
  const before = fold.answer();
  await write("ann", "position/20/rig/legs", "tick");
  const kept = Object.keys(before.subjects).filter((one) => fold.subject(one) === before.subjects[one]);
  assert.deepEqual(
    Object.keys(before.subjects).filter((one) => !kept.includes(one)),
    ["position/20/rig/legs"],
  );
});

test("what is refused is kept with its reason, and holds up nothing", async () => {
  const { fold, write } = await rig();
  await fold.addEntries(["not an entry"]);
  await fold.addCards(["not a card"]);
  assert.match(fold.refused.get("not an entry") ?? "", /not an entry/);
  assert.match(fold.refused.get("not a card") ?? "", /cannot be read/);
  await write("ann", LEGS.subject, "tick");
  assert.equal(fold.subject(LEGS.subject).done, true);
});

test("bodies and chains of any shape count for nothing and break nothing", async () => {
  const { fold, write } = await rig();
  await write("ann", LEGS.subject, "tick", {}, { chain: { lens: {}, run: [{}], body: [[]] } });
  await write("ann", LENS.subject, "tick", {}, { chain: { lens: {}, run: [null] } });
  await write("eve", "position/2/chain/lens", "assign", { tag: "LEN-1" });
  await write("eve", "position/2/chain/run", "assign", { tags: [] });
  await write("eve", "position/2", "event", { event: {} });
  await write("eve", LEGS.subject, "withdraw", { entries: [{}, null, 1], reason: {} });
  await write("eve", LEGS.subject, "constructor", { a: {} });
  await write("eve", LEGS.subject, "__proto__", {});
  await write("eve", "__proto__", "remark", { text: "x" });
  await write("cy", RIG, "amend", { change: {}, reason: [] });
  await write("cy", RIG, "sign", { sheet: {}, digest: {}, covers: {} });
  await write("cy", RIG, "revoke", { device: {}, head: {} });
  await write("cy", RIG, "admit", { device: {}, entries: {} });
  const answer = fold.answer();
  assert.equal(Object.values(answer.entries).filter((one) => one.why === "body").length, 6);
  assert.equal(Object.values(answer.entries).filter((one) => one.why === "unknown-kind").length, 2);
  assert.equal(answer.subjects[LENS.subject]?.stale, true);
});

test("a file that an amend names and that holds no sheets stays missing", async () => {
  for (const text of ["{", "[]1", '{"sheets":["{}"]}', '{"sheets":{}}']) {
    const digest = await sha256(text);
    const { fold, write } = await show({ sheets: [], files: { [digest]: text } });
    await write("cy", "show", "amend", { change: "add-sheets", digest, reason: "one more camera" });
    assert.deepEqual(fold.missingFiles(), [digest]);
    assert.deepEqual(fold.answer().gates, {});
  }
});
