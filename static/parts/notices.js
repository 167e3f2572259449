import { html } from "htm/preact";
import { book } from "../logbook/book.js";
import { takeVersion } from "../version.js";

/** From when silence is told unasked: WebKit may forget a tab's storage after seven days of use without a visit. */
const LONG_DAYS = 3;

/** What must never be missed: what was dropped or given back, what waits too long, what is in the way, a new version. */
export function Notices() {
  const dropped = book.dropped.value.length;
  return html`<aside aria-live="polite">
    ${dropped > 0 && html`<p class="alarm">The server no longer holds ${dropped === 1 ? "an entry" : `${dropped} entries`} that it had. ${dropped === 1 ? "It is" : "They are"} kept here and offered again.</p>`}
    ${dropped === 0 && book.givenBack.value > 0 && html`<p>The server had lost ${book.givenBack.value === 1 ? "an entry" : `${book.givenBack.value} entries`} that it had. This phone has given back what was lost.</p>`}
    ${book.silentDays.value >= LONG_DAYS && html`<p class="alarm">${silence()} <a href="#/unsent">Send or save them</a></p>`}
    ${book.trouble.value && html`<p>${book.trouble.value}</p>`}
    ${book.versionOffered.value && html`<p>A new version of Handline is here. <button type="button" class="plain" onClick=${takeVersion}>Start it now</button></p>`}
  </aside>`;
}

function silence() {
  const words = `${book.unsent.value} unsent on this phone only, and the server has not answered for ${book.silentDays.value} days.`;
  return book.persisted.value === true ? words : `${words} This browser may forget them.`;
}
