import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { worst } from "../logbook/views/in-use.js";
import { ChainDrawn, ChainWords } from "../parts/chain.js";
import { chainOf } from "../parts/links.js";
import { Page, Trouble, withShow } from "../parts/page.js";
import { Field } from "../parts/pick.js";
import { byWhom, states } from "../parts/say.js";
import { sentence } from "../parts/server.js";
import { current, definition, kitName, kitView, positionView, write } from "../parts/show.js";

/** @typedef {{ tag?: string | null, tags?: string[] }} Assigned */
/** @typedef {{ tag: string, state: string, barred: boolean }} Unfit */

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
  const [asked, ask] = useState(
    /** @type {{ slot: string, body: Assigned, unfit: Unfit[] } | null} */ (null),
  );
  /** @param {string} slot @param {Assigned} body @param {object} [though] */
  async function assign(slot, body, though = {}) {
    setTrouble(null);
    const unfit = unfitIn(body);
    if (unfit.length > 0 && !("though" in though)) return ask({ slot, body, unfit });
    try {
      await write({
        subject: `position/${rest}/chain/${slot}`,
        kind: "assign",
        body: { ...body, ...though },
      });
      ask(null);
    } catch (error) {
      setTrouble(sentence(error));
    }
  }
  return html`<${Page} title=${`Chain ${rest}`} back=${`#/position/${rest}`} backWord="The position">
    <div class="card"><${ChainDrawn} ...${chain} /><${ChainWords} ...${chain} names=${kitName} /></div>
    <p class="notice">What was done about a link is to be looked at again once another stands there, also when the first comes back.</p>
    ${["lens", "body", "control"].map((slot) => html`<${OneLink} key=${slot} slot=${slot} view=${view} assign=${assign} />`)}
    ${asked && html`<${Though} ...${asked} keep=${(/** @type {object} */ though) => assign(asked.slot, asked.body, though)} />`}
    <${Run} drums=${chain.drums.map(({ tag }) => tag)} assign=${assign} />
    <${Trouble} words=${trouble} />
  </${Page}>`;
}

/** @param {{ slot: string, view: import("../parts/shapes.js").PositionView, assign: (slot: string, body: Assigned) => void }} props */
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

/** What stands against using these, by all that is known here. @param {Assigned} body @returns {Unfit[]} */
function unfitIn({ tag, tags }) {
  return [tag ?? [], tags ?? []].flat().flatMap((one) => {
    const state = worst(current().fold.held, one);
    return state ? [{ tag: one, state, barred: hasFailedTest(one) }] : [];
  });
}

/** Whether it is unserviceable and a test of it failed: that is not used, on nobody's word. @param {string} tag */
function hasFailedTest(tag) {
  const { tests, carried } = kitView(tag);
  const all = [...tests, ...carried.flatMap((one) => one.tests)];
  return (
    worst(current().fold.held, tag) === "unserviceable" && all.some(({ body }) => body.result === "failed")
  );
}

/**
 * Used though suspect: with a reason, on somebody's word, said on page one. Not what failed its test.
 * @param {{ slot: string, body: Assigned, unfit: Unfit[], keep: (though: object) => void }} props
 */
function Though({ slot, unfit, keep }) {
  const [reason, setReason] = useState("");
  const [who, setWho] = useState("");
  const barred = unfit.filter((one) => one.barred);
  return html`<section class="card" role="group" aria-label="Used though unfit">
    ${unfit.map(({ tag, state }) => html`<p key=${tag}><strong class="alarm">${kitName(tag)} is ${state}.</strong></p>`)}
    ${
      barred.length > 0
        ? html`<p>${barred.map(({ tag }) => tag).join(", ")} failed a test and is not used. Put another there.</p>`
        : html`<p>It can be used on the night, with a name and a reason. Page one of the report says so.</p>
      <${Field} label="Why it is used all the same" name="though-reason" value=${reason} set=${setReason} />
      <${Field} label="On whose word" name="though-who" value=${who} set=${setWho} />
      <button type="button" class="act" disabled=${!reason.trim() || !who.trim()} onClick=${() => keep({ though: unfit.map(({ tag }) => ({ tag, reason: reason.trim(), who: who.trim() })) })}>Use it as ${links[slot]?.label.toLowerCase()} though ${unfit[0]?.state}</button>`
    }</section>`;
}

/** Drums in their order, camera end first. @param {{ drums: string[], assign: (slot: string, body: Assigned) => void }} props */
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
