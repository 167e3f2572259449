import { html } from "htm/preact";
import { Ask } from "../parts/ask.js";
import { Page, withShow } from "../parts/page.js";
import { Photo } from "../parts/photo.js";
import { againWords, counted, markOf, standing } from "../parts/row.js";
import { byWhom, eventLabel, here, markWord, roleWords, stageWord, states } from "../parts/say.js";
import { sheetIdOf, sheetOf, step as stepOf, stepView } from "../parts/show.js";
import { Speaker } from "../parts/speaker.js";
import { TakeBackLater, TakeBackNow } from "../parts/take-back.js";
import { KeptVerdict } from "../trade/kept.js";

/** @typedef {import("../parts/shapes.js").V} V */

/** One step with all that was written about it. @param {{ rest: string }} props */
function OneStep({ rest }) {
  const step = stepOf(rest);
  const view = stepView(rest);
  if (!step || !view)
    return html`<${Page} title="No such step"><p>This show has no step ${rest}, or it was withdrawn.</p></${Page}>`;
  const sheet = sheetIdOf(rest);
  const mark = markOf(step, view);
  const entries = standing(step, view);
  return html`<${Page} title=${sheetOf(sheet)?.title ?? "Step"} back=${`#/sheet/${sheet}`} backWord="The sheet">
    <h2>${step.do}</h2>
    <${State} step=${step} view=${view} mark=${mark} />
    <${Speaker} open=${sheetOf(sheet)?.stage === "on-air" && !step.hazard} />
    ${mark === "disputed" ? html`<a class="act main" href=${step.asks === "count" ? `#/count/${rest}` : `#/settle/${rest}`}>See both sides and settle</a>` : html`<div class="card"><${Ask} step=${step} view=${view} /></div>`}
    <${Entries} title="As it stands" entries=${view.values} step=${step} marks=${view.marks} />
    <${TakeBackNow} entry=${entries.at(-1)} />
    <${Entries} title="Readings" entries=${view.readings} step=${step} marks=${view.marks} />
    <${Entries} title="Photos and remarks" entries=${view.evidence} step=${step} marks=${{}} />
    <${Entries} title="Faults" entries=${view.faults} step=${step} marks=${{}} />
    ${
      view.struck.length > 0 &&
      html`<section class="list"><h2>Struck</h2>${view.struck.map(
        (entry) =>
          html`<p class="slip" key=${entry.name}><span class="struck">${states(entry, step)}</span><br /><span class="small soft">${byWhom(entry)}, taken back</span></p>`,
      )}</section>`
    }
    ${step.asks !== "count" && html`<${TakeBackLater} subject=${rest} values=${entries} />`}
    <div class="pair"><a class="act" href=${`#/remark/${rest}`}>Write a remark</a><a class="act" href=${`#/photo/${rest}`}>Add a photo</a>
      <a class="act" href=${`#/fault/${rest}`}>Raise a fault</a></div>
    <${About} step=${step} />
  </${Page}>`;
}

/** @param {{ step: import("../parts/shapes.js").Step, view: import("../parts/shapes.js").StepView, mark: string }} props */
function State({ step, view, mark }) {
  const word =
    mark === "disputed"
      ? "Disputed"
      : mark === "again"
        ? `To be looked at again: ${againWords(step, view)}`
        : view.done
          ? "Done"
          : "Not done";
  return html`<p><strong class=${mark === "disputed" ? "alarm" : ""}>${word}</strong>
    ${step.asks === "count" && html`<br />${counted(view)} counted as listed`}
    ${view.done && view.until && html`<br /><span class="soft">holds until ${here(view.until)}</span>`}</p>`;
}

/** @param {{ title: string, entries: V[], step: import("../parts/shapes.js").Step, marks: Record<string, string[]> }} props */
function Entries({ title, entries, step, marks }) {
  if (entries.length === 0) return null;
  return html`<section class="list"><h2>${title}</h2>${entries.map(
    (entry) => html`<div class="slip" key=${entry.name}><strong>${states(entry, step)}</strong>
      ${entry.kind === "photo" && html`<${Photo} file=${entry.body.file} />`}
      ${entry.body.assessment && html`<${KeptVerdict} assessment=${entry.body.assessment} />`}
      <br /><span class="small soft">${byWhom(entry)}</span>
      ${(marks[entry.name] ?? []).map((mark) => html`<br /><strong class="small" key=${mark}>${markWord(mark, entry)}</strong>`)}</div>`,
  )}</section>`;
}

/** @param {{ step: import("../parts/shapes.js").Step }} props */
function About({ step }) {
  return html`<dl class="facts small"><dt>Done by</dt><dd>${roleWords(step.roles) || "anybody"}</dd>
    ${step.minutes !== null && html`<dt>Holds for</dt><dd>${step.minutes} minutes</dd>`}
    ${step.ended_by.length > 0 && html`<dt>Ended by</dt><dd>${step.ended_by.map(eventLabel).join("; ")}</dd>`}
    ${step.about.length > 0 && html`<dt>About</dt><dd>${step.about.map((link) => stageWord(link).replace("control", "control unit")).join(", ")}</dd>`}</dl>`;
}

export const StepScreen = withShow(OneStep, "Step");
