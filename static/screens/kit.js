import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { isLifting } from "../kit/pieces.js";
import { lacking, schedule } from "../kit/schedule.js";
import { fileUrl } from "../logbook/book.js";
import { overdue } from "../parts/door.js";
import { Page, Trouble, withShow } from "../parts/page.js";
import { TagOnString } from "../parts/pen.js";
import { Field, Options } from "../parts/pick.js";
import { SayPlace } from "../parts/place.js";
import { byWhom, states } from "../parts/say.js";
import { sentence } from "../parts/server.js";
import { kitOf, kitView, logName, mayDo, write } from "../parts/show.js";

const conditions = [
  { id: "serviceable", label: "Serviceable" },
  { id: "suspect", label: "Suspect" },
  { id: "unserviceable", label: "Unserviceable" },
];

/** A thing of kit: its state with the reason, where it is, what the log says of it. @param {{ rest: string }} props */
function OneThing({ rest }) {
  const item = kitOf(rest);
  const view = kitView(rest);
  const late = overdue(rest);
  const log = [...view.state_values, ...(view.place ? [view.place] : []), ...view.faults, ...view.tests];
  const before = statesBefore(view);
  const said = view.state === null ? before : [view.state];
  const flagged = late !== null || said.some((state) => state !== "serviceable");
  return html`<${Page} title=${rest} back=${item?.home ? `#/locker/${item.home}` : "#/"} backWord=${item?.home ? `Locker ${item.home}` : "Stages"}>
    <h2>${item?.name ?? "Not on this show's list"}</h2>
    <div class="figure">${flagged && html`<svg width="44" height="44" viewBox="-4 -4 40 40" aria-hidden="true"><${TagOnString} /></svg>`}
      <p class=${flagged ? "verdict alarm" : "verdict"}>${view.state ?? (before.length > 0 ? `${before.join(" and ")}, carried over` : "no state written")}</p></div>
    ${late && html`<p><strong class="alarm">Overdue, ${late}.</strong> Thorough examination or test date passes before the show ends.</p>`}
    ${item && html`<${Facts} item=${item} />`}
    ${item && isLifting(item) && html`<${ReportOf} item=${item} />`}
    <${SayState} tag=${rest} />
    <${Place} tag=${rest} place=${view.place} />
    <section class="list" aria-labelledby="says"><h2 id="says">What the log says</h2>
      ${log.length === 0 && html`<p class="soft">Nothing in this show.</p>`}
      ${log.map((entry) => html`<p class="slip" key=${entry.name}><strong>${states(entry)}</strong><br /><span class="small soft">${byWhom(entry)}</span></p>`)}</section>
    ${view.carried.length > 0 && html`<${CarriedOver} carried=${view.carried} />`}
    <${SayTest} tag=${rest} />
    ${mayDo(["chief"], true) && html`<a class="act" href=${`#/change/${rest}`}>Change what ${rest} is</a>`}
    <div class="pair"><a class="act" href=${`#/event/kit/${rest}`}>Something happened to it</a><a class="act" href=${`#/fault/kit/${rest}`}>Raise a fault</a></div>
  </${Page}>`;
}

/** What other logs say of it, as of the last sync. @param {{ carried: import("../parts/shapes.js").KitView["carried"] }} props */
function CarriedOver({ carried }) {
  return html`<section class="list" aria-labelledby="carried"><h2 id="carried">Carried over</h2>
    ${carried.map(
      ({ log, values, faults, tests }) => html`<div key=${log}><h3>${logName(log)}</h3>
      ${[...values.filter(({ kind }) => kind !== "record"), ...faults, ...tests].map(
        (entry) =>
          html`<p class="slip" key=${entry.name}><strong>${states(entry)}</strong><br /><span class="small soft">${byWhom(entry)}</span></p>`,
      )}</div>`,
    )}</section>`;
}

/** The states that other logs state and nobody has replaced. @param {import("../parts/shapes.js").KitView} view */
function statesBefore({ carried }) {
  const values = carried.flatMap((one) => one.values).filter(({ kind }) => kind === "state");
  return [...new Set(values.map(({ body }) => String(body.state)))];
}

/** @param {{ item: import("../parts/shapes.js").Kit }} props */
function Facts({ item }) {
  const about = Object.entries(item.about).filter(([key]) => key !== "interval" && key !== "file");
  return html`<dl class="facts small"><dt>Belongs in</dt><dd>${item.home}</dd>
    ${item.mass_kg && html`<dt>Mass</dt><dd>${item.mass_kg} kg</dd>`}
    ${Object.entries(item.dates).map(([what, date]) => html`<dt key=${what}>${what}</dt><dd>${date}</dd>`)}
    ${about.map(([key, value]) => html`<dt key=${key}>${key.replaceAll("_", " ")}</dt><dd>${value}</dd>`)}</dl>`;
}

/** What the report of its last thorough examination lacks, and the report itself. @param {{ item: import("../parts/shapes.js").Kit }} props */
export function ReportOf({ item }) {
  const [url, setUrl] = useState(/** @type {string | null | undefined} */ (undefined));
  const lacks = lacking(schedule.value, item);
  const { file } = item.about;
  const open = async () => setUrl(file ? await fileUrl(file) : null);
  return html`${lacks.length > 0 && html`<p><strong class="alarm">Report incomplete, lacks:</strong> ${lacks.map(({ paragraph, words }) => `(${paragraph}) ${words}`).join("; ")}.</p>`}
    ${file && !url && html`<button type="button" class="act" onClick=${open}>${url === null ? "The report has not arrived here; try again" : "The report that is attached"}</button>`}
    ${url && html`<a class="act" href=${url} target="_blank" rel="noopener">Open the report</a>`}`;
}

/** @param {{ tag: string }} props */
function SayState({ tag }) {
  const [state, setState] = useState(/** @type {string | null} */ (null));
  const [reason, setReason] = useState("");
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  async function keep() {
    try {
      await write({
        subject: `kit/${tag}/state`,
        kind: "state",
        body: { state, ...(reason.trim() ? { reason: reason.trim() } : {}) },
      });
      setState(null);
      setReason("");
    } catch (error) {
      setTrouble(sentence(error));
    }
  }
  const needs = state !== null && state !== "serviceable" && !reason.trim();
  return html`<section class="card"><${Options} legend="In what state is it?" name="state" options=${conditions} value=${state} pick=${setState} />
    ${
      state &&
      html`<${Field} label=${state === "serviceable" ? "How it was proved, if it was" : "Why"} name="state-reason" value=${reason} set=${setReason} />
      <button type="button" class="act main" disabled=${needs} onClick=${keep}>Write it: ${state}</button>`
    }
    <${Trouble} words=${trouble} /></section>`;
}

const results = [
  { id: "passed", label: "Passed" },
  { id: "failed", label: "Failed" },
];

/** A test of it: of its insulation, its continuity, whatever it was. @param {{ tag: string }} props */
function SayTest({ tag }) {
  const [result, setResult] = useState(/** @type {string | null} */ (null));
  const [text, setText] = useState("");
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  async function keep() {
    setTrouble(null);
    try {
      await write({ subject: `kit/${tag}/test`, kind: "test", body: { result, text: text.trim() } });
      if (result === "failed")
        await write({
          subject: `kit/${tag}/state`,
          kind: "state",
          body: { state: "unserviceable", reason: `Test failed: ${text.trim()}` },
        });
      setResult(null);
      setText("");
    } catch (error) {
      setTrouble(sentence(error));
    }
  }
  return html`<section class="card"><${Options} legend="Was it tested?" name="test" two options=${results} value=${result} pick=${setResult} />
    ${
      result &&
      html`<${Field} label="What was tested, how, and what was read" name="test-text" value=${text} set=${setText} />
      <button type="button" class="act main" disabled=${!text.trim()} onClick=${keep}>Write it: ${result}${result === "failed" ? ", unserviceable" : ""}</button>`
    }
    <${Trouble} words=${trouble} /></section>`;
}

/** @param {{ tag: string, place: import("../parts/shapes.js").V | null }} props */
function Place({ tag, place }) {
  return html`<section class="card"><p><strong>Where it is:</strong> ${place ? html`${states(place)}, <span class="small soft">${byWhom(place)}</span>` : "not written"}</p>
    <${SayPlace} tag=${tag} /></section>`;
}

export const KitScreen = withShow(OneThing, "Kit");
