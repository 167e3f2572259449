import { html } from "htm/preact";
import { RopeMark } from "./rope.js";
import { byWhom, eventLabel, lapsed, markWord, states, subjectWords } from "./say.js";
import { current } from "./show.js";
import { TakeBackNow, useFresh } from "./take-back.js";

/** @typedef {import("./shapes.js").Step} Step */
/** @typedef {import("./shapes.js").StepView} StepView */
/** @typedef {import("./shapes.js").V} V */

/** The entries a step stands on now. @param {Step} step @param {StepView} view @returns {V[]} */
export function standing(step, view) {
  if (step.asks === "reading" && view.values.length === 0) return view.readings;
  return view.values;
}

/** Done, and nothing has ended it since. @param {StepView} view */
export function holds(view) {
  return view.done && !view.ended && !view.stale && !lapsed(view) && !disputed(view);
}

/** Different things were stated of it, or of one item of a count. @param {StepView} view */
export function disputed(view) {
  return view.state === "disputed" || view.items.some(({ state }) => state === "disputed");
}

/** Every item was counted, though not all may be there: there is nothing more to count. @param {StepView} view */
export function countedThrough({ items, ended, stale }) {
  const counted = items.every(({ state, values }) => state === "settled" && values[0]?.kind === "count");
  return items.length > 0 && counted && !ended && !stale;
}

/** Why it is to be looked at again. @param {Step} step @param {StepView} view */
export function againWords(step, view) {
  if (view.stale)
    return step.about.includes("gear")
      ? "another link or other gear stands there now"
      : "another link stands in the chain now";
  if (!view.ended) return view.until ? "its time has run out" : "";
  const events = endingEvents(step);
  return events.length > 0 ? `ended by: ${events.join(", ")}` : "an event ended it";
}

/** Events of the step's list at its subject or above it. @param {Step} step */
function endingEvents(step) {
  const words = step.subject.split("/");
  const above = words.map((_, index) => words.slice(0, index + 1).join("/"));
  const found = ["show", ...above].flatMap((subject) => [...current().fold.held.ofSubject(subject)]);
  return found
    .filter(
      (entry) => entry.kind === "event" && step.ended_by.includes(/** @type {any} */ (entry.body).event),
    )
    .map((entry) => eventLabel(/** @type {any} */ (entry.body).event));
}

/** @param {Step} step @param {StepView} view @returns {import("./rope.js").Mark} */
export function markOf(step, view) {
  if (disputed(view)) return "disputed";
  if (view.done && !holds(view)) return "again";
  if (view.done) {
    return standing(step, view).some(({ name }) => view.marks[name]?.includes("without-sight"))
      ? "crossed"
      : "done";
  }
  if (view.struck.length > 0) return "struck";
  return view.gate === "shut" ? "wait" : "open";
}

/**
 * One step on the rope: its mark, what was done, whose it is; or what it waits for.
 * @param {{ step: Step, view: StepView, below: "rope" | "dots" | "none", onRope: boolean }} props
 */
export function StepRow({ step, view, below, onRope }) {
  const entries = standing(step, view);
  const last = entries.at(-1);
  const fresh = useFresh(last);
  const mark = markOf(step, view);
  const drawn = mark === "open" && !onRope ? "wait" : mark === "wait" && onRope ? "open" : mark;
  return html`<li class=${view.gate === "shut" && !view.done ? "row waits" : "row"}>
    <${RopeMark} mark=${drawn} below=${below} tight=${fresh} />
    <a class="row-text" href=${`#/step/${step.subject}`}>
      <span class=${mark === "disputed" ? "do" : ""}>${step.do}</span>
      <${Words} step=${step} view=${view} mark=${mark} entries=${entries} />
    </a>
    <${TakeBackNow} entry=${last} />
  </li>`;
}

/** The state in words, always beside its shape. @param {{ step: Step, view: StepView, mark: string, entries: V[] }} props */
export function Words({ step, view, mark, entries }) {
  const marks = entries.flatMap((entry) => (view.marks[entry.name] ?? []).map((one) => markWord(one, entry)));
  return html`${mark === "disputed" && html`<span class="alarm">Disputed</span>`}
    ${mark === "again" && html`<span class="again">To be looked at again: ${againWords(step, view)}</span>`}
    ${mark === "struck" && html`<span class="small">Struck: ${view.struck.map(byWhom).join("; ")}</span>`}
    ${
      mark === "disputed" && step.asks !== "count"
        ? entries.map((entry) => html`<span class="small">${states(entry, step)}: ${byWhom(entry)}</span>`)
        : html`<${Doing} step=${step} view=${view} entries=${entries} />`
    }
    ${marks.map((words) => html`<span class="small"><strong>${words}</strong></span>`)}
    ${view.faults.length > 0 && html`<span class="small alarm">Fault: ${view.faults.map((fault) => states(fault)).join("; ")}</span>`}`;
}

/** @param {{ step: Step, view: StepView, entries: V[] }} props */
function Doing({ step, view, entries }) {
  if (step.asks === "count") {
    return html`<span class="small soft">${counted(view)}</span>
      ${view.items
        .filter(({ state }) => state === "disputed")
        .map(
          ({ item, values }) =>
            html`<span class="small" key=${item}>${item}: ${values.map((entry) => `${states(entry)}, ${byWhom(entry)}`).join("; ")}</span>`,
        )}`;
  }
  const last = entries.at(-1);
  if (last) {
    const what = last.kind === "tick" ? "" : `${states(last, step)}: `;
    return html`<span class="small soft">${what}${byWhom(last)}</span>`;
  }
  if (view.gate === "shut") return html`<span class="small">waits for: ${waiting(view)}</span>`;
  return html`<span class="small soft">${view.gate === "unseen" ? "what it waits for is not on this phone" : "not yet"}</span>`;
}

/** @param {StepView} view */
export function counted(view) {
  const there = view.items.filter(({ state, values }) => state === "settled" && values[0]?.kind === "count");
  const full = there.filter(({ listed, values }) => Number(values[0]?.body.number) === Number(listed));
  return `${full.length} of ${view.items.length}`;
}

/** @param {StepView} view */
function waiting(view) {
  const [first, ...more] = view.waits_for;
  if (!first) return "what is not on this phone";
  return subjectWords(first) + (more.length > 0 ? ` and ${more.length} more` : "");
}
