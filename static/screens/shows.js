import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { book, openShow, syncNow } from "../logbook/book.js";
import { Page, Trouble } from "../parts/page.js";
import { dayWord } from "../parts/say.js";
import { sentence } from "../parts/server.js";

/** Which show this phone works in. */
export function ShowsScreen() {
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  async function open(/** @type {string} */ id) {
    try {
      if (await openShow(id)) location.hash = "#/";
      else setTrouble("This show has not been loaded onto this phone yet. It needs the server once.");
    } catch (error) {
      setTrouble(sentence(error));
    }
  }
  const shows = book.shows.value;
  return html`<${Page} title="Which show" needsShow=${false}>
    ${shows.length === 0 && html`<p>No show is on this phone yet. It needs the server once.</p>`}
    <ul class="list">${shows.map(
      (
        show,
      ) => html`<li key=${show.id}><button type="button" class="act left" aria-pressed=${show.id === book.show.value?.id} onClick=${() => open(show.id)}>
        <span>${show.title}<br /><span class="small">${show.site}, ${dayWord(show.starts)} to ${dayWord(show.ends)}${show.id === book.show.value?.id ? ", open" : ""}</span></span></button></li>`,
    )}</ul>
    <button type="button" class="act" onClick=${() => syncNow().catch((error) => setTrouble(sentence(error)))}>Ask the server for shows</button>
    ${book.writer.value?.roles.includes("chief") && html`<a class="act" href="#/make-show">Make a show</a>`}
    <a class="act" href="#/accept-report">Open a report's PDF</a>
    <${Trouble} words=${trouble} />
  </${Page}>`;
}
