import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { book } from "../logbook/book.js";
import { Options } from "./pick.js";
import { people, personName, speaker } from "./show.js";

/** Entries written for somebody on talkback, whose hands and eyes are taken. @param {{ open?: boolean }} props */
export function Speaker({ open = false }) {
  const [asked, setAsked] = useState(false);
  const spoken = speaker.value;
  if (!open && !spoken) return null;
  const others = people().filter(({ person }) => person !== book.writer.value?.person);
  const options = [
    { id: "", label: "Nobody: my own" },
    ...others.map(({ person, name }) => ({ id: person, label: name })),
  ];
  return html`<div class="list">
    <button type="button" class="act" aria-expanded=${asked} onClick=${() => setAsked(!asked)}>
      ${spoken ? `Written for ${personName(spoken)}, who spoke` : "Write for somebody on talkback"}</button>
    ${
      asked &&
      html`<${Options} legend="Who spoke?" name="speaker" two options=${options} value=${spoken ?? ""} pick=${(
        /** @type {string} */ id,
      ) => {
        speaker.value = id || null;
        setAsked(false);
      }} />`
    }
  </div>`;
}
