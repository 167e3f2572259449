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
    <ul class="counted">${view.items.map((item) => html`<${Item} key=${item.item} item=${item} names=${step.names ?? {}} stop=${stop} put=${put} />`)}</ul>
  </${Page}>`;
}

/** @param {{ item: ItemView, names: Record<string, string>, stop: boolean, put: (tag: string, number: string) => void }} props */
function Item({ item, names, stop, put }) {
  const { item: tag, listed, values, state } = item;
  const [open, setOpen] = useState(false);
  const entry = values.at(-1);
  const now = entry?.kind === "count" ? Number(entry.body.number) : null;
  const name = names[tag] ? `${tag}, ${names[tag]}` : kitName(tag);
  const settled = state === "settled" && now !== null;
  const keep = (/** @type {number} */ number) => {
    put(tag, String(number));
    setOpen(false);
  };
  return html`<li class="item">
    <div><a href=${`#/k/${tag}`}><strong>${name}</strong></a><br /><${Said} item=${item} short=${now !== null && now < Number(listed)} now=${now} /></div>
    ${
      settled && !open
        ? html`<button type="button" class="act" disabled=${stop} onClick=${() => setOpen(true)}>Count again<span class="unseen">: ${name}</span></button>`
        : html`<${Tally} listed=${Number(listed)} from=${now ?? Number(listed)} name=${name} stop=${stop} keep=${keep} />`
    }
    <${TakeBackNow} entry=${entry} />
  </li>`;
}

/** One touch where it is as listed; single things are there or not, others are counted. @param {{ listed: number, from: number, name: string, stop: boolean, keep: (number: number) => void }} props */
function Tally({ listed, from, name, stop, keep }) {
  const [number, setNumber] = useState(from);
  const whose = html`<span class="unseen">: ${name}</span>`;
  if (listed === 1) {
    return html`<div class="pair"><button type="button" class="act" disabled=${stop} onClick=${() => keep(1)}>There${whose}</button>
      <button type="button" class="act" disabled=${stop} onClick=${() => keep(0)}>Not there${whose}</button></div>`;
  }
  return html`<div class="tally">
    <button type="button" class="act" disabled=${stop} aria-label=${`One less of ${name}`} onClick=${() => setNumber(Math.max(0, number - 1))}>−</button>
    <output aria-label=${`Number of ${name}`}>${number}</output>
    <button type="button" class="act" disabled=${stop} aria-label=${`One more of ${name}`} onClick=${() => setNumber(number + 1)}>+</button>
    <button type="button" class="act words" disabled=${stop} onClick=${() => keep(number)}>${number === listed ? "All there" : "Counted"}: ${number} of ${listed}${whose}</button></div>`;
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
