import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { HoldButton } from "../parts/hold.js";
import { Page, Trouble, withShow } from "../parts/page.js";
import { RopeMark } from "../parts/rope.js";
import { byWhom, roleWords, states, subjectWords } from "../parts/say.js";
import { current, mayDo, step as stepOf, write } from "../parts/show.js";

/** Both sides of a dispute, whose they are, and a way to settle it: state it again, having seen them. @param {{ rest: string }} props */
function Settle({ rest }) {
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const step = stepOf(rest);
  const { fold } = current();
  const { values, state } = fold.subject(rest);
  const back = step ? `#/step/${step.subject}` : "#/";
  const sides = values.map((/** @type {string} */ name) => {
    const entry = fold.entry(name);
    return { ...entry, name, key: entry.kid };
  });
  async function settle(/** @type {any} */ side) {
    setTrouble(null);
    try {
      const { passed: _, ...body } = side.body;
      await write({ subject: rest, kind: side.kind, body, own: step?.hazard === true, replaces: values });
      location.hash = back;
    } catch (error) {
      setTrouble(error instanceof Error ? error.message : String(error));
    }
  }
  const may = !step || mayDo(step.roles, step.hazard);
  return html`<${Page} title=${state === "disputed" ? "Disputed" : "Settled"} back=${back} backWord="Back">
    <h2>${subjectWords(rest)}</h2>
    <p>Different things were stated, neither writer having seen the other's. Look for yourself, then state what is so. Both sides stay in the log.</p>
    ${step?.caution && html`<p class="caution"><strong>Caution.</strong> ${step.caution}</p>`}
    <ol class="rope-list">${sides.map(
      (
        /** @type {any} */ side,
      ) => html`<li class="row" key=${side.name}><${RopeMark} mark="disputed" below="rope" />
        <div class="card"><p class="do">${states(side, step)}</p><p class="soft">${byWhom(side)}</p>
          ${
            step?.hazard && side.kind !== "reopen"
              ? html`<${HoldButton} words=${`it is so: ${states(side, step)}`} disabled=${!may} act=${() => settle(side)} />`
              : html`<button type="button" class="act main" disabled=${!may} onClick=${() => settle(side)}>It is so: ${states(side, step)}</button>`
          }
        </div></li>`,
    )}</ol>
    ${!may && html`<p>To be settled by ${roleWords(step?.roles ?? [])}.</p>`}
    <${Trouble} words=${trouble} />
  </${Page}>`;
}

export const SettleScreen = withShow(Settle, "Disputed");
