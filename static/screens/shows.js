import { html } from "htm/preact";
import { book } from "../logbook/book.js";
import { Page } from "../parts/page.js";
import { ShowList } from "../parts/show-list.js";

/** Which show this phone works in. */
export function ShowsScreen() {
  const start = () => {
    location.hash = "#/";
  };
  return html`<${Page} title="Which show" needsShow=${false}>
    <${ShowList} opened=${start} />
    ${book.writer.value?.roles.includes("chief") && html`<a class="act" href="#/make-show">Make a show</a>`}
    <a class="act" href="#/accept-report">Open a report's PDF</a>
  </${Page}>`;
}
