import { html } from "htm/preact";
import { book, chooseWriter } from "../logbook/book.js";
import { Page } from "../parts/page.js";
import { roleWord } from "../parts/say.js";
import { speaker } from "../parts/show.js";

/** Whose cards are on this phone, and who writes. */
export function PeopleScreen() {
  const writer = book.writer.value;
  async function choose(/** @type {string} */ kid) {
    speaker.value = null; // whoever wrote before heard them, not this one
    await chooseWriter(kid);
  }
  return html`<${Page} title="On this phone" needsShow=${false}>
    <p>Every entry carries the name of whoever writes. A card each, a key each.</p>
    <ul class="list">${book.writers.value.map(
      (
        one,
      ) => html`<li key=${one.kid}><button type="button" class="act left" aria-pressed=${one.kid === writer?.kid} onClick=${() => choose(one.kid)}>
        <span>${one.name}${one.kid === writer?.kid ? ", writing" : ""}<br /><span class="small soft">${one.roles.map(roleWord).join(", ")}</span></span></button></li>`,
    )}</ul>
    <a class="act" href="#/join">Put another card on this phone</a>
    <a class="act" href="#/shows">Which show: ${book.show.value?.definition.title ?? "none open"}</a>
    <a class="act" href="#/settings">Settings</a>
  </${Page}>`;
}
