import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { Caution } from "../parts/ask.js";
import { GateNote } from "../parts/gate.js";
import { gapWords } from "../parts/open-points.js";
import { Page, Trouble, withShow } from "../parts/page.js";
import { writePlace } from "../parts/place.js";
import { counted } from "../parts/row.js";
import { byWhom, placeWord, roleWords, states } from "../parts/say.js";
import { Scan } from "../parts/scan.js";
import {
  kitName,
  kitOf,
  kitView,
  lockerView,
  mayDo,
  reportView,
  sheetIdOf,
  step as stepOf,
  stepView,
  write,
} from "../parts/show.js";
import { TakeBackNow } from "../parts/take-back.js";

/** @typedef {import("../parts/shapes.js").ItemView} ItemView */

/** A locker counted item by item, by touch, by number or by reading codes. @param {{ rest: string }} props */
function CountOne({ rest }) {
  const [told, setTold] = useState("");
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const step = stepOf(rest);
  const view = stepView(rest);
  if (!step || !view)
    return html`<${Page} title="No such count"><p>This show has no count ${rest}.</p></${Page}>`;
  const locker = rest.match(/^locker\/[^/]+/)?.[0] ?? null;
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
      if (locker && number !== "0" && isElsewhere(tag, locker)) await writePlace(tag, locker);
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
    ${!stop && html`<${ByCode} items=${view.items} locker=${locker} put=${put} />`}
    ${locker && html`<${Gaps} items=${view.items} locker=${locker} />`}
    <ul class="counted">${view.items.map((item) => html`<${Item} key=${item.item} item=${item} names=${step.names ?? {}} stop=${stop} put=${put} />`)}</ul>
  </${Page}>`;
}

/** Whether the last word on where a thing is, is another place than here. @param {string} tag @param {string} here */
function isElsewhere(tag, here) {
  const place = kitView(tag).place;
  return place !== null && place.body.where !== here;
}

/**
 * Counting by code: a single thing is there as soon as it is read; what belongs elsewhere is said, and put here in
 * one touch.
 * @param {{ items: ItemView[], locker: string | null, put: (tag: string, number: string) => Promise<void> }} props
 */
function ByCode({ items, locker, put }) {
  const [said, setSaid] = useState(/** @type {string | null} */ (null));
  const [stray, setStray] = useState(/** @type {string | null} */ (null));
  async function read(/** @type {string} */ tag) {
    const item = items.find((one) => one.item === tag);
    setStray(null);
    if (!item && !kitOf(tag)) return setSaid(`Nothing of this show carries the tag ${tag}`);
    if (!item) {
      setStray(tag);
      return setSaid(`${kitName(tag)} does not belong here: it belongs in ${kitOf(tag)?.home}`);
    }
    if (item.listed !== "1") return setSaid(`${kitName(tag)}: ${item.listed} listed, count them below`);
    await put(tag, "1");
    return setSaid(`${kitName(tag)}: there`);
  }
  return html`<${Scan} read=${read} said=${said} />
    ${
      stray &&
      locker &&
      html`<button type="button" class="act" onClick=${async () => {
        await writePlace(stray, locker);
        setSaid(`${kitName(stray)} is in ${placeWord(locker)}, and belongs in ${kitOf(stray)?.home}`);
        setStray(null);
      }}>Write that ${stray} is in ${placeWord(locker)}</button>`
    }`;
}

/** What this locker is short of, with where it was last seen, and what is in it that belongs elsewhere. @param {{ items: ItemView[], locker: string }} props */
function Gaps({ items, locker }) {
  const id = locker.slice("locker/".length);
  const short = items.some(({ values, listed }) =>
    values.some(({ body }) => Number(body.number) !== Number(listed)),
  );
  const { missing, astray, away, extra } = short ? reportView() : noGaps;
  const here = [...missing, ...astray, ...away, ...extra].filter(
    (/** @type {any} */ gap) => gap.locker === id,
  );
  const strangers = lockerView(id).strangers;
  if (here.length + strangers.length === 0) return null;
  return html`<ul class="list" aria-label="What is not as listed">
    ${here.map((gap) => html`<li class="slip" key=${gap.tag}><strong>${wordOf(gap)}</strong> <a href=${`#/k/${gap.tag}`}>${gapWords(gap)}</a></li>`)}
    ${strangers.map(({ tag, home }) => html`<li class="slip" key=${tag}><strong>In the wrong locker:</strong> <a href=${`#/k/${tag}`}>${kitName(tag)}</a>, belongs in ${home}</li>`)}</ul>`;
}

const noGaps = { missing: [], astray: [], away: [], extra: [] };

/** @param {import("../parts/shapes.js").Gap} gap */
function wordOf({ where, listed, counted }) {
  if (Number(counted) > Number(listed)) return "More than listed:";
  return where?.startsWith("away/") ? "Away:" : "Short:";
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
    return html`<strong class="alarm">Disputed</strong> ${values.map((entry) => html`<br /><span class="small">${states(entry)}: ${byWhom(entry)}</span>`)}<br />Count it again, with both seen.`;
  }
  const entry = values.at(-1);
  if (!entry) return html`<span class="soft">${listed} listed, not counted yet</span>`;
  if (now === null) return html`<span>${states(entry)}, ${byWhom(entry)}</span>`;
  return html`${short && html`<strong class="alarm">Short: ${Number(listed) - now}</strong>`} <span class="small soft">${now} of ${listed}, ${byWhom(entry)}</span>`;
}

export const CountScreen = withShow(CountOne, "Count");
