import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { book } from "../logbook/book.js";
import { Caution } from "../parts/ask.js";
import { GateNote } from "../parts/gate.js";
import { HoldButton } from "../parts/hold.js";
import { isFigure, NumberPad, plainVerdict } from "../parts/number-pad.js";
import { Page, Trouble, withShow } from "../parts/page.js";
import { PersonPick } from "../parts/pick.js";
import { roleWords } from "../parts/say.js";
import { mayDo, sheetIdOf, step as stepOf, stepView, write } from "../parts/show.js";
import { TradeForm } from "../trade/form.js";

/**
 * A reading: typed on the number pad, or through the form of a declared computation. On a step that asks for
 * something else it is worked out beside it, and ticks nothing.
 * @param {{ rest: string }} props
 */
function GiveReading({ rest }) {
  const [told, setTold] = useState("");
  const [seen, setSeen] = useState(/** @type {string | null} */ (null));
  const [figure, setFigure] = useState("");
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const step = stepOf(rest);
  const view = stepView(rest);
  if (!step || !view)
    return html`<${Page} title="No such reading"><p>This show has no reading ${rest}.</p></${Page}>`;
  const answers = step.asks === "reading";
  const second = answers ? step.second : null;
  const why = !mayDo(step.roles, step.hazard)
    ? `For ${roleWords(step.roles)}.`
    : view.gate === "unseen" && !told.trim()
      ? "Name who says that it is done."
      : view.gate === "shut"
        ? "What it waits for comes first."
        : second && !seen
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
      location.hash = answers ? `#/sheet/${sheetIdOf(rest)}` : `#/step/${rest}`;
    } catch (error) {
      setTrouble(error instanceof Error ? error.message : String(error));
    }
  }
  const act = () => keep({ figure, unit: step.unit ?? "1" });
  const stop = why !== null || !isFigure(figure);
  const words = `${step.done}: ${figure || "no figure yet"} ${step.unit ?? ""}`;
  const plain = html`<${NumberPad} figure=${figure} set=${setFigure} unit=${step.unit ?? ""} />
    <${Verdict} step=${step} figure=${figure} />
    ${step.hazard ? html`<${HoldButton} words=${words} disabled=${stop} act=${act} />` : html`<button type="button" class="act main" disabled=${stop} onClick=${act}>${words}</button>`}`;
  return html`<${Page} title=${answers ? "Reading" : "Work it out"} back=${`#/step/${rest}`} backWord="The step">
    <h2>${step.do}</h2>
    <${Caution} step=${step} />
    <${GateNote} view=${view} told=${told} setTold=${setTold} />
    ${second && html`<${PersonPick} name="seen" legend=${second === "sees" ? "Who else sees it?" : "Who is at the other end?"} value=${seen} pick=${setSeen} not=${book.writer.value?.person} />`}
    ${step.assess ? html`<${TradeForm} step=${step} keep=${keep} stopped=${why} without=${answers ? plain : null} />` : plain}
    ${why && html`<p>${why}</p>`}
    <${Trouble} words=${trouble} />
  </${Page}>`;
}

/** The plain limits, in words under the figure. @param {{ step: import("../parts/shapes.js").Step, figure: string }} props */
function Verdict({ step, figure }) {
  const { word, more, beyond } = plainVerdict(step, figure);
  return html`<div role="status"><p class=${beyond ? "verdict alarm" : "verdict"}>${word}</p><p>${more}</p></div>`;
}

export const ReadingScreen = withShow(GiveReading, "Reading");
