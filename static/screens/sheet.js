import { html } from "htm/preact";
import { Ask } from "../parts/ask.js";
import { Page, withShow } from "../parts/page.js";
import { RopeMark } from "../parts/rope.js";
import { countedThrough, disputed, holds, markOf, StepRow, standing, Words } from "../parts/row.js";
import { byWhom, roleWords, subjectWords } from "../parts/say.js";
import { mayDo, sheetOf, sheetView } from "../parts/show.js";
import { Speaker } from "../parts/speaker.js";

/** @typedef {import("../parts/shapes.js").Step} Step */
/** @typedef {import("../parts/shapes.js").StepView} StepView */

/** A sheet: one column of steps in the order of work, on its rope. @param {{ rest: string }} props */
function Sheet({ rest }) {
  const sheet = sheetOf(rest);
  if (!sheet)
    return html`<${Page} title="No such sheet"><p>This show has no sheet ${rest} on this phone. It may arrive with the next sync.</p></${Page}>`;
  const view = sheetView(rest);
  const [room, id] = rest.split("/");
  const next = nextOf(sheet, view.steps);
  const reach = Math.max(
    next,
    view.steps.findLastIndex((step) => step.done || step.values.length > 0),
  );
  const steps = view.steps.map((one) => ({
    view: one,
    step: /** @type {Step} */ (sheet.steps.find(({ subject }) => subject === one.subject)),
  }));
  return html`<${Page} title=${sheet.title} back=${backTo(rest, sheet.stage)} backWord="Back">
    <p><strong>${view.done} of ${view.total} done</strong></p>
    <${Speaker} open=${sheet.stage === "on-air"} />
    <ol class="rope-list">
      ${steps.map(({ step, view: one }, index) => {
        const below = index < reach ? "rope" : "dots";
        return index === next
          ? html`<${NextCard} key=${one.subject} step=${step} view=${one} below=${below} />`
          : html`<${StepRow} key=${one.subject} step=${step} view=${one} below=${below} onRope=${index <= reach} />`;
      })}
      <${SignRow} sheet=${sheet} signatures=${view.signatures} onRope=${reach === steps.length - 1} />
    </ol>
    <div class="pair">
      <a class="act" href=${`#/fault/${rest}`}>Raise a fault</a>
      <a class="act" href=${`#/event/${room}/${id}`}>Something happened</a>
    </div>
  </${Page}>`;
}

/**
 * The first step that may be done and is the writer's to do; where none is, the first that is another's.
 * @param {import("../parts/shapes.js").Sheet} sheet @param {StepView[]} views
 */
function nextOf(sheet, views) {
  const free = (/** @type {StepView} */ view) =>
    !holds(view) && view.gate !== "shut" && !disputed(view) && !countedThrough(view);
  const own = (/** @type {StepView} */ view) => {
    const step = sheet.steps.find(({ subject }) => subject === view.subject);
    return step !== undefined && mayDo(step.roles, step.hazard);
  };
  const mine = views.findIndex((view) => free(view) && own(view));
  return mine < 0 ? views.findIndex(free) : mine;
}

/** @param {string} id @param {string} stage */
function backTo(id, stage) {
  if (id.startsWith("position/") || id.startsWith("run/")) return `#/positions/${stage}`;
  return id.startsWith("locker/") || id.startsWith("vehicle/") ? `#/van/${stage}` : `#/stage/${stage}`;
}

/** The one step that is next, opened. @param {{ step: Step, view: StepView, below: "rope" | "dots" }} props */
function NextCard({ step, view, below }) {
  const mark = markOf(step, view);
  return html`<li class="row">
    <${RopeMark} mark="next" below=${below} />
    <div class="card" aria-current="step">
      <p class="do"><a href=${`#/step/${step.subject}`}>${step.do}</a></p>
      ${(mark === "again" || mark === "struck") && html`<div class="list"><${Words} step=${step} view=${view} mark=${mark} entries=${standing(step, view)} /></div>`}
      <${Ask} step=${step} view=${view} />
    </div>
  </li>`;
}

/** The rope's end: signed, frayed, or not yet. @param {{ sheet: import("../parts/shapes.js").Sheet,
 *   signatures: import("../parts/shapes.js").SignatureView[], onRope: boolean }} props */
function SignRow({ sheet, signatures, onRope }) {
  const last = signatures.at(-1);
  const frayed = signatures.length > 0 && signatures.every(({ changed }) => changed);
  const mark = frayed ? "frayed" : last ? "signed" : onRope ? "open" : "unsigned";
  return html`<li class="row">
    <${RopeMark} mark=${mark} below="none" />
    <div class="list">
      ${signatures.map(
        (
          sign,
        ) => html`<p key=${sign.name}><strong>${sign.changed ? "Changed since signed" : "Signed"}</strong>
          <br /><span class="small soft">${byWhom(sign)}</span>
          ${sign.changed && html`<br /><span class="small">${sign.subjects.map(subjectWords).join("; ") || "the sheet itself was amended"}</span>`}</p>`,
      )}
      ${!last && html`<p class="soft">Not signed. To be signed by ${roleWords(sheet.signed_by)}.</p>`}
      <a class="act" href=${`#/sign/${sheet.id}`}>${last ? "Sign again" : "Sign this sheet"}</a>
    </div>
  </li>`;
}

export const SheetScreen = withShow(Sheet, "Sheet");
