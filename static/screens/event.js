import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { backFrom, Page, Trouble, withShow } from "../parts/page.js";
import { Field, Options } from "../parts/pick.js";
import { allSheets, definition, sheetView, write } from "../parts/show.js";
import { Speaker } from "../parts/speaker.js";

/** Something happened: where, what, and what it ends, shown before it is written. @param {{ rest: string }} props */
function Happened({ rest }) {
  const [where, setWhere] = useState(rest || "show");
  const [event, setEvent] = useState(/** @type {string | null} */ (null));
  const [text, setText] = useState("");
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const ended = event ? endedBy(event, where) : [];
  async function keep() {
    const address = location.hash;
    try {
      await write({
        subject: where,
        kind: "event",
        body: { event, ...(text.trim() ? { text: text.trim() } : {}) },
      });
      backFrom(address);
    } catch (error) {
      setTrouble(error instanceof Error ? error.message : String(error));
    }
  }
  const options = definition().events.map(({ id, label, ends }) => ({ id, label, more: ends }));
  return html`<${Page} title="Happened">
    <${Speaker} open />
    <div class="field"><label for="where">Where</label>
      <select id="where" value=${where} onChange=${(/** @type {any} */ change) => setWhere(change.currentTarget.value)}>
        ${places(rest).map(({ id, label }) => html`<option key=${id} value=${id}>${label}</option>`)}</select></div>
    <${Options} legend="What happened?" name="event" wide options=${options} value=${event} pick=${setEvent} />
    ${
      event &&
      html`<section class="card" role="status"><h2>${ended.length === 0 ? "Ends nothing that is done" : `To be looked at again: ${ended.length}`}</h2>
        <ul>${ended.map(({ subject, words }) => html`<li key=${subject}>${words}</li>`)}</ul>
        <${Field} label="More, if it helps" name="event-text" value=${text} set=${setText} />
        <button type="button" class="act main" onClick=${keep}>Write it: ${options.find(({ id }) => id === event)?.label}</button></section>`
    }
    <${Trouble} words=${trouble} />
  </${Page}>`;
}

/** @param {string} rest */
function places(rest) {
  const { positions, vehicles, lockers } = definition();
  const known = [
    { id: "show", label: "The whole show" },
    ...positions.map(({ id, name }) => ({ id: `position/${id}`, label: `Position ${id}, ${name}` })),
    ...positions.map(({ id }) => ({ id: `run/${id}`, label: `Run ${id}` })),
    ...vehicles.map(({ id, name }) => ({ id: `vehicle/${id}`, label: name })),
    ...lockers.map(({ id, name }) => ({ id: `locker/${id}`, label: `Locker ${id}, ${name}` })),
  ];
  return rest === "" || known.some(({ id }) => id === rest) ? known : [{ id: rest, label: rest }, ...known];
}

/** What is done at or below that place, and is ended by the event. @param {string} event @param {string} where */
function endedBy(event, where) {
  const below = (/** @type {string} */ subject) =>
    where === "show" || subject === where || subject.startsWith(`${where}/`);
  return allSheets().flatMap((sheet) => {
    const steps = sheet.steps.filter((step) => step.ended_by.includes(event) && below(step.subject));
    if (steps.length === 0) return [];
    const views = sheetView(sheet.id).steps;
    return steps
      .filter(({ subject }) => views.some((view) => view.subject === subject && view.done && !view.ended))
      .map((step) => ({ subject: step.subject, words: `${step.do} (${sheet.title})` }));
  });
}

export const EventScreen = withShow(Happened, "Happened");
