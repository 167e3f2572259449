import { html } from "htm/preact";
import { AcceptDoor, AcceptDoors } from "../parts/accept-door.js";
import { OpenPoints } from "../parts/open-points.js";
import { Page, withShow } from "../parts/page.js";
import { current, definition, reportView } from "../parts/show.js";

/** The next crew's answer, door by door. @param {{ rest: string }} props */
function Accept({ rest }) {
  const { log } = current();
  const report = reportView();
  if (rest) {
    const locker = definition().lockers.find(({ id }) => id === rest);
    return html`<${Page} title=${`Accept ${rest}`} back="#/accept" backWord="All doors">
      ${
        locker
          ? html`<${AcceptDoor} locker=${locker} report=${report} log=${log} done=${() => {
              location.hash = "#/accept";
            }} />`
          : html`<p>This unit has no locker ${rest}.</p>`
      }</${Page}>`;
  }
  return html`<${Page} title="Accept" wall>
    <p>Open each door and look. Say what was seen, not what was said.</p>
    <${AcceptDoors} definition=${definition()} report=${report} href=${(/** @type {string} */ id) => `#/accept/${id}`} />
    <section class="list" aria-labelledby="open"><h2 id="open">What the last crew says is open</h2><${OpenPoints} report=${report} /></section>
    <a class="act" href="#/accept-report">Open a report's PDF instead</a>
  </${Page}>`;
}

export const AcceptScreen = withShow(Accept, "Accept");
