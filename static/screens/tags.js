import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { asRemark, inRemark, otherwise } from "../kit/door-tags.js";
import { GateNote } from "../parts/gate.js";
import { Page, Trouble, withShow } from "../parts/page.js";
import { Field } from "../parts/pick.js";
import { byWhom, roleWords } from "../parts/say.js";
import { sentence } from "../parts/server.js";
import { definition, lockerView, mayDo, sheetOf, step as stepOf, stepView, write } from "../parts/show.js";

/** @typedef {import("../parts/shapes.js").Step} Step */
/** @typedef {Record<string, string>} Numbers */

/** Where a door bears none on arriving. */
const GONE = "none";

/** The door tags of a vehicle, read on leaving and on arriving; another number is said at once. @param {{ rest: string }} props */
function DoorTags({ rest }) {
  const vehicle = definition().vehicles.find(({ id }) => id === rest);
  const sheet = `vehicle/${rest}/travel`;
  const [leaving, arriving] = [stepOf(`${sheet}/tags-leaving`), stepOf(`${sheet}/tags-arriving`)];
  if (!vehicle || !sheetOf(sheet) || !leaving || !arriving)
    return html`<${Page} title="No such tags"><p>This show asks for no door tags of ${rest}.</p></${Page}>`;
  const left = told(leaving);
  const came = told(arriving);
  return html`<${Page} title="Door tags" back="#/van/travel" backWord="Vehicles">
    <h2>${vehicle.name}</h2>
    ${
      left === null
        ? html`<${Round} key="leaving" step=${leaving} vehicle=${rest} words="Leaving" before=${{}} />`
        : html`<${Read} words="Leaving" step=${leaving} numbers=${left} />
          <${Round} key="arriving" step=${arriving} vehicle=${rest} words=${came === null ? "Arriving" : "Arriving, read again"} before=${left} />`
    }
    ${left !== null && came !== null && html`<${Read} words="Arriving" step=${arriving} numbers=${came} /><${Otherwise} left=${left} came=${came} />`}
    <a class="act" href=${`#/event/vehicle/${rest}`}>Hard stop, knock on the road</a>
  </${Page}>`;
}

/** What the last round read; null where it is still to be walked. @param {Step} step @returns {Numbers | null} */
function told(step) {
  const view = stepView(step.subject);
  const remark = view?.evidence.findLast(({ kind }) => kind === "remark");
  return view?.done && remark ? inRemark(remark.body.text) : null;
}

/** @param {{ words: string, step: Step, numbers: Numbers }} props */
function Read({ words, step, numbers }) {
  const by = stepView(step.subject)?.values.at(-1);
  return html`<section class="card" aria-label=${`${words}, as read`}><h3>${words}</h3><p class="small soft">${by && byWhom(by)}</p>
    <dl class="facts">${Object.entries(numbers).map(([locker, number]) => html`<dt key=${locker}>${locker}</dt><dd>${number}</dd>`)}</dl></section>`;
}

/** One round: a number for each door. @param {{ step: Step, vehicle: string, words: string, before: Numbers }} props */
function Round({ step, vehicle, words, before }) {
  const [numbers, setNumbers] = useState(/** @type {Numbers} */ ({}));
  const [word, setWord] = useState("");
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const view = stepView(step.subject);
  const may = mayDo(step.roles, step.hazard);
  const lockers = definition().lockers.filter((locker) => locker.vehicle === vehicle);
  const unread = lockers.filter(({ id }) => !numbers[id]?.trim()).map(({ id }) => id);
  // A number half typed is not another number yet.
  const wrong = otherwise(before, numbers).filter(({ left, came }) => came && !left.startsWith(came));
  const stop = !may || view?.gate === "shut" || (view?.gate === "unseen" && !word.trim());
  const set = (/** @type {string} */ id, /** @type {string} */ number) =>
    setNumbers({ ...numbers, [id]: number });
  async function keep() {
    setTrouble(null);
    const passed =
      view?.gate === "unseen"
        ? { passed: view.unseen.map((subject) => ({ subject, told_by: word.trim() })) }
        : {};
    try {
      await write({ subject: step.subject, kind: "remark", body: { text: asRemark(numbers) } });
      await write({ subject: step.subject, kind: "tick", body: passed });
    } catch (error) {
      setTrouble(sentence(error));
    }
  }
  return html`<section class="card" aria-label=${words}><h3>${words}</h3>
    ${view && html`<${GateNote} view=${view} told=${word} setTold=${setWord} />`}
    ${!may && html`<p>For ${roleWords(step.roles)}.</p>`}
    ${lockers.map(
      ({ id, name }) => html`<div class="list" key=${id}>
        <${Field} label=${`${id}, ${name}${before[id] ? `: ${before[id]} on leaving` : ""}`} name=${`tag-${id}`} value=${numbers[id] ?? ""} set=${(/** @type {string} */ number) => set(id, number.replaceAll(",", " "))} />
        ${
          before[id] &&
          !numbers[id] &&
          html`<div class="pair"><button type="button" class="act" disabled=${!may} onClick=${() => set(id, before[id] ?? "")}>The same: ${before[id]}<span class="unseen"> on ${id}</span></button>
          <button type="button" class="act" disabled=${!may} onClick=${() => set(id, GONE)}>No tag on ${id}</button></div>`
        }
        ${wrong.some(({ locker }) => locker === id) && html`<p class="alarm" role="alert"><strong>Another tag than the one that left.</strong></p>`}</div>`,
    )}
    ${unread.length > 0 && html`<p class="small">Not read yet: ${unread.join(", ")}</p>`}
    <button type="button" class="act main" disabled=${stop || unread.length > 0} onClick=${keep}>${step.done}</button>
    <${Trouble} words=${trouble} /></section>`;
}

/** What another number puts in doubt: written in one touch, then counted again. @param {{ left: Numbers, came: Numbers }} props */
function Otherwise({ left, came }) {
  const doors = otherwise(left, came);
  if (doors.length === 0) return html`<p class="verdict" role="status">Every tag is the one that left</p>`;
  return html`${doors.map((door) => html`<${Doubt} key=${door.locker} door=${door} />`)}`;
}

/** @param {{ door: { locker: string, left: string, came: string | null } }} props */
function Doubt({ door: { locker, left, came } }) {
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const text = `Tag ${left} on leaving, ${came ?? "none"} on arriving`;
  const isWritten = lockerView(locker).events.some(
    ({ body }) => body.event === "opened" && body.text === text,
  );
  const keep = () =>
    write({ subject: `locker/${locker}`, kind: "event", body: { event: "opened", text } }).catch((error) =>
      setTrouble(sentence(error)),
    );
  return html`<section class="card" aria-label=${`Tag of ${locker}`}><p><strong class="alarm">${locker}: ${left} on leaving, ${came ?? "none"} on arriving.</strong> Somebody opened it, or the wrong tag was read.</p>
    ${isWritten ? html`<p>Written: ${locker} was opened. What was counted before holds no longer.</p>` : html`<button type="button" class="act" onClick=${keep}>Write that ${locker} was opened</button>`}
    <a class="act" href=${`#/count/locker/${locker}/pack/count`}>Count ${locker} again</a>
    <${Trouble} words=${trouble} /></section>`;
}

export const TagsScreen = withShow(DoorTags, "Door tags");
