// Said in place of the app where the browser cannot hold a logbook.
import { html } from "htm/preact";

/** @param {{reasons: string[]}} props */
export function UnfitScreen({ reasons }) {
  return html`<section class="paper">
    <h1>This browser cannot hold the logbook</h1>
    ${reasons.map((reason) => html`<p key=${reason}>${reason}</p>`)}
    ${
      globalThis.isSecureContext
        ? html`<p>A current Chrome, Firefox or Safari can, in a normal window.</p>`
        : html`<p><a class="act" href="/trust">How this phone comes to trust the truck</a></p>`
    }
    <p>Nothing that was written before is lost by this.</p>
  </section>`;
}
