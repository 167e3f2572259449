import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { due } from "../kit/due.js";
import { isLifting, pieceOf } from "../kit/pieces.js";
import { hoistStops } from "../kit/register.js";
import { Page, Trouble, withShow } from "../parts/page.js";
import { TagOnString } from "../parts/pen.js";
import { Field } from "../parts/pick.js";
import { roleWords } from "../parts/say.js";
import { sentence } from "../parts/server.js";
import { current, definition, kitNow, mayDo, write } from "../parts/show.js";

import { ReportOf } from "./kit.js";

const LIFT_LEADER = ["lift-leader"];

/** Every piece of lifting gear: identity, mark, examination, and the pre-use check of this show, which is no examination. */
function Register() {
  const { ends } = definition();
  const items = kitNow().filter(isLifting);
  const pieces = items.map(pieceOf);
  const stopped = pieces.filter((piece) => hoistStops(piece, ends, current().log).length > 0).length;
  return html`<${Page} title="Lifting register" back="#/van/pack" backWord="Vehicles" wall>
    <p class="verdict" role="status">${stopped === 0 ? "Nothing here stops a lift" : `${stopped} of ${pieces.length} may not be lifted with yet`}</p>
    <p class="caution"><strong>Caution.</strong> A thorough examination is a competent person's; the pre-use check is a lift leader's look before use. Neither stands for the other. Local rules come first.</p>
    <div class="walls">${items.map((item) => html`<${OnePiece} key=${item.tag} item=${item} />`)}</div>
  </${Page}>`;
}

/** @param {{ item: import("../parts/shapes.js").Kit }} props */
function OnePiece({ item }) {
  const piece = pieceOf(item);
  const { tag, name, about, dates, interval } = piece;
  const stops = hoistStops(piece, definition().ends, current().log);
  return html`<section class="card" aria-labelledby=${`piece-${tag}`}>
    <h2 id=${`piece-${tag}`}><a href=${`#/k/${tag}`}>${tag}</a></h2><p>${name}</p>
    ${stops.map(({ stop, says }) => html`<p key=${says} class="figure">${stop !== "not-checked" && html`<svg width="32" height="32" viewBox="-4 -4 40 40" aria-hidden="true"><${TagOnString} /></svg>`}<strong class=${stop === "not-checked" ? "" : "alarm"}>${says}</strong></p>`)}
    <dl class="facts small"><dt>Identity</dt><dd>${about.identity ?? "none written"}</dd>
      <dt>WLL or SWL</dt><dd>${about.wll_kg ? `${about.wll_kg} kg` : "no mark written"}${about.configuration && `, ${about.configuration}`}</dd>
      <dt>Made</dt><dd>${dates.made ?? "not known"}</dd>
      <dt>Thorough examination</dt><dd>${dates.examined ?? "none written"}${about.limb && `, under the limb of ${about.limb}`}</dd>
      <dt>Next due</dt><dd>${due(piece) ?? "cannot be told"}</dd>
      <dt>Report</dt><dd>${about.report ?? "none written"}</dd>
      ${interval && html`<dt>Whose rule</dt><dd>${interval.rule}</dd>`}</dl>
    <${ReportOf} item=${item} />
    <${PreUse} tag=${tag} />
  </section>`;
}

/** The look before use. @param {{ tag: string }} props */
function PreUse({ tag }) {
  const [failing, setFailing] = useState(false);
  const [reason, setReason] = useState("");
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  if (!mayDo(LIFT_LEADER, true))
    return html`<p class="small">Pre-use check: for ${roleWords(LIFT_LEADER)}.</p>`;
  async function keep(/** @type {"passed" | "failed"} */ choice) {
    setTrouble(null);
    try {
      const why = choice === "failed" ? { reason: reason.trim() } : {};
      await write({ subject: `kit/${tag}/pre-use`, kind: "choice", body: { choice, ...why }, own: true });
      setFailing(false);
      setReason("");
    } catch (error) {
      setTrouble(sentence(error));
    }
  }
  return html`<div class="pair"><button type="button" class="act" onClick=${() => keep("passed")}>Looked over, passed<span class="unseen">: ${tag}</span></button>
      <button type="button" class="act" aria-expanded=${failing} onClick=${() => setFailing(true)}>Failed<span class="unseen">: ${tag}</span></button></div>
    ${
      failing &&
      html`<${Field} label=${`What is wrong with ${tag}`} name=${`why-${tag}`} value=${reason} set=${setReason} />
      <button type="button" class="act" disabled=${!reason.trim()} onClick=${() => keep("failed")}>Write that ${tag} failed: out of use</button>`
    }
    <${Trouble} words=${trouble} />`;
}

export const RegisterScreen = withShow(Register, "Lifting register");
