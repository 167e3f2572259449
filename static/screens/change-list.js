import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { listDifferences, sumFaults } from "../kit/changing.js";
import { faultsIn } from "../kit/fields.js";
import { Before, Differences, isOpen } from "../parts/change.js";
import { onFrom, Page, Trouble, withShow } from "../parts/page.js";
import { sentence } from "../parts/server.js";
import { definition, kitName, kitNow, lockersNow, mayDo, writeRecord } from "../parts/show.js";

/** @typedef {{ tag: string, number: string }} Held */

const CHIEF = ["chief"];

/** What belongs in a locker from the next show on; the sheets of this one count what they were made with. @param {{ rest: string }} props */
function ChangeList({ rest }) {
  const locker = definition().lockers.find(({ id }) => id === rest);
  const listed = lockersNow().find(({ id }) => id === rest)?.holds ?? [];
  const [holds, setHolds] = useState(/** @type {Held[]} */ (listed));
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  if (!locker) return html`<${Page} title="No such locker"><p>This unit has no locker ${rest}.</p></${Page}>`;
  const back = `#/locker/${rest}`;
  if (!mayDo(CHIEF, true))
    return html`<${Page} title=${`List of ${rest}`} back=${back} backWord="The locker"><p>For the chief.</p></${Page}>`;
  const faults = faultsIn({ holds });
  const top = `locker/${rest}`;
  const touched = new Set([...listed, ...holds].map(({ tag }) => tag));
  const sums = sumFaults(
    kitNow().filter(({ tag }) => touched.has(tag)),
    lockersNow().map((one) => (one.id === rest ? { ...one, holds } : one)),
  );
  const differing = listDifferences(listed, holds);
  async function keep() {
    const address = location.hash;
    setTrouble(null);
    try {
      await writeRecord(top, { holds });
      onFrom(address, back);
    } catch (error) {
      setTrouble(sentence(error));
    }
  }
  return html`<${Page} title=${`List of ${rest}`} back=${back} backWord="The locker">
    <h2>${locker.name}</h2>
    <${Before} top=${top} changed=${(/** @type {import("../kit/records.js").Fields} */ fields) => listDifferences(locker.holds, fields.holds ?? locker.holds)} />
    <p>From the next show on this is counted. The sheets of this show keep the list that they were made with.</p>
    <ul class="list">${holds.map((one) => html`<${OneListed} key=${one.tag} one=${one} set=${(/** @type {Held | null} */ now) => setHolds(holds.flatMap((held) => (held.tag === one.tag ? (now ?? []) : held)))} />`)}</ul>
    <${AddOne} holds=${holds} add=${(/** @type {string} */ tag) => setHolds([...holds, { tag, number: "1" }])} />
    ${faults.map(({ field, reason }) => html`<p class="alarm" key=${field}><strong>${field}: ${reason}.</strong></p>`)}
    <section class="card" aria-labelledby="differs"><h2 id="differs">What you change</h2><${Differences} differences=${differing} none="Nothing yet." say=${kitName} /></section>
    ${sums.map(({ tag, says, where }) => html`<p key=${tag}><strong class="alarm">${says}${where.length > 0 && ` (${where.map((one) => `${one.locker} ${one.number}`).join(", ")})`}.</strong> Until the lists add up, a count wants what is not there, or misses what is.</p>`)}
    <button type="button" class="act main" disabled=${(differing.length === 0 && !isOpen(top)) || faults.length > 0} onClick=${keep}>Write this list: ${holds.length} ${holds.length === 1 ? "thing" : "things"}</button>
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

export const ChangeListScreen = withShow(ChangeList, "List");
