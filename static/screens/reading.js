import { html } from "htm/preact";
import { useEffect, useState } from "preact/hooks";
import { book } from "../logbook/book.js";
import { Caution } from "../parts/ask.js";
import { GateNote } from "../parts/gate.js";
import { HoldButton } from "../parts/hold.js";
import { isFigure, NumberPad, plainVerdict } from "../parts/number-pad.js";
import { Page, Trouble, withShow } from "../parts/page.js";
import { PersonPick } from "../parts/pick.js";
import { roleWords } from "../parts/say.js";
import { mayDo, sheetIdOf, step as stepOf, stepView, write } from "../parts/show.js";

const FORM = "/static/trade/form.js";

/** A reading: typed on the number pad, or through the form of a declared computation. @param {{ rest: string }} props */
function GiveReading({ rest }) {
  const [told, setTold] = useState("");
  const [seen, setSeen] = useState(/** @type {string | null} */ (null));
  const [figure, setFigure] = useState("");
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const step = stepOf(rest);
  const view = stepView(rest);
  const Form = useForm(step?.assess ?? null);
  if (!step || !view)
    return html`<${Page} title="No such reading"><p>This show has no reading ${rest}.</p></${Page}>`;
  const why = !mayDo(step.roles, step.hazard)
    ? `For ${roleWords(step.roles)}.`
    : view.gate === "unseen" && !told.trim()
      ? "Name who says that it is done."
      : step.second && !seen
        ? "Name the second person first."
        : null;
  async function keep(/** @type {object} */ body) {
    setTrouble(null);
    const passed =
      view?.gate === "unseen"
        ? { passed: view.unseen.map((subject) => ({ subject, told_by: told.trim() })) }
        : {};
    try {
      await write({
        subject: rest,
        kind: "reading",
        body: { ...body, ...passed },
        own: step?.hazard === true,
        ...(seen ? { witness: seen } : {}),
      });
      location.hash = `#/sheet/${sheetIdOf(rest)}`;
    } catch (error) {
      setTrouble(error instanceof Error ? error.message : String(error));
    }
  }
  const act = () => keep({ figure, unit: step.unit ?? "1" });
  const stop = why !== null || !isFigure(figure) || view.gate === "shut";
  const words = `${step.done}: ${figure || "no figure yet"} ${step.unit ?? ""}`;
  return html`<${Page} title="Reading" back=${`#/step/${rest}`} backWord="The step">
    <h2>${step.do}</h2>
    <${Caution} step=${step} />
    <${GateNote} view=${view} told=${told} setTold=${setTold} />
    ${step.second && html`<${PersonPick} name="seen" legend=${step.second === "sees" ? "Who else sees it?" : "Who is at the other end?"} value=${seen} pick=${setSeen} not=${book.writer.value?.person} />`}
    ${
      Form
        ? html`<${Form} step=${step} show=${book.show.value} keep=${keep} stopped=${why} />`
        : html`<${NumberPad} figure=${figure} set=${setFigure} unit=${step.unit ?? ""} />
          <${Verdict} step=${step} figure=${figure} />
          ${step.hazard ? html`<${HoldButton} words=${words} disabled=${stop} act=${act} />` : html`<button type="button" class="act main" disabled=${stop} onClick=${act}>${words}</button>`}`
    }
    ${why && html`<p>${why}</p>`}
    <${Trouble} words=${trouble} />
  </${Page}>`;
}

/**
 * The form made from a declared computation's fields, where the step names one and the phone holds it. It gets
 * `{step, show, keep(body), stopped}` and calls `keep` with a reading's body.
 * @param {{ name: string } | null} assess
 */
function useForm(assess) {
  const [form, setForm] = useState(/** @type {any} */ (null));
  useEffect(() => {
    if (!assess) return;
    import(FORM).then(
      (module) => setForm(() => module.TradeForm ?? null),
      () => setForm(null), // not on this phone: the number pad takes the plain figure
    );
  }, [assess?.name]);
  return form;
}

/** The plain limits, in words under the figure. @param {{ step: import("../parts/shapes.js").Step, figure: string }} props */
function Verdict({ step, figure }) {
  const { word, more, beyond } = plainVerdict(step, figure);
  return html`<div role="status"><p class=${beyond ? "verdict alarm" : "verdict"}>${word}</p><p>${more}</p></div>`;
}

export const ReadingScreen = withShow(GiveReading, "Reading");
