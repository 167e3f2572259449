import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { gapWords } from "../parts/open-points.js";
import { Page, withShow } from "../parts/page.js";
import { SayPlace } from "../parts/place.js";
import { reportView } from "../parts/show.js";

/** @typedef {import("../parts/shapes.js").Gap} Gap */

/** What has not come back: each thing found, or accounted for by name. */
function Reconcile() {
  const report = reportView();
  const uncounted = lockersOf(report.not_counted);
  const open = report.missing.length + report.astray.length + report.not_counted.length;
  return html`<${Page} title="What is not back" back="#/hand-over" backWord="Hand over">
    <p class="verdict" role="status">${open === 0 ? "All back or accounted for" : `${open} not accounted for`}</p>
    <${Part} title="Counted short" gaps=${report.missing} />
    <${Part} title="In the wrong locker" gaps=${report.astray} />
    ${
      uncounted.length > 0 &&
      html`<section class="list"><h2>Not counted back</h2>${uncounted.map(
        ({ locker, tags }) =>
          html`<a class="slip" key=${locker} href=${`#/count/locker/${locker}/de-rig/count`}><strong>${locker}:</strong> ${tags.join(", ")}</a>`,
      )}</section>`
    }
    <${Part} title="More than listed" gaps=${report.extra} />
    <${Part} title="Away, accounted for" gaps=${report.away} />
  </${Page}>`;
}

/** @param {{ title: string, gaps: Gap[] }} props */
function Part({ title, gaps }) {
  if (gaps.length === 0) return null;
  return html`<section class="list"><h2>${title}: ${gaps.length}</h2>${gaps.map((gap) => html`<${OneGap} key=${gap.tag} gap=${gap} />`)}</section>`;
}

/** @param {{ gap: Gap }} props */
function OneGap({ gap }) {
  const [open, setOpen] = useState(false);
  return html`<div class="slip list"><a href=${`#/k/${gap.tag}`}><strong>${gapWords(gap)}</strong></a>
    ${open ? html`<${SayPlace} tag=${gap.tag} done=${() => setOpen(false)} />` : html`<button type="button" class="act" onClick=${() => setOpen(true)}>Say where ${gap.tag} is</button>`}</div>`;
}

/** @param {Gap[]} gaps */
function lockersOf(gaps) {
  const lockers = new Map(gaps.map(({ locker }) => [locker, /** @type {string[]} */ ([])]));
  for (const { locker, tag } of gaps) lockers.get(locker)?.push(tag);
  return [...lockers].map(([locker, tags]) => ({ locker, tags }));
}

export const ReconcileScreen = withShow(Reconcile, "What is not back");
