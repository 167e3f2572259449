// Makes this phone somebody's: by the link's code, or by the code typed.
import { useSignal } from "@preact/signals";
import { html } from "htm/preact";
import { book, enrol } from "../logbook/book.js";
import { mustInstall } from "../logbook/fitness.js";

/** The code that the link carries behind its #. */
function linkCode() {
  return location.pathname === "/join" ? decodeURIComponent(location.hash.slice(1)) : "";
}

/** On an iPhone a tab is no place for a key: it is forgotten after a week, and the app does not see it. */
function InstallFirst() {
  const code = linkCode().split(".")[0];
  return html`<section class="paper">
    <h1>Put Handline on the Home Screen first</h1>
    <ol>
      <li>Touch Share, then <b>Add to Home Screen</b>.</li>
      <li>Open Handline from the Home Screen.</li>
      <li>Type this code there: ${code ? html`<strong class="code">${code}</strong>` : "the one that the chief gave you."}</li>
    </ol>
    <p>In this tab the phone would forget what you write after a week.</p>
  </section>`;
}

/** Asks for the code. */
export function JoinScreen() {
  const code = useSignal(linkCode());
  const trouble = useSignal("");
  const busy = useSignal(false);
  if (mustInstall()) return html`<${InstallFirst} />`;

  const submit = async (/** @type {Event} */ event) => {
    event.preventDefault();
    busy.value = true;
    trouble.value = "";
    try {
      await enrol(code.value);
      history.replaceState(null, "", "/#/");
      dispatchEvent(new HashChangeEvent("hashchange"));
    } catch (error) {
      trouble.value = /** @type {Error} */ (error).message;
    } finally {
      busy.value = false;
    }
  };
  const writer = book.writer.value;
  return html`<section class="paper">
    <header class="head"><h1>${writer ? "Another card on this phone" : "Whose phone is this?"}</h1>${writer && html`<a href="/#/people">Back</a>`}</header>
    ${writer && html`<p>${writer.name} writes here now. A second card gets its own key.</p>`}
    <form onSubmit=${submit}>
      <label for="code">Code from the chief</label>
      <input id="code" value=${code.value} autocomplete="off" autocapitalize="characters" spellcheck=${false}
        onInput=${(/** @type {any} */ event) => {
          code.value = event.target.value;
        }} />
      <button type="submit" disabled=${busy.value}>Make this phone mine</button>
    </form>
    <p role="alert">${trouble.value}</p>
  </section>`;
}
