import { html } from "htm/preact";
import { useEffect, useState } from "preact/hooks";
import { Page, Trouble, withShow } from "../parts/page.js";
import { Field, Options, Several } from "../parts/pick.js";
import { getFile, sentence } from "../parts/server.js";
import { mayDo } from "../parts/show.js";

const WHAT = [
  { id: "lockers", label: "Lockers" },
  { id: "kit", label: "Kit but drums" },
  { id: "drums", label: "Drums" },
];
const PAPERS = [
  { id: "a4-70x37", label: "A4, 24 of 70 × 37 mm" },
  { id: "a4-63x38", label: "A4, 21 of 63.5 × 38.1 mm" },
  { id: "a4-70x42", label: "A4, 21 of 70 × 42.3 mm" },
  { id: "a4-99x38", label: "A4, 14 of 99.1 × 38.1 mm" },
  { id: "a4-99x68", label: "A4, 8 of 99.1 × 67.7 mm" },
  { id: "a4-105x74", label: "A4, 8 of 105 × 74 mm" },
  { id: "roll", label: "A roll of single labels" },
];

/** Labels with codes, for a printer: the server sets the sheets. */
function MakeLabels() {
  const [what, setWhat] = useState(["lockers"]);
  const [tags, setTags] = useState("");
  const [paper, setPaper] = useState("a4-70x37");
  const [roll, setRoll] = useState({ wide: "60", high: "30" });
  const [skip, setSkip] = useState("0");
  const [file, setFile] = useState(/** @type {string | null} */ (null));
  const [busy, setBusy] = useState(false);
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  useEffect(() => () => (file ? URL.revokeObjectURL(file) : undefined), [file]);
  if (!mayDo(["chief"], true)) return html`<${Page} title="Labels"><p>For the chief.</p></${Page}>`;
  const single = tags.split(/[\s,]+/).filter(Boolean);
  async function make() {
    setTrouble(null);
    setFile(null);
    setBusy(true);
    try {
      const chosen = paper === "roll" ? `roll-${roll.wide}x${roll.high}` : paper;
      const asked = single.length > 0 ? single.map((tag) => ["tag", tag]) : what.map((one) => ["what", one]);
      const query = new URLSearchParams([["paper", chosen], ["skip", skip || "0"], ...asked]);
      setFile(URL.createObjectURL(await getFile(`/api/kit/labels.pdf?${query}`)));
    } catch (error) {
      setTrouble(`${sentence(error)} Labels are set with the server in reach.`);
    }
    setBusy(false);
  }
  return html`<${Page} title="Labels" back="#/van/pack" backWord="Vehicles">
    <p>Each label has a code that opens the thing in this app, and its tag in large letters. Needs the server.</p>
    <${Several} legend="Labels of what?" options=${WHAT} values=${what} set=${setWhat} />
    <${Field} label="Or these tags only, with blanks between" name="tags" value=${tags} set=${setTags} />
    <${Options} legend="On what paper?" name="paper" wide options=${PAPERS} value=${paper} pick=${setPaper} />
    ${
      paper === "roll"
        ? html`<div class="field-row"><${Field} label="Label's width, mm" name="wide" value=${roll.wide} set=${(/** @type {string} */ wide) => setRoll({ ...roll, wide })} />
          <${Field} label="Height, mm" name="high" value=${roll.high} set=${(/** @type {string} */ high) => setRoll({ ...roll, high })} /></div>`
        : html`<${Field} label="Labels of the first sheet that are used already" name="skip" value=${skip} set=${setSkip} />`
    }
    <button type="button" class="act main" disabled=${busy || (single.length === 0 && what.length === 0)} onClick=${make}>${busy ? "Setting the labels" : "Make the labels"}</button>
    ${file && html`<p role="status">Print at full size, with no scaling to the page.</p><a class="act" href=${file} download="labels.pdf">The labels as a PDF</a>`}
    <${Trouble} words=${trouble} />
  </${Page}>`;
}

export const LabelsScreen = withShow(MakeLabels, "Labels");
