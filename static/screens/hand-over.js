import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { book } from "../logbook/book.js";
import { gapsIn, OpenPoints } from "../parts/open-points.js";
import { Page, Trouble, withShow } from "../parts/page.js";
import { Field } from "../parts/pick.js";
import { RopeMark } from "../parts/rope.js";
import { byWhom } from "../parts/say.js";
import { sentence } from "../parts/server.js";
import { current, devicesView, personName, reportView, write } from "../parts/show.js";

/** What is open first; then what the next crew is told, and up to where each phone's entries were seen. */
function HandOver() {
  const [text, setText] = useState("");
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const { fold, id } = current();
  const report = reportView();
  const gaps = gapsIn(report).length;
  const chief = book.writer.value?.roles.includes("chief") === true;
  const heads = Object.fromEntries(Object.entries(devicesView()).map(([kid, { tips }]) => [kid, tips]));
  const before = [...fold.held.ofKind("hand-over")].map((entry) => ({ ...entry, key: entry.kid }));
  async function keep() {
    setTrouble(null);
    try {
      await write({ subject: "hand-over", kind: "hand-over", body: { text: text.trim(), heads }, own: true });
      setText("");
    } catch (error) {
      setTrouble(sentence(error));
    }
  }
  return html`<${Page} title="Hand over">
    <section class="list" aria-labelledby="open"><h2 id="open">What is open</h2><${OpenPoints} report=${report} />
      <a class="act" href="#/reconcile">What is not back, one by one</a></section>
    <section class="list" aria-labelledby="heard"><h2 id="heard">Heard of each phone</h2>
      <ul>${report.heard.map((/** @type {any} */ one) => html`<li key=${one.key}><strong>${personName(one.person)}</strong> <span class="soft">last wrote ${one.at.slice(0, 16).replace("T", " ")}, by its own clock</span></li>`)}</ul></section>
    ${
      chief
        ? html`<section class="card"><${Field} label="What the next crew must be told" name="hand-over-text" lines value=${text} set=${setText} />
          <p class="small soft">Names the last entry of ${Object.keys(heads).length} phones. ${book.unsent.value > 0 ? `${book.unsent.value} entries of this phone have not arrived at the server yet.` : ""}</p>
          ${gaps > 0 && html`<p><strong class="alarm">${gaps} ${gaps === 1 ? "thing is" : "things are"} neither back nor accounted for.</strong> Handing over is possible; page one of the report says so.</p>`}
          <button type="button" class="act main" disabled=${!text.trim()} onClick=${keep}>${gaps > 0 ? "Hand over with gaps" : "Hand over"}</button><${Trouble} words=${trouble} /></section>`
        : html`<p>Handed over by the chief. ${book.writer.value?.name} is writing.</p>`
    }
    ${before.map((entry) => html`<div class="row" key=${entry.name}><${RopeMark} mark="signed" below="none" /><div><strong>Handed over</strong><br /><span class="small soft">${byWhom(/** @type {any} */ (entry))}</span><br />${entry.body.text}</div></div>`)}
    ${before.length > 0 && html`<a class="act" href=${`/api/shows/${id}/handover.pdf`}>The report as a PDF, with signal</a>`}
  </${Page}>`;
}

export const HandOverScreen = withShow(HandOver, "Hand over");
