import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { book, openShow, syncNow, write } from "../logbook/book.js";
import { Page, Trouble } from "../parts/page.js";
import { Field, Several } from "../parts/pick.js";
import { emptyPosition, PositionForm } from "../parts/position-form.js";
import { post, sentence } from "../parts/server.js";

/** A show, made by the chief: where, when, who, and each position with its chain. */
export function MakeShowScreen() {
  const before = book.show.value?.definition ?? book.shows.value[0] ?? null;
  const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;
  const [plan, setPlan] = useState({ title: "", site: "", zone, starts: "", ends: "" });
  const [who, setWho] = useState(
    /** @type {string[]} */ (before?.people.map((/** @type {any} */ one) => one.person) ?? []),
  );
  const [positions, setPositions] = useState([emptyPosition("1")]);
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  if (!book.writer.value?.roles.includes("chief")) {
    return html`<${Page} title="Make a show" needsShow=${false}><p>For the chief. ${book.writer.value?.name} is writing.</p></${Page}>`;
  }
  const kit = before?.kit ?? [];
  const people = (before?.people ?? []).filter((/** @type {any} */ one) => who.includes(one.person));
  const set = (/** @type {string} */ name) => (/** @type {string} */ text) =>
    setPlan({ ...plan, [name]: text });
  async function make() {
    setTrouble(null);
    try {
      const { log, digest } = await post("/api/shows", { ...plan, people, positions });
      await write({ log, subject: "show", kind: "show", body: { ...plan, digest } });
      for (const { id, chain } of positions) await assignAll(log, id, chain);
      await syncNow();
      await openShow(log);
      location.hash = "#/";
    } catch (error) {
      setTrouble(sentence(error));
    }
  }
  return html`<${Page} title="Make a show" needsShow=${false}>
    ${!before && html`<p class="notice">This phone holds no show of the unit yet, so kit and crew cannot be picked here. Ask the server for shows first.</p>`}
    <section class="card"><${Field} label="Show" name="title" value=${plan.title} set=${set("title")} /><${Field} label="Site" name="site" value=${plan.site} set=${set("site")} />
      <div class="field-row"><${Field} label="Starts" name="starts" type="date" value=${plan.starts} set=${set("starts")} /><${Field} label="Ends" name="ends" type="date" value=${plan.ends} set=${set("ends")} /></div>
      <${Field} label="Time zone" name="zone" value=${plan.zone} set=${set("zone")} /></section>
    <${Several} legend="Who" options=${(before?.people ?? []).map((/** @type {any} */ one) => ({ id: one.person, label: one.name }))} values=${who} set=${setWho} />
    ${positions.map((position, index) => html`<${PositionForm} key=${position.id} position=${position} kit=${kit} set=${(/** @type {any} */ changed) => setPositions(positions.with(index, changed))} />`)}
    <div class="pair"><button type="button" class="act" onClick=${() => setPositions([...positions, emptyPosition(String(positions.length + 1))])}>One more position</button>
      ${positions.length > 1 && html`<button type="button" class="act" onClick=${() => setPositions(positions.slice(0, -1))}>One position less</button>`}</div>
    <button type="button" class="act main" onClick=${make}>Make this show</button>
    <${Trouble} words=${trouble} />
  </${Page}>`;
}

/** @param {string} log @param {string} id @param {{ lens: string, body: string, run: string[], control: string }} chain */
async function assignAll(log, id, { run, ...links }) {
  for (const [slot, tag] of Object.entries(links))
    await write({ log, subject: `position/${id}/chain/${slot}`, kind: "assign", body: { tag } });
  await write({ log, subject: `position/${id}/chain/run`, kind: "assign", body: { tags: run } });
}
