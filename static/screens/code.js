import { html } from "htm/preact";
import { Page, withShow } from "../parts/page.js";
import { definition, kitOf } from "../parts/show.js";
import { KitScreen } from "./kit.js";
import { LockerScreen } from "./locker.js";

/** What a label's code names: a thing, or a locker. @param {{ rest: string }} props */
function Named({ rest }) {
  if (kitOf(rest)) return html`<${KitScreen} rest=${rest} />`;
  if (definition().lockers.some(({ id }) => id === rest)) return html`<${LockerScreen} rest=${rest} />`;
  return html`<${Page} title=${rest}>
    <p><strong>Nothing of this show carries this tag.</strong> It may be another unit's, or newer than what this phone has loaded.</p>
    <a class="act" href="#/shows">Load what is new, or pick another show</a>
    <a class="act" href=${`#/kit/${rest}`}>Write where it was found all the same</a>
  </${Page}>`;
}

export const CodeScreen = withShow(Named, "Code");
