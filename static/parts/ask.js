import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { book } from "../logbook/book.js";
import { GateNote } from "./gate.js";
import { GearChosen } from "./gear.js";
import { HoldButton } from "./hold.js";
import { Trouble } from "./page.js";
import { Options, PersonPick } from "./pick.js";
import { byWhom, roleWords } from "./say.js";
import { mayDo, write } from "./show.js";

/** @typedef {import("./shapes.js").Step} Step */
/** @typedef {import("./shapes.js").StepView} StepView */

/**
 * What a step asks for: its caution first, then what stands in the way, then the one wide button.
 * @param {{ step: Step, view: StepView, done?: () => void }} props
 */
export function Ask({ step, view, done = () => {} }) {
  const [told, setTold] = useState("");
  const [seen, setSeen] = useState(/** @type {string | null} */ (null));
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  if (view.gate === "shut")
    return html`<${Caution} step=${step} /><${GateNote} view=${view} told="" setTold=${setTold} />`;
  const passed =
    view.gate === "unseen" ? view.unseen.map((subject) => ({ subject, told_by: told.trim() })) : undefined;
  const blocked = barred(step) ?? missing(step, view, told, seen);

  /** @param {string} kind @param {object} body */
  async function put(kind, body) {
    setTrouble(null);
    try {
      const witness = seen ? { witness: seen } : {};
      await write({
        subject: step.subject,
        kind,
        body: passed ? { ...body, passed } : body,
        own: step.hazard,
        ...witness,
      });
      done();
    } catch (error) {
      setTrouble(error instanceof Error ? error.message : String(error));
    }
  }
  return html`<${Caution} step=${step} />
    <${GateNote} view=${view} told=${told} setTold=${setTold} />
    ${step.about.includes("gear") && html`<${GearChosen} subject=${step.subject} />`}
    ${
      step.second &&
      html`<${PersonPick} name=${`seen-${step.id}`} legend=${step.second === "sees" ? "Who else sees it?" : "Who is at the other end?"}
      value=${seen} pick=${setSeen} not=${book.writer.value?.person} />`
    }
    <${Way} step=${step} put=${put} blocked=${blocked} />
    ${step.assess && step.asks !== "reading" && html`<${WorkItOut} step=${step} view=${view} />`}
    ${blocked && html`<p>${blocked}</p>`}
    <${Trouble} words=${trouble} />`;
}

/** A computation beside the step: its last verdict, and the way to it. @param {{ step: Step, view: StepView }} props */
function WorkItOut({ step, view }) {
  const last = view.readings.findLast((entry) => entry.body.assessment);
  return html`${last && html`<p>Worked out: <strong>${last.body.assessment.verdict}</strong>, ${byWhom(last)}</p>`}
    <a class="act" href=${`#/reading/${step.subject}`}>${last ? "Work it out again" : "Work it out"}</a>`;
}

/** @param {{ step: Step }} props */
export function Caution({ step }) {
  if (!step.caution) return null;
  return html`<p class="caution"><strong>Caution.</strong> ${step.caution}</p>`;
}

/** @param {Step} step */
function barred(step) {
  if (mayDo(step.roles, step.hazard)) return null;
  return `For ${roleWords(step.roles)}. ${book.writer.value?.name ?? "Nobody"} is writing.`;
}

/** @param {Step} step @param {StepView} view @param {string} told @param {string | null} seen */
function missing(step, view, told, seen) {
  if (view.gate === "unseen" && !told.trim()) return "Name who says that it is done.";
  if (step.second && !seen) return "Name the second person first.";
  return null;
}

/** The way a step is answered. @param {{ step: Step, put: (kind: string, body: object) => void, blocked: string | null }} props */
function Way({ step, put, blocked }) {
  const stop = blocked !== null;
  if (step.asks === "count")
    return html`<a class="act main" href=${`#/count/${step.subject}`}>Count, item by item</a>`;
  if (step.asks === "reading")
    return html`<a class="act main" href=${`#/reading/${step.subject}`}>${step.done}: give the reading</a>`;
  if (step.asks === "photo")
    return html`<a class="act main" href=${`#/photo/${step.subject}`}>Take the photo</a>`;
  if (step.asks === "remark")
    return html`<a class="act main" href=${`#/remark/${step.subject}`}>Write it down</a>`;
  if (step.asks === "choice") return html`<${ChoiceAsk} step=${step} put=${put} stop=${stop} />`;
  if (step.hazard)
    return html`<${HoldButton} words=${step.done} disabled=${stop} act=${() => put("tick", {})} />`;
  return html`<button type="button" class="act main" disabled=${stop} onClick=${() => put("tick", {})}>${step.done}</button>`;
}

/** One touch an answer; a hazard's is picked, then held. @param {{ step: Step, put: (kind: string, body: object) => void, stop: boolean }} props */
function ChoiceAsk({ step, put, stop }) {
  const [picked, setPicked] = useState(/** @type {string | null} */ (null));
  const choices = step.choices ?? [];
  if (!step.hazard) {
    return html`<div class="options">${choices.map(
      ({ id, label }) =>
        html`<button type="button" class="act" key=${id} disabled=${stop} onClick=${() => put("choice", { choice: id })}>${label}</button>`,
    )}</div>`;
  }
  const label = choices.find(({ id }) => id === picked)?.label ?? "pick one first";
  return html`<${Options} legend="What is it?" name=${`choice-${step.id}`} options=${choices} value=${picked} pick=${setPicked} />
    <${HoldButton} words=${label} disabled=${stop || !picked} act=${() => put("choice", { choice: picked })} />`;
}
