import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { report as reportOf } from "../logbook/views.js";
import { AcceptDoor, AcceptDoors } from "../parts/accept-door.js";
import { Page, Trouble } from "../parts/page.js";
import { openReport, takeAnswer } from "../parts/record.js";
import { sentence } from "../parts/server.js";

/** @typedef {import("../parts/record.js").Opened} Opened */

/** The report that is open, kept while one goes from door to door. @type {Opened | null} */
let kept = null;

/** Accepting from the report's file alone: the record in it is read and folded here. @param {{ rest: string }} props */
export function AcceptReportScreen({ rest }) {
  const [opened, setOpened] = useState(kept);
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const [busy, setBusy] = useState(false);
  async function open(/** @type {File} */ file) {
    setBusy(true);
    setTrouble(null);
    try {
      kept = await openReport(file);
      setOpened(kept);
    } catch (error) {
      setTrouble(sentence(error));
    } finally {
      setBusy(false);
    }
  }
  const locker = opened?.definition.lockers.find(({ id }) => id === rest);
  return html`<${Page} title="Accept" back=${rest ? "#/accept-report" : "#/"} backWord=${rest ? "All doors" : "Stages"} needsShow=${false} wall=${!rest}>
    ${
      opened && locker
        ? html`<${AcceptDoor} locker=${locker} report=${reportOf(opened.fold, opened.definition)} log=${opened.log} pdf=${opened.report} done=${async (
            /** @type {string} */ name,
          ) => {
            await takeAnswer(opened, name);
            location.hash = "#/accept-report";
          }} />`
        : html`<p>Open the report's PDF: the record in it is read on this phone, with no signal. The answer goes to the log when there is signal.</p>
          <label class="act file">${opened ? "Open another report" : "Open the report's PDF"}<input type="file" accept="application/pdf,.pdf"
            onChange=${(/** @type {any} */ event) => event.currentTarget.files[0] && open(event.currentTarget.files[0])} /></label>
          <p role="status">${busy ? "Reading the report." : opened ? `${opened.definition.title}: the record was read. ${whose(opened)}` : ""}</p>
          ${opened && html`<${AcceptDoors} definition=${opened.definition} report=${reportOf(opened.fold, opened.definition)} href=${(/** @type {string} */ id) => `#/accept-report/${id}`} />`}`
    }
    <${Trouble} words=${trouble} />
  </${Page}>`;
}

/** Whether the record's unit is the one this phone believes. @param {Opened} opened */
function whose({ known }) {
  return known
    ? "It is by the unit whose key this phone keeps."
    : "It is by a unit whose key this phone does not keep: ask whoever gave you the file who made it.";
}
