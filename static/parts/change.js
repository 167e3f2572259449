import { html } from "htm/preact";
import { recordOf } from "../kit/records.js";
import { byWhom } from "./say.js";
import { current } from "./show.js";

/** @typedef {import("../kit/changing.js").Difference} Difference */
/** @typedef {import("../kit/records.js").Fields} Fields */

/** Whether records differ, or one has not arrived. @param {string} top `kit/TAG` or `locker/ID` */
export function isOpen(top) {
  return ["disputed", "waits"].includes(recordOf(current().fold.held, top).state);
}

/**
 * Who recorded it last, and what that changed since the show was made; where records differ, each side.
 * @param {{ top: string, changed: (fields: Fields) => Difference[] }} props
 */
export function Before({ top, changed }) {
  const { said } = recordOf(current().fold.held, top);
  if (said.length === 0)
    return html`<p class="small">As it was when this show was made; nothing is recorded since.</p>`;
  return html`${isOpen(top) && html`<p><strong class="alarm">Disputed: two records differ, or one has not arrived.</strong> Below stands what held before them; what you write settles it.</p>`}
    ${said.map(
      ({
        entry,
      }) => html`<div class="slip" key=${entry.name}><strong>Recorded</strong> <span class="small soft">${byWhom(/** @type {any} */ (entry))}</span>
        <${Differences} differences=${changed(/** @type {Fields} */ (entry.body.fields ?? {}))} none="As it was when this show was made." /></div>`,
    )}`;
}

/** @param {{ differences: Difference[], none: string, say?: (what: string) => string }} props */
export function Differences({ differences, none, say = (what) => what }) {
  if (differences.length === 0) return html`<p class="small">${none}</p>`;
  return html`<ul>${differences.map(({ what, was, now }) => html`<li key=${what}>${say(what)}: ${now ?? "taken out"}, was ${was ?? "not there"}</li>`)}</ul>`;
}

/** @param {{ words: string | null | undefined | false | "" }} props */
export function Wrong({ words }) {
  return words ? html`<p class="alarm" role="alert"><strong>Not so: ${words}.</strong></p>` : null;
}
