import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { book, openShow, syncNow } from "../logbook/book.js";
import { dayWord } from "./say.js";

/** The shows on this phone, one touch each. @param {{ opened?: () => void }} props */
export function ShowList({ opened = () => {} }) {
  const [trouble, setTrouble] = useState("");
  const shows = book.shows.value;
  const tried = (/** @type {Promise<unknown>} */ work) => work.catch((error) => setTrouble(error.message));
  async function open(/** @type {string} */ id) {
    if (await openShow(id)) opened();
    else setTrouble("This show has not been loaded onto this phone yet. It needs the server once.");
  }
  return html`${shows.length === 0 && html`<p>No show is on this phone yet. It needs the server once.</p>`}
    <ul class="list">${shows.map((show) => {
      const here = show.id === book.show.value?.id;
      return html`<li key=${show.id}><button type="button" class="act left" aria-pressed=${here} onClick=${() => tried(open(show.id))}>
        <span>${show.title}${here ? ", open" : ""}<br /><span class="small">${show.site}, ${dayWord(show.starts)} to ${dayWord(show.ends)} ${show.ends.slice(0, 4)}</span></span></button></li>`;
    })}</ul>
    <button type="button" class="act" onClick=${() => tried(syncNow())}>Ask the server for shows</button>
    <p role="status">${trouble}</p>`;
}
