// Unsent entries to a file, and somebody's file taken in.
import { useSignal } from "@preact/signals";
import { html } from "htm/preact";
import { book, handIn, saveToFile } from "../logbook/book.js";

/** @param {{entries: number, files: number, unread: number}} taken */
function said({ entries, files, unread }) {
  const lost = unread > 0 ? ` ${unread} could not be read: keep the file and show it to the chief.` : "";
  return `${entries} new entries and ${files} files taken in; they go to the server with this phone's own.${lost}`;
}

/** Save to file, hand in a file, and what the server would not take. */
export function HandInScreen() {
  const answer = useSignal("");
  const take = async (/** @type {any} */ event) => {
    const [file] = event.target.files;
    if (!file) return;
    try {
      answer.value = said(await handIn(file));
    } catch (error) {
      answer.value = /** @type {Error} */ (error).message;
    }
  };
  return html`<section class="paper">
    <h1>Carry it by hand</h1>
    <p>${book.unsent.value} unsent entries are on this phone only.</p>
    <button type="button" onClick=${saveToFile}>Save to file</button>
    <label for="hand-in">Hand in a file that a phone saved</label>
    <input id="hand-in" type="file" accept=".zip,application/zip" onChange=${take} />
    <p role="status">${answer.value}</p>
    ${
      book.refused.value.length > 0 &&
      html`<h2>Refused by the server, kept here</h2>
      <ul>${book.refused.value.map((row) => html`<li key=${row.name}>${row.subject}: ${row.reason}</li>`)}</ul>`
    }
  </section>`;
}
