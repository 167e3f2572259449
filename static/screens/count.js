import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { Caution } from "../parts/ask.js";
import { GateNote } from "../parts/gate.js";
import { Page, Trouble, withShow } from "../parts/page.js";
import { counted } from "../parts/row.js";
import { byWhom, roleWords, states } from "../parts/say.js";
import { kitName, mayDo, sheetIdOf, step as stepOf, stepView, write } from "../parts/show.js";
import { TakeBackNow } from "../parts/take-back.js";

/** @typedef {import("../parts/shapes.js").ItemView} ItemView */

/** A locker counted item by item, by number: one touch where it is as listed. @param {{ rest: string }} props */
function CountOne({ rest }) {
  const [told, setTold] = useState("");
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const step = stepOf(rest);
  const view = stepView(rest);
  if (!step || !view)
    return html`<${Page} title="No such count"><p>This show has no count ${rest}.</p></${Page}>`;
  const may = mayDo(step.roles, step.hazard);
  const stop = view.gate === "shut" || !may || (view.gate === "unseen" && !told.trim());
  const passed =
    view.gate === "unseen"
      ? { passed: view.unseen.map((subject) => ({ subject, told_by: told.trim() })) }
      : {};
  async function put(/** @type {string} */ tag, /** @type {string} */ number) {
    setTrouble(null);
    try {
      await write({
        subject: `${rest}/${tag}`,
        kind: "count",
        body: { number, ...passed },
        own: step?.hazard === true,
      });
    } catch (error) {
      setTrouble(error instanceof Error ? error.message : String(error));
    }
  }
  return html`<${Page} title="Count" back=${`#/sheet/${sheetIdOf(rest)}`} backWord="The sheet">
    <h2>${step.do}</h2>
    <${Caution} step=${step} />
    <${GateNote} view=${view} told=${told} setTold=${setTold} />
    ${!may && html`<p>For ${roleWords(step.roles)}.</p>`}
    <p class="verdict" role="status">${counted(view)}</p>
    <${Trouble} words=${trouble} />
    <ul>${view.items.map((item) => html`<${Item} key=${item.item} item=${item} names=${step.names ?? {}} stop=${stop} put=${put} />`)}</ul>
  </${Page}>`;
}

/** @param {{ item: ItemView, names: Record<string, string>, stop: boolean, put: (tag: string, number: string) => void }} props */
function Item({ item, names, stop, put }) {
  const { item: tag, listed, values, state } = item;
  const entry = values.at(-1);
  const now = entry?.kind === "count" ? Number(entry.body.number) : null;
  const [other, setOther] = useState(/** @type {number | null} */ (null));
  const number = other ?? now ?? Number(listed);
  const short = now !== null && now < Number(listed);
  const name = names[tag] ? `${tag}, ${names[tag]}` : kitName(tag);
  const step = (/** @type {number} */ by) => setOther(Math.max(0, number + by));
  const keep = () => {
    put(tag, String(number));
    setOther(null);
  };
  return html`<li class="list item">
    <div class="tally">
      <div><a href=${`#/k/${tag}`}><strong>${name}</strong></a><br /><${Said} item=${item} short=${short} now=${now} /></div>
      <button type="button" class="act" disabled=${stop} aria-label=${`One less of ${name}`} onClick=${() => step(-1)}>−</button>
      <output aria-label=${`Number of ${name}`}>${number}</output>
      <button type="button" class="act" disabled=${stop} aria-label=${`One more of ${name}`} onClick=${() => step(1)}>+</button>
    </div>
    ${(now !== number || state === "disputed") && html`<button type="button" class="act" disabled=${stop} onClick=${keep}>${number === Number(listed) ? "There" : "Counted"}: ${number} of ${listed}<span class="unseen">, ${name}</span></button>`}
    <${TakeBackNow} entry=${entry} />
  </li>`;
}

/** @param {{ item: ItemView, short: boolean, now: number | null }} props */
function Said({ item, short, now }) {
  const { values, listed, state } = item;
  if (state === "disputed") {
    return html`<strong class="alarm">Disputed</strong> ${values.map((entry) => html`<br /><span class="small">${states(entry)}: ${byWhom(entry)}</span>`)}`;
  }
  const entry = values.at(-1);
  if (!entry) return html`<span class="soft">${listed} listed, not counted yet</span>`;
  if (now === null) return html`<span>${states(entry)}, ${byWhom(entry)}</span>`;
  return html`${short && html`<strong class="alarm">Short: ${Number(listed) - now}</strong>`} <span class="small soft">${now} of ${listed}, ${byWhom(entry)}</span>`;
}

export const CountScreen = withShow(CountOne, "Count");
