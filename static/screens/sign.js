import { html } from "htm/preact";
import { useEffect, useRef, useState } from "preact/hooks";
import SignaturePad from "signature_pad";
import { book } from "../logbook/book.js";
import { coverOf } from "../logbook/draft.js";
import { keepFile } from "../logbook/files.js";
import { Page, Trouble, withShow } from "../parts/page.js";
import { holds, markOf, standing } from "../parts/row.js";
import { byWhom, roleWords, states } from "../parts/say.js";
import { current, mayDo, sheetOf, sheetView, write } from "../parts/show.js";

/** A name put to a sheet: what it covers first, then the statement, then the drawn name. @param {{ rest: string }} props */
function Sign({ rest }) {
  const pad = useRef(/** @type {SignaturePad | null} */ (null));
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const [drawn, setDrawn] = useState(false);
  const sheet = sheetOf(rest);
  if (!sheet) return html`<${Page} title="No such sheet"><p>This show has no sheet ${rest}.</p></${Page}>`;
  const view = sheetView(rest);
  const open = view.steps.filter((step) => !holds(step));
  const may = mayDo(sheet.signed_by, true);
  async function keep() {
    if (!pad.current || pad.current.isEmpty()) {
      setTrouble("Draw your name in the field first.");
      return;
    }
    try {
      const png = await (await asPng(pad.current)).arrayBuffer();
      const file = await keepFile(png, "image/png");
      await write({
        subject: rest,
        kind: "sign",
        body: { ...coverOf(current().fold, rest), drawn: file, statement: sheet?.statement },
        own: true,
      });
      location.hash = `#/sheet/${rest}`;
    } catch (error) {
      setTrouble(error instanceof Error ? error.message : String(error));
    }
  }
  return html`<${Page} title="Sign" back=${`#/sheet/${rest}`} backWord="The sheet">
    <h2>${sheet.title}</h2>
    <section class="list" aria-labelledby="covers"><h3 id="covers">What your name covers: ${view.done} of ${view.total} done</h3>
      ${open.length > 0 && html`<p class="notice"><strong>Not done, disputed or to be looked at again: ${open.length}.</strong> Your name says that you know of it.</p>`}
      <ul class="list">${view.steps.map((one) => {
        const step = sheet.steps.find(({ subject }) => subject === one.subject);
        return step && html`<li class="slip" key=${one.subject}><${Covered} step=${step} view=${one} /></li>`;
      })}</ul></section>
    <section class="card" aria-labelledby="says"><h3 id="says">What it says</h3><p>${sheet.statement}</p>
      <p><strong>${book.writer.value?.name}</strong>, ${roleWords(book.writer.value?.roles ?? []).replaceAll(" or ", ", ")}</p>
      <${DrawnName} pad=${pad} begun=${() => setDrawn(true)} />
      <button type="button" class="act" disabled=${!drawn} onClick=${() => {
        pad.current?.clear();
        setDrawn(false);
      }}>Draw it again</button>
      <button type="button" class="act main" disabled=${!may} onClick=${keep}>Sign as ${book.writer.value?.name}</button>
      ${!may && html`<p>To be signed by ${roleWords(sheet.signed_by)}.</p>`}
      <${Trouble} words=${trouble} /></section>
  </${Page}>`;
}

/** @param {{ step: import("../parts/shapes.js").Step, view: import("../parts/shapes.js").StepView }} props */
function Covered({ step, view }) {
  const mark = markOf(step, view);
  const word =
    mark === "disputed"
      ? "Disputed"
      : mark === "again"
        ? "To be looked at again"
        : view.done
          ? "Done"
          : "Not done";
  const last = standing(step, view).at(-1);
  return html`${step.do}<br /><strong class=${mark === "disputed" ? "alarm" : ""}>${word}</strong>
    ${last && html`<span class="small soft"> ${last.kind === "tick" ? "" : `${states(last, step)}, `}${byWhom(last)}</span>`}`;
}

/** @param {{ pad: { current: SignaturePad | null }, begun: () => void }} props */
function DrawnName({ pad, begun }) {
  const field = useRef(/** @type {HTMLCanvasElement | null} */ (null));
  useEffect(() => {
    const canvas = field.current;
    if (!canvas) return undefined;
    const ratio = Math.max(devicePixelRatio, 1);
    canvas.width = canvas.offsetWidth * ratio;
    canvas.height = canvas.offsetHeight * ratio;
    canvas.getContext("2d")?.scale(ratio, ratio);
    const made = new SignaturePad(canvas, { penColor: "#14120c", minWidth: 1.2, maxWidth: 3.2 });
    made.addEventListener("beginStroke", begun);
    pad.current = made;
    return () => made.off();
  }, []);
  return html`<canvas ref=${field} class="drawn" role="img" aria-label="Draw your name here with a finger, a pen or a mouse"></canvas>`;
}

/** @param {SignaturePad} pad @returns {Promise<Blob>} */
async function asPng(pad) {
  const canvas = /** @type {HTMLCanvasElement} */ (/** @type {any} */ (pad).canvas);
  const blob = await new Promise((done) => canvas.toBlob(done, "image/png"));
  if (!blob) throw new Error("The drawn name could not be kept. Draw it again.");
  return /** @type {Blob} */ (blob);
}

export const SignScreen = withShow(Sign, "Sign");
