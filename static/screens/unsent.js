import { html } from "htm/preact";
import { useEffect, useState } from "preact/hooks";
import { book, saveToFile, syncNow } from "../logbook/book.js";
import { toOffer } from "../logbook/outbox.js";
import { Heads } from "../parts/heads.js";
import { Page, Trouble } from "../parts/page.js";
import { subjectWords } from "../parts/say.js";
import { sentence } from "../parts/server.js";
import { logName } from "../parts/show.js";

/** @typedef {import("../logbook/store.js").EntryRow} EntryRow */

/** What is on this phone only, and the ways to carry it on; what was refused or dropped, kept. */
export function UnsentScreen() {
  const [rows, setRows] = useState(/** @type {EntryRow[]} */ ([]));
  const [said, setSaid] = useState("");
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const unsent = book.unsent.value;
  useEffect(() => {
    toOffer().then(setRows, (error) => setTrouble(sentence(error)));
  }, [unsent]);
  async function tried(/** @type {() => Promise<unknown>} */ work, /** @type {string} */ words) {
    setTrouble(null);
    setSaid("");
    try {
      await work();
      setSaid(words);
    } catch (error) {
      setTrouble(sentence(error));
    }
  }
  return html`<${Page} title="Unsent" needsShow=${false}>
    <p class="verdict">${unsent > 0 ? `${unsent} unsent` : "Nothing unsent"}</p>
    <p>${unsent > 0 ? "On this phone only, until a fetch brings them back." : "All that was written here has come back from the server."} ${heardWords()}</p>
    <div class="list"><button type="button" class="act main" onClick=${() => tried(syncNow, "Tried. What has arrived is no longer counted.")}>Try to send now</button>
      <button type="button" class="act" onClick=${() => tried(saveToFile, "Saved. Hand the file to any phone of the crew, or to the server.")}>Save to file</button>
      <a class="act" href="#/hand-in">Hand in a file that a phone saved</a></div>
    <p role="status">${said}</p>
    <${Trouble} words=${trouble} />
    <${Rows} title="Refused by the server, kept here" rows=${book.refused.value} />
    <${Rows} title="Dropped: the server had them and has them no more. Offered again" rows=${book.dropped.value} />
    <${Rows} title="Waiting to go" rows=${rows.filter(({ state }) => state !== "dropped")} />
    ${book.show.value && html`<${Heads} />`}
  </${Page}>`;
}

/** @param {{ title: string, rows: EntryRow[] }} props */
function Rows({ title, rows }) {
  if (rows.length === 0) return null;
  return html`<section class="list"><h2>${title}: ${rows.length}</h2>
    <ul class="list">${rows.map(
      (
        row,
      ) => html`<li class="slip" key=${row.name}><strong>${what(row)}</strong><br /><span class="small soft">number ${row.number} in ${where(row)}</span>
      ${row.reason && html`<br /><strong>${row.reason}</strong>`}${row.state === "waits" && html`<br />Waits: the server keeps it until the card of the phone that wrote it comes.`}</li>`,
    )}</ul></section>`;
}

/** @param {EntryRow} row */
const what = ({ log, subject }) => (book.show.value?.log === log ? subjectWords(subject) : subject);

/** @param {EntryRow} row */
const where = ({ log }) => (book.show.value ? logName(log) : log);

/** How long ago the server answered. */
export function heardWords() {
  const heard = book.lastHeard.value;
  if (heard === null) return "The server has not answered this phone yet.";
  const minutes = Math.round((Date.now() - heard) / 60_000);
  if (minutes < 1) return "The server answered within the last minute.";
  if (minutes < 120) return `The server last answered ${minutes} minutes ago.`;
  const days = Math.floor(minutes / 1440);
  return days < 2
    ? `The server last answered ${Math.round(minutes / 60)} hours ago.`
    : `The server last answered ${days} days ago.`;
}
