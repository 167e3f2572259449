import { html } from "htm/preact";
import { askToKeep, book } from "../logbook/book.js";
import { look, looks, setLook } from "../parts/look.js";
import { Page } from "../parts/page.js";
import { Options } from "../parts/pick.js";
import { takeVersion } from "../version.js";
import { heardWords } from "./unsent.js";

/** How the phone looks, whether it keeps, when it last heard. */
export function SettingsScreen() {
  const keeps = book.persisted.value;
  return html`<${Page} title="Settings" needsShow=${false}>
    <${Options} legend="Look" name="look" options=${looks} value=${look.value} pick=${setLook} />
    <section class="card"><h2>What this phone keeps</h2>
      <p>${
        keeps === true
          ? "The browser has said that it keeps what is written here."
          : keeps === false
            ? "The browser has not said that it keeps what is written here: send often, and save to file before a long pause."
            : "The browser has not been asked yet whether it keeps what is written here."
      }</p>
      ${keeps === true ? null : html`<button type="button" class="act" onClick=${askToKeep}>Ask the browser to keep it</button>`}
      <p>${heardWords()}</p>
      <p>${book.coreReady.value ? "The arithmetic is on this phone and works with no signal." : "The arithmetic is not yet on this phone: readings take the plain figure."}</p></section>
    <section class="card"><h2>Version</h2>
      ${
        book.versionOffered.value
          ? html`<p>A new version is here. It starts when you say so.</p><button type="button" class="act main" onClick=${takeVersion}>Start the new version</button>`
          : html`<p>No newer version is waiting.</p>`
      }</section>
    <a class="act" href="#/people">Who writes: ${book.writer.value?.name ?? "nobody"}</a>
    <a class="act" href="#/unsent">Unsent: ${book.unsent.value}</a>
  </${Page}>`;
}
