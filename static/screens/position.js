import { html } from "htm/preact";
import { ChainDrawn, ChainWords } from "../parts/chain.js";
import { chainOf } from "../parts/links.js";
import { Page, withShow } from "../parts/page.js";
import { byWhom, stages, stageWord, states } from "../parts/say.js";
import { definition, kitName, positionView } from "../parts/show.js";
import { SheetSlip } from "./positions.js";

/** One position, all its stages. @param {{ rest: string }} props */
function OnePosition({ rest }) {
  const position = definition().positions.find(({ id }) => id === rest);
  if (!position)
    return html`<${Page} title="No such position"><p>This show has no position ${rest}.</p></${Page}>`;
  const view = positionView(rest);
  const chain = chainOf(view);
  const log = [...view.faults, ...view.events, ...(view.given_up ? [view.given_up] : [])].sort((a, b) =>
    a.at < b.at ? -1 : 1,
  );
  return html`<${Page} title=${`Position ${rest}`} back="#/positions/rig" backWord="Positions">
    <h2>${position.name}</h2>
    <dl class="facts"><dt>Height</dt><dd>${position.height_m} m</dd><dt>Distance</dt><dd>${position.distance_m} m</dd>
      <dt>Way up</dt><dd>${position.way_up}${position.tower ? `, tower ${position.tower}` : ""}</dd><dt>Camera</dt><dd>${position.camera}</dd></dl>
    <div class="card"><${ChainDrawn} ...${chain} /><${ChainWords} ...${chain} names=${kitName} />
      <a class="act" href=${`#/chain/${rest}`}>Change the chain</a></div>
    ${stages.map((stage) => {
      const sheets = view.sheets.filter((sheet) => sheet.stage === stage);
      return (
        sheets.length > 0 &&
        html`<section class="list" key=${stage} aria-label=${stageWord(stage)}><h2 class="stage">${stageWord(stage)}</h2>
        ${sheets.map(({ id }) => html`<${SheetSlip} key=${id} id=${id} />`)}</section>`
      );
    })}
    <section class="list" aria-labelledby="told"><h2 id="told">What was written of it</h2>
      ${log.length === 0 && html`<p class="soft">Nothing yet.</p>`}
      ${log.map((entry) => html`<p class="slip" key=${entry.name}><strong>${states(entry)}</strong><br /><span class="small soft">${byWhom(entry)}</span></p>`)}
    </section>
    <div class="pair"><a class="act" href=${`#/event/position/${rest}`}>Something happened</a>
      <a class="act" href=${`#/fault/position/${rest}`}>Raise a fault</a>
      <a class="act" href=${`#/given-up/${rest}`}>Give the position up</a></div>
  </${Page}>`;
}

export const PositionScreen = withShow(OnePosition, "Position");
