import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { ChainDrawn, ChainWords } from "../parts/chain.js";
import { chainOf } from "../parts/links.js";
import { Page, Trouble, withShow } from "../parts/page.js";
import { byWhom, states } from "../parts/say.js";
import { sentence } from "../parts/server.js";
import { definition, kitName, positionView, write } from "../parts/show.js";

/** Which type of kit may stand in a link. @type {Record<string, { label: string, type: string }>} */
const links = {
  lens: { label: "Lens", type: "lens" },
  body: { label: "Body", type: "body" },
  run: { label: "Run", type: "drum" },
  control: { label: "Control unit", type: "control-unit" },
};

/** What stands in a position's chain, changed link by link. @param {{ rest: string }} props */
function Chain({ rest }) {
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const view = positionView(rest);
  const chain = chainOf(view);
  async function assign(/** @type {string} */ slot, /** @type {object} */ body) {
    setTrouble(null);
    try {
      await write({ subject: `position/${rest}/chain/${slot}`, kind: "assign", body });
    } catch (error) {
      setTrouble(sentence(error));
    }
  }
  return html`<${Page} title=${`Chain ${rest}`} back=${`#/position/${rest}`} backWord="The position">
    <div class="card"><${ChainDrawn} ...${chain} /><${ChainWords} ...${chain} names=${kitName} /></div>
    <p class="notice">What was done about a link is to be looked at again once another stands there, also when the first comes back.</p>
    ${["lens", "body", "control"].map((slot) => html`<${OneLink} key=${slot} slot=${slot} view=${view} assign=${assign} />`)}
    <${Run} drums=${chain.drums.map(({ tag }) => tag)} assign=${assign} />
    <${Trouble} words=${trouble} />
  </${Page}>`;
}

/** @param {{ slot: string, view: import("../parts/shapes.js").PositionView, assign: (slot: string, body: object) => void }} props */
function OneLink({ slot, view, assign }) {
  const now = view.chain[slot]?.tag ?? "";
  const [picked, setPicked] = useState(now);
  const link = /** @type {{ label: string, type: string }} */ (links[slot]);
  const fits = definition().kit.filter(({ type }) => type === link.type);
  return html`<section class="card"><h2>${link.label}</h2>
    ${view.chain[slot]?.state === "disputed" && html`<p><strong class="alarm">Disputed</strong></p>${view.chain[slot]?.values.map((entry) => html`<p key=${entry.name}>${states(entry)}: ${byWhom(entry)}</p>`)}`}
    <div class="field"><label for=${slot}>Stands there</label><select id=${slot} value=${picked} onChange=${(/** @type {any} */ event) => setPicked(event.currentTarget.value)}>
      <option value="">none</option>${fits.map(({ tag }) => html`<option key=${tag} value=${tag}>${kitName(tag)}</option>`)}</select></div>
    <button type="button" class="act" disabled=${picked === now && view.chain[slot]?.state !== "disputed"} onClick=${() => assign(slot, { tag: picked || null })}>Write it: ${picked || "none"}</button></section>`;
}

/** Drums in their order, camera end first. @param {{ drums: string[], assign: (slot: string, body: object) => void }} props */
function Run({ drums, assign }) {
  const [tags, setTags] = useState(drums);
  const others = definition().kit.filter(({ type, tag }) => type === "drum" && !tags.includes(tag));
  const same = tags.join() === drums.join();
  return html`<section class="card"><h2>Run, from the camera to the truck</h2>
    <ol class="list">${tags.map(
      (
        tag,
        index,
      ) => html`<li class="pair" key=${tag}><span>${index + 1}. <strong>${kitName(tag)}</strong></span>
      <button type="button" class="act" onClick=${() => setTags(tags.filter((one) => one !== tag))}>Take ${tag} out</button></li>`,
    )}</ol>
    <div class="field"><label for="drum">Join another drum on</label><select id="drum" value="" onChange=${(/** @type {any} */ event) => event.currentTarget.value && setTags([...tags, event.currentTarget.value])}>
      <option value="">Pick a drum</option>${others.map(({ tag }) => html`<option key=${tag} value=${tag}>${kitName(tag)}</option>`)}</select></div>
    <button type="button" class="act" disabled=${same} onClick=${() => assign("run", { tags })}>Write this run: ${tags.length} ${tags.length === 1 ? "drum" : "drums"}</button></section>`;
}

export const ChainScreen = withShow(Chain, "Chain");
