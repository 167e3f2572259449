// The form of a declared computation: the quickest true answer first, then what is still to be given, then the rest.
import { html } from "htm/preact";
import { useEffect, useState } from "preact/hooks";
import { HoldButton } from "../parts/hold.js";
import { plainVerdict } from "../parts/number-pad.js";
import { useComputed } from "./compute.js";
import { core, start } from "./core.js";
import { OneField } from "./fields.js";
import { byEye, formOf } from "./forms.js";
import { ServerSays } from "./kept.js";
import { prefill } from "./prefill.js";
import { readingBody } from "./reading-body.js";
import { stockFor } from "./stock.js";
import { Drawing, Verdict } from "./verdict.js";

/** @typedef {import("./forms.js").Form} Form */
/** @typedef {import("./forms.js").Field} Field */
/** @typedef {import("./prefill.js").Filled} Filled */
/** @typedef {import("../parts/shapes.js").Step & { assess: { name: string, from: Record<string, string> } }} Step */

/**
 * Asks, computes and keeps. Where the phone holds no such form, `without` is what takes the plain figure.
 * @param {{ step: Step, keep: (body: object) => void, stopped: string | null, without: any }} props
 */
export function TradeForm({ step, keep, stopped, without }) {
  const [form, setForm] = useState(/** @type {Form | null | undefined} */ (undefined));
  useEffect(() => {
    formOf(step.assess.name).then(setForm);
    start().catch(() => {}); // said in place of the verdict
  }, [step.assess.name]);
  if (form === undefined) return html`<p class="soft">One moment.</p>`;
  if (form === null)
    return html`<p>What this asks (${step.assess.name}) is not on this phone yet. It comes with the next signal.</p>${without}`;
  return html`<${Asking} form=${form} step=${step} keep=${keep} stopped=${stopped} />`;
}

/** @param {{ form: Form, step: Step, keep: (body: object) => void, stopped: string | null }} props */
function Asking({ form, step, keep, stopped }) {
  const [filled] = useState(() => prefill(step.assess.from, form.fields, stockFor(step.subject)));
  const [given, setGiven] = useState(() => values(filled));
  const input = cleaned(given);
  const { computed, current } = useComputed(form.name, input);
  const { answer, problems, cannot } = computed;
  const missing = problems.filter(
    ({ field, sentence }) => sentence.startsWith("is missing") && given[field] === undefined,
  );
  const shown = problems.filter((one) => !missing.includes(one));
  const groups = grouped(form, filled);
  const one = (/** @type {Field} */ field) =>
    html`<${OneField} key=${field.name} field=${field} path=${field.name} value=${given[field.name]} problems=${shown}
      from=${filled[field.name]?.words} set=${(/** @type {any} */ value) => setGiven({ ...given, [field.name]: value })} />`;
  const isWrong = (/** @type {Field[]} */ fields) =>
    fields.some(({ name }) => shown.some(({ field }) => field.startsWith(name)));
  const nothing = Object.keys(input).length === 0;
  const stop = stopped !== null || nothing || !(cannot || (current && answer));
  const body = readingBody(step, form, input, current ? answer : null);
  const act = () => keep(body);
  const words = `Write it: ${current && answer ? answer.verdict : "as read, without a verdict"}`;
  return html`<p>${form.question}</p>
    ${groups.eye.map(one)}
    ${groups.asked.map(one)}
    ${groups.tables.length > 0 && html`<${Folded} words=${groups.eye.length > 0 ? "Readings, for more than the eye tells" : "Readings"} open=${groups.eye.length === 0 || isWrong(groups.tables)}>${groups.tables.map(one)}</${Folded}>`}
    ${groups.filled.length > 0 && html`<${Folded} words=${`Filled in: ${groups.filled.map((field) => told(field, given[field.name], filled[field.name])).join("; ")}`} open=${isWrong(groups.filled)}>${groups.filled.map(one)}</${Folded}>`}
    <section class="card" role="status" aria-label="Verdict" aria-busy=${!current}>
      ${answer && html`<${Verdict} answer=${answer} />`}
      ${answer && form.draws && html`<${Drawing} name=${form.name} input=${JSON.parse(computed.input)} />`}
      ${!answer && !cannot && html`<${Waiting} form=${form} missing=${missing} wrong=${shown.length > 0} />`}
      ${cannot && html`<${Cannot} words=${cannot} name=${form.name} inputs=${input} />`}
      ${step.asks === "reading" && !nothing && html`<${StepLimit} step=${step} figure=${body.figure} unit=${body.unit} />`}
    </section>
    ${step.hazard && step.asks === "reading" ? html`<${HoldButton} words=${words} disabled=${stop} act=${act} />` : html`<button type="button" class="act main" disabled=${stop} onClick=${act}>${words}</button>`}
    ${groups.usual.length > 0 && html`<${Folded} words=${`More: ${groups.usual.map(({ label }) => label).join(", ")}`} open=${isWrong(groups.usual)}>${groups.usual.map(one)}</${Folded}>`}`;
}

