import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { Page, Trouble, withShow } from "../parts/page.js";
import { Field } from "../parts/pick.js";
import { subjectWords } from "../parts/say.js";
import { sheetIdOf, step as stepOf, write } from "../parts/show.js";

/** A remark in one's own words; where the step asks for one, it does the step. @param {{ rest: string }} props */
function WriteOne({ rest }) {
  const [text, setText] = useState("");
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const step = stepOf(rest);
  const asked = step?.asks === "remark" && step.subject === rest;
  const back = step ? `#/step/${step.subject}` : "#/";
  async function keep() {
    if (!text.trim()) {
      setTrouble("Nothing is written yet. Write it, then keep it.");
      return;
    }
    try {
      await write({ subject: rest, kind: "remark", body: { text: text.trim() } });
      if (asked) await write({ subject: rest, kind: "tick", body: {} });
      location.hash = asked ? `#/sheet/${sheetIdOf(rest)}` : back;
    } catch (error) {
      setTrouble(error instanceof Error ? error.message : String(error));
    }
  }
  return html`<${Page} title="Remark" back=${back} backWord="Back">
    <h2>${subjectWords(rest)}</h2>
    ${step?.caution && html`<p class="caution"><strong>Caution.</strong> ${step.caution}</p>`}
    <${Field} label="In your own words" name="remark" lines value=${text} set=${setText} />
    <button type="button" class="act main" onClick=${keep}>${asked ? step.done : "Keep this remark"}</button>
    <${Trouble} words=${trouble} />
  </${Page}>`;
}

export const RemarkScreen = withShow(WriteOne, "Remark");
