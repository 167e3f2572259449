import { html } from "htm/preact";
import { ChainDrawn, ChainWords } from "../parts/chain.js";
import { chainOf } from "../parts/links.js";
import { Page, withShow } from "../parts/page.js";
import { disputed as isDisputed } from "../parts/row.js";
import { byWhom, eventLabel, stageWord, states } from "../parts/say.js";
import { allSheets, definition, kitName, positionView, sheetView } from "../parts/show.js";

/** Every position as its chain; on a wide screen they fill the wall. @param {{ rest: string }} props */
function Positions({ rest }) {
  const stage = rest || "rig";
  const others = allSheets().filter((sheet) => sheet.stage === stage && !/^(position|run)\//.test(sheet.id));
  return html`<${Page} title=${stageWord(stage)} wall>
    <div class="walls">${definition().positions.map((position) => html`<${PositionCard} key=${position.id} position=${position} stage=${stage} />`)}</div>
    ${
      others.length > 0 &&
      html`<section class="list" aria-labelledby="others"><h2 id="others">Also at this stage</h2>
      <div class="walls">${others.map(({ id }) => html`<${SheetSlip} key=${id} id=${id} />`)}</div></section>`
    }
  </${Page}>`;
}

/** @param {{ position: import("../parts/shapes.js").Position, stage: string }} props */
function PositionCard({ position, stage }) {
  const view = positionView(position.id);
  const chain = chainOf(view);
  const given = view.given_up && view.given_up.body.choice !== "restored" ? view.given_up : null;
  const event = view.events.at(-1);
  return html`<section class="card" aria-labelledby=${`position-${position.id}`}>
    <h2 id=${`position-${position.id}`}><span class="stencil">${position.id}</span> <a href=${`#/position/${position.id}`}>${position.name}</a></h2>
    <${ChainDrawn} ...${chain} broken=${given !== null} />
    <${ChainWords} ...${chain} names=${kitName} />
    ${given && html`<p><strong class="alarm">Given up: ${given.body.choice}</strong><br /><span class="small soft">${byWhom(given)}</span></p>`}
    ${view.faults.map((fault) => html`<p key=${fault.name}><strong class="alarm">Fault: ${states(fault)}</strong><br /><span class="small soft">${byWhom(fault)}</span></p>`)}
    ${event && html`<p><strong>${eventLabel(event.body.event)}</strong> <span class="small soft">${byWhom(event)}</span></p>`}
    <ul class="list">${view.sheets
      .filter((sheet) => sheet.stage === stage)
      .map((sheet) => html`<li key=${sheet.id}><${SheetSlip} id=${sheet.id} /></li>`)}</ul>
    <div class="pair"><a class="act" href=${`#/event/position/${position.id}`}>Something happened</a>
      <a class="act" href=${`#/fault/position/${position.id}`}>Raise a fault</a></div>
  </section>`;
}

/** A sheet's name and how far it is. @param {{ id: string }} props */
export function SheetSlip({ id }) {
  const view = sheetView(id);
  const disputed = view.steps.filter(isDisputed).length;
  const again = view.steps.filter((step) => step.ended || step.stale).length;
  const signed =
    view.signatures.length === 0
      ? ""
      : view.signatures.every(({ changed }) => changed)
        ? ", changed since signed"
        : ", signed";
  return html`<a class="slip" href=${`#/sheet/${id}`}><strong>${view.title}</strong><br />${view.done} of ${view.total} done${signed}
    ${disputed > 0 && html`<br /><strong class="alarm">${disputed} disputed</strong>`}
    ${again > 0 && html`<br /><strong>${again} to be looked at again</strong>`}</a>`;
}

export const PositionsScreen = withShow(Positions, "Positions");