/** @param {{ words: string, open: boolean, children?: any }} props */
function Folded({ words, open, children }) {
  return html`<details class="folded" open=${open}><summary>${words}</summary><div class="list">${children}</div></details>`;
}

/** What is in the way of a verdict. @param {{ form: Form, missing: import("./core.js").Problem[], wrong: boolean }} props */
function Waiting({ form, missing, wrong }) {
  if (core.value.state === "loading") return html`<p>The arithmetic is starting on this phone.</p>`;
  const eye = byEye(form);
  if (
    eye.length > 0 &&
    missing.every(({ field }) => form.fields.find(({ name }) => name === field)?.kind === "table")
  )
    return html`<p>${wrong ? "Something above cannot be read; it says what." : `Answer first by eye: ${eye.map(({ label }) => label).join(", ")}.`}</p>`;
  const labels = missing.map(({ field }) => form.fields.find(({ name }) => name === field)?.label ?? field);
  if (labels.length > 0) return html`<p>Still to be given: ${labels.join(", ")}.</p>`;
  return html`<p>${wrong ? "Something above cannot be read; it says what." : "No verdict yet."}</p>`;
}

/** The step's own limit on the figure that tells the reading. @param {{ step: Step, figure: string, unit: string }} props */
function StepLimit({ step, figure, unit }) {
  if (unit !== step.unit || (step.low === null && step.high === null)) return null;
  const { word, more, beyond } = plainVerdict(step, figure);
  return html`<p><strong class=${beyond ? "alarm" : ""}>${figure} ${unit}, ${word}.</strong> ${more}</p>`;
}

/** What the phone cannot do now, and what becomes of the reading. @param {{ words: string, name: string, inputs: object }} props */
function Cannot({ words, name, inputs }) {
  const [asks, setAsks] = useState(false);
  return html`<p class="verdict">No verdict here</p><p>${words} The reading is kept as it was read. The server works the
    verdict out when there is signal; until then nobody has judged it.</p>
    ${asks ? html`<${ServerSays} name=${name} inputs=${inputs} />` : html`<button type="button" class="act" onClick=${() => setAsks(true)}>Ask the server now</button>`}`;
}

/** @param {Record<string, Filled>} filled */
function values(filled) {
  const there = Object.entries(filled).filter(([, { value }]) => value !== null);
  return /** @type {Record<string, any>} */ (
    Object.fromEntries(there.map(([name, { value }]) => [name, value]))
  );
}

/** Raw input without what was left empty. @param {Record<string, any>} given @returns {Record<string, any>} */
function cleaned(given) {
  const kept = Object.entries(given)
    .map(([name, value]) => [
      name,
      Array.isArray(value) ? value.map(cleaned).filter((row) => Object.keys(row).length > 0) : value,
    ])
    .filter(
      ([, value]) =>
        value !== "" &&
        value !== undefined &&
        !(typeof value === "object" && Object.keys(value).length === 0),
    );
  return Object.fromEntries(kept);
}

/** @param {Form} form @param {Record<string, Filled>} filled */
function grouped(form, filled) {
  const eye = byEye(form);
  const isFilled = ({ name = "" }) => filled[name] !== undefined && filled[name]?.value !== null;
  const rest = form.fields.filter((field) => !eye.includes(field));
  const tables = rest.filter((field) => field.kind === "table" && !isFilled(field) && isEmpty(field));
  const own = rest.filter((field) => !tables.includes(field));
  return {
    eye,
    asked: own.filter((field) => !isFilled(field) && (field.needed || field.name in filled)),
    tables,
    filled: own.filter(isFilled),
    usual: own.filter((field) => !isFilled(field) && !field.needed && !(field.name in filled)),
  };
}

/** A table that starts with nothing in it. @param {Field} field */
const isEmpty = ({ default: usual }) => usual === null || usual.length === 0;

/** @param {Field} field @param {any} value @param {Filled | undefined} filled */
function told({ label, unit }, value, filled) {
  const what = Array.isArray(value) ? `${value.length} rows` : `${value ?? "none"} ${unit ?? ""}`.trim();
  return `${label} ${what}, ${filled?.words}`;
}
