import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { book, write as writeInto } from "../logbook/book.js";
import { AddKit, AddPerson } from "../parts/add-to-show.js";
import { Page, Trouble, withShow } from "../parts/page.js";
import { Field, Options, Several } from "../parts/pick.js";
import { emptyPosition, PositionForm } from "../parts/position-form.js";
import { roleWord } from "../parts/say.js";
import { post, sentence } from "../parts/server.js";
import { allSheets, current, definition, sheetOf, write } from "../parts/show.js";

const changes = [
  { id: "withdraw-step", label: "Withdraw a step" },
  { id: "add-step", label: "Add a step" },
  { id: "add-sheets", label: "Add a position" },
  { id: "add-kit", label: "Add a thing of kit" },
  { id: "add-person", label: "Add somebody" },
  { id: "move-end", label: "Move the end" },
];
const roles = ["rigger", "camera", "engineer", "sound", "driver", "lift-leader", "chief"].map((id) => ({
  id,
  label: roleWord(id),
}));

/** Changes to a show that runs: never to a step itself, that is withdrawn and another added. */
function Amend() {
  const [change, setChange] = useState("withdraw-step");
  const [reason, setReason] = useState("");
  const [said, setSaid] = useState("");
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  if (!book.writer.value?.roles.includes("chief"))
    return html`<${Page} title="Amend"><p>For the chief. ${book.writer.value?.name} is writing.</p></${Page}>`;
  async function keep(/** @type {() => Promise<object> | object} */ body) {
    setTrouble(null);
    try {
      await write({
        subject: "show",
        kind: "amend",
        body: { change, reason: reason.trim(), ...(await body()) },
        own: true,
      });
      setSaid("Written. It stands on every phone that it reaches.");
      setReason("");
    } catch (error) {
      setTrouble(sentence(error));
    }
  }
  const Form = /** @type {any} */ (
    {
      "withdraw-step": Withdraw,
      "add-step": AddStep,
      "add-sheets": AddPosition,
      "add-kit": AddKit,
      "add-person": AddPerson,
      "move-end": MoveEnd,
    }[change]
  );
  return html`<${Page} title="Amend">
    <${Options} legend="What changes?" name="change" two options=${changes} value=${change} pick=${setChange} />
    <${Field} label="Why" name="reason" value=${reason} set=${setReason} />
    <${Form} key=${change} keep=${keep} stop=${!reason.trim()} />
    <p role="status">${said}</p><${Trouble} words=${trouble} />
  </${Page}>`;
}

/** @typedef {import("../parts/add-to-show.js").FormProps} FormProps */

/** @param {{ value: string, set: (id: string) => void }} props */
function SheetPick({ value, set }) {
  return html`<div class="field"><label for="sheet">Sheet</label><select id="sheet" value=${value} onChange=${(/** @type {any} */ event) => set(event.currentTarget.value)}>
    <option value="">Pick a sheet</option>${allSheets().map(({ id, title }) => html`<option key=${id} value=${id}>${title}</option>`)}</select></div>`;
}

/** @param {FormProps} props */
function Withdraw({ keep, stop }) {
  const [sheet, setSheet] = useState("");
  const [step, setStep] = useState(/** @type {string | null} */ (null));
  const steps = sheet ? (sheetOf(sheet)?.steps ?? []) : [];
  return html`<section class="card"><${SheetPick} value=${sheet} set=${setSheet} />
    ${sheet && html`<${Options} legend="Which step leaves the sheet?" name="step" options=${steps.map(({ subject, do: what }) => ({ id: subject, label: what }))} value=${step} pick=${setStep} />`}
    <button type="button" class="act main" disabled=${stop || !step} onClick=${() => keep(() => ({ sheet, step }))}>Withdraw this step</button></section>`;
}

/** @param {FormProps} props */
function AddStep({ keep, stop }) {
  const [sheet, setSheet] = useState("");
  const [what, setWhat] = useState("");
  const [done, setDone] = useState("");
  const [caution, setCaution] = useState("");
  const [whose, setWhose] = useState(/** @type {string[]} */ ([]));
  const [hazard, setHazard] = useState(/** @type {string[]} */ ([]));
  function body() {
    const word = what
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, "-")
      .replace(/^-|-$/g, "")
      .slice(0, 40);
    const subject = `${sheet}/${word}`;
    if (allSheets().some((one) => one.steps.some((step) => step.subject === subject)))
      throw new Error("This sheet has a step of that name already. Say it in other words.");
    return {
      sheet,
      added: {
        id: subject.replaceAll("/", "."),
        subject,
        asks: "tick",
        roles: whose,
        after: [],
        hazard: hazard.length > 0,
        minutes: null,
        ended_by: [],
        about: [],
        do: what.trim(),
        done: done.trim(),
        caution: caution.trim(),
        second: null,
        unit: null,
        low: null,
        high: null,
        limit_of: "",
        choices: [],
        assess: null,
      },
    };
  }
  return html`<section class="card"><${SheetPick} value=${sheet} set=${setSheet} />
    <${Field} label="What to do" name="what" value=${what} set=${setWhat} /><${Field} label="What the button says when it is done" name="done" value=${done} set=${setDone} />
    <${Field} label="Caution, if somebody can be hurt" name="caution" value=${caution} set=${setCaution} />
    <${Several} legend="Done by" options=${roles} values=${whose} set=${setWhose} />
    <${Several} legend="Hazard" options=${[{ id: "hazard", label: "Held for a second to tick" }]} values=${hazard} set=${setHazard} />
    <button type="button" class="act main" disabled=${stop || !sheet || !/[a-z0-9]/i.test(what) || !done.trim() || whose.length === 0} onClick=${() => keep(body)}>Add this step</button></section>`;
}

/** The server makes the new position's sheets from the unit's definitions. @param {FormProps} props */
function AddPosition({ keep, stop }) {
  const taken = definition().positions.map(({ id }) => id);
  const [position, setPosition] = useState(
    emptyPosition(String(Math.max(0, ...taken.map(Number).filter(Number.isFinite)) + 1)),
  );
  async function body() {
    const { id, log } = current();
    const { digest, assigns } = await post(`/api/shows/${id}/positions`, { position });
    for (const { subject, body: stated } of assigns)
      await writeInto({ log, subject, kind: "assign", body: stated });
    return { digest };
  }
  return html`<p class="notice">Needs the server: it makes the sheets.</p><${PositionForm} position=${position} kit=${definition().kit} set=${setPosition} />
    <button type="button" class="act main" disabled=${stop} onClick=${() => keep(body)}>Add position ${position.id}</button>`;
}

/** @param {FormProps} props */
function MoveEnd({ keep, stop }) {
  const [ends, setEnds] = useState(definition().ends);
  return html`<section class="card"><${Field} label="The show ends" name="ends" type="date" value=${ends} set=${setEnds} />
    <button type="button" class="act main" disabled=${stop || !ends || ends === definition().ends} onClick=${() => keep(() => ({ ends }))}>Move the end to ${ends}</button></section>`;
}

export const AmendScreen = withShow(Amend, "Amend");
