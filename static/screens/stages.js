import { html } from "htm/preact";
import { book } from "../logbook/book.js";
import { Page, withShow } from "../parts/page.js";
import { RopeMark } from "../parts/rope.js";
import { dayWord, stages, stageWord } from "../parts/say.js";
import { allSheets, definition, sheetView } from "../parts/show.js";

/** Where a stage starts: from the vehicle, or from the positions. @param {string} stage */
export function stageStart(stage) {
  return ["rig", "line-up", "on-air"].includes(stage) ? `#/positions/${stage}` : `#/van/${stage}`;
}

/** The whole show on one rope, packing to Monday. */
function Stages() {
  const { title, site, starts, ends } = definition();
  const sheets = allSheets();
  const rows = stages.map((stage) => {
    const views = sheets.filter((sheet) => sheet.stage === stage).map(({ id }) => sheetView(id));
    const done = views.filter((view) => view.done === view.total).length;
    return { stage, done, total: views.length, begun: views.some((view) => view.done > 0) };
  });
  const reach = rows.findLastIndex(({ begun }) => begun);
  const next = rows.findIndex(({ done, total }, index) => done < total && index >= reach);
  return html`<${Page} title=${title} back="">
    <p>${site}<br /><span class="soft">${dayWord(starts)} to ${dayWord(ends)}</span></p>
    <ol class="rope-list">${rows.map(({ stage, done, total, begun }, index) => {
      const mark = total > 0 && done === total ? "done" : index === next ? "next" : begun ? "open" : "wait";
      return html`<li class="row" key=${stage}>
        <${RopeMark} mark=${mark} below=${index < Math.max(reach, next) ? "rope" : "dots"} />
        <a class="row-text" href=${stageStart(stage)}><span class="stage">${stageWord(stage)}</span>
          <span class="soft">${done} of ${total} sheets done</span></a></li>`;
    })}
      <li class="row"><${RopeMark} mark="unsigned" below="none" />
        <a class="row-text" href="#/hand-over"><span class="stage">Hand over</span><span class="soft">what the next crew must know</span></a></li>
    </ol>
    <nav aria-label="More" class="pair">
      <a class="act" href="#/accept">Accept, door by door</a>
      <a class="act" href="#/event/show">Something happened</a>
      <a class="act" href="#/fault/show">Raise a fault</a>
      ${
        book.writer.value?.roles.includes("chief") &&
        html`<a class="act" href="#/crew">Crew and devices</a>
        <a class="act" href="#/amend">Amend the show</a><a class="act" href="#/make-show">Make a show</a>`
      }
      <a class="act" href="#/shows">Which show</a>
      <a class="act" href="#/settings">Settings</a>
    </nav>
  </${Page}>`;
}

export const StagesScreen = withShow(Stages, "Handline");
