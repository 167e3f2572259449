import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { faultsIn } from "../kit/fields.js";
import { listOf } from "../kit/records.js";
import { Page, Trouble, withShow } from "../parts/page.js";
import { sentence } from "../parts/server.js";
import { current, definition, kitName, kitNow, mayDo, writeRecord } from "../parts/show.js";
import { Before } from "./change.js";

/** @typedef {{ tag: string, number: string }} Held */

const CHIEF = ["chief"];

/** What belongs in a locker from the next show on; the sheets of this one count what they were made with. @param {{ rest: string }} props */
function ChangeList({ rest }) {
  const locker = definition().lockers.find(({ id }) => id === rest);
  const listed = locker ? listOf(current().fold.held, locker) : [];
  const [holds, setHolds] = useState(/** @type {Held[]} */ (listed));
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  if (!locker) return html`<${Page} title="No such locker"><p>This unit has no locker ${rest}.</p></${Page}>`;
  const back = `#/locker/${rest}`;
  if (!mayDo(CHIEF, true))
    return html`<${Page} title=${`List of ${rest}`} back=${back} backWord="The locker"><p>For the chief.</p></${Page}>`;
  const faults = faultsIn({ holds });
  const twice = elsewhere(rest, holds);
  const same = JSON.stringify(holds) === JSON.stringify(listed);
  async function keep() {
    setTrouble(null);
    try {
      await writeRecord(`locker/${rest}`, { holds });
      location.hash = back;
    } catch (error) {
      setTrouble(sentence(error));
    }
  }
  return html`<${Page} title=${`List of ${rest}`} back=${back} backWord="The locker">
    <h2>${locker.name}</h2>
    <${Before} top=${`locker/${rest}`} />
    <p>From the next show on this is counted. The sheets of this show keep the list that they were made with.</p>
    <ul class="list">${holds.map((one) => html`<${OneListed} key=${one.tag} one=${one} set=${(/** @type {Held | null} */ now) => setHolds(holds.flatMap((held) => (held.tag === one.tag ? (now ?? []) : held)))} />`)}</ul>
    <${AddOne} holds=${holds} add=${(/** @type {string} */ tag) => setHolds([...holds, { tag, number: "1" }])} />
    ${faults.map(({ field, reason }) => html`<p class="alarm" key=${field}><strong>${field}: ${reason}.</strong></p>`)}
    ${twice.map(({ tag, locker: other }) => html`<p key=${tag}><strong class="alarm">${kitName(tag)} is listed in ${other} too.</strong> Take it out there as well, or a count will want it twice.</p>`)}
    <button type="button" class="act main" disabled=${same || faults.length > 0} onClick=${keep}>Write this list: ${holds.length} ${holds.length === 1 ? "thing" : "things"}</button>
    <${Trouble} words=${trouble} />
  </${Page}>`;
}

/** @param {{ one: Held, set: (now: Held | null) => void }} props */
function OneListed({ one: { tag, number }, set }) {
  const more = (/** @type {number} */ by) =>
    set({ tag, number: String(Math.max(1, Math.min(999_999, Number(number) + by))) });
  return html`<li class="slip list"><strong>${kitName(tag)}</strong>
    <div class="tally"><button type="button" class="act" aria-label=${`One less of ${tag}`} onClick=${() => more(-1)}>−</button>
      <output aria-label=${`Number of ${tag}`}>${number}</output>
      <button type="button" class="act" aria-label=${`One more of ${tag}`} onClick=${() => more(1)}>+</button>
      <button type="button" class="act words" onClick=${() => set(null)}>Take ${tag} out</button></div></li>`;
}

/** @param {{ holds: Held[], add: (tag: string) => void }} props */
function AddOne({ holds, add }) {
  const listed = new Set(holds.map(({ tag }) => tag));
  const free = kitNow().filter(({ tag }) => !listed.has(tag));
  return html`<div class="field"><label for="add">One thing more</label><select id="add" value="" onChange=${(/** @type {any} */ event) => event.currentTarget.value && add(event.currentTarget.value)}>
    <option value="">Pick from the kit</option>${free.map(({ tag }) => html`<option key=${tag} value=${tag}>${kitName(tag)}</option>`)}</select></div>`;
}

/** Of single things listed here, those that another locker lists as well. @param {string} id @param {Held[]} holds */
function elsewhere(id, holds) {
  const { held } = current().fold;
  const single = new Set(kitNow().flatMap(({ tag, number }) => (number === "1" ? [tag] : [])));
  return definition()
    .lockers.filter((other) => other.id !== id)
    .flatMap((other) => listOf(held, other).map(({ tag }) => ({ tag, locker: other.id })))
    .filter(({ tag }) => single.has(tag) && holds.some((one) => one.tag === tag));
}

export const ChangeListScreen = withShow(ChangeList, "List");
