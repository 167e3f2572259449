import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { Field } from "./pick.js";
import { subjectWords } from "./say.js";
import { people } from "./show.js";

/** @typedef {import("./shapes.js").StepView} StepView */

/**
 * What a step waits for; where nothing of it is on this phone, a second touch and the name of who said so.
 * @param {{ view: StepView, told: string, setTold: (name: string) => void }} props
 */
export function GateNote({ view, told, setTold }) {
  const [asked, setAsked] = useState(false);
  if (view.gate === "open") return null;
  if (view.gate === "shut") {
    return html`<div class="notice"><p><strong>Waits for:</strong></p><ul class="list">${view.waits_for.map(
      (subject) => html`<li key=${subject}><a href=${`#/step/${subject}`}>${subjectWords(subject)}</a></li>`,
    )}</ul></div>`;
  }
  return html`<div class="notice"><p><strong>Nothing of this is on this phone:</strong></p>
    <ul class="list">${view.unseen.map((subject) => html`<li key=${subject}>${subjectWords(subject)}</li>`)}</ul>
    ${
      asked
        ? html`<${Field} label="Who says that it is done? It stays marked." name="told-by" value=${told} set=${setTold} />
          <div class="pair">${people().map(
            ({ person, name }) =>
              html`<button type="button" class="act" key=${person} aria-pressed=${told === name} onClick=${() => setTold(name)}>${name}</button>`,
          )}</div>`
        : html`<button type="button" class="act" onClick=${() => setAsked(true)}>Go on, on somebody's word</button>`
    }</div>`;
}
