import { html } from "htm/preact";
import { useEffect, useState } from "preact/hooks";
import { book, openShow, syncNow, write } from "../logbook/book.js";
import { withRoles } from "../parts/add-to-show.js";
import { Page, Trouble } from "../parts/page.js";
import { Field, Several } from "../parts/pick.js";
import { emptyPosition, PositionForm } from "../parts/position-form.js";
import { get, post, sentence } from "../parts/server.js";

/** @typedef {import("../parts/shapes.js").Person} Person */

/** A show, made by the chief: where, when, who, and each position with its chain. Needs the server. */
export function MakeShowScreen() {
  const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;
  const [plan, setPlan] = useState({ title: "", site: "", zone, starts: "", ends: "" });
  const [kit, setKit] = useState(/** @type {import("../parts/shapes.js").Kit[]} */ ([]));
  const [crew, setCrew] = useState(/** @type {Person[]} */ ([]));
  const [left, setLeft] = useState(/** @type {string[]} */ ([]));
  const [positions, setPositions] = useState([emptyPosition("1")]);
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const chief = book.writer.value?.roles.includes("chief") === true;
  useEffect(() => {
    if (chief)
      ask().catch((error) => setTrouble(`${sentence(error)} A show is made with the server in reach.`));
  }, [chief]);
  if (!chief)
    return html`<${Page} title="Make a show" needsShow=${false}><p>For the chief. ${book.writer.value?.name} is writing.</p></${Page}>`;

  async function ask() {
    const [unit, { people }] = await Promise.all([get("/api/unit"), get("/api/crew")]);
    setKit(unit.kit);
    setCrew(
      /** @type {Person[]} */ (people.map(withRoles)).filter(
        ({ roles }) => roles.length > 0 && !roles.includes("server"),
      ),
    );
  }
  async function make() {
    setTrouble(null);
    try {
      const people = crew.filter(({ person }) => !left.includes(person));
      const { log, show, assigns } = await post("/api/shows", { plan: { ...plan, people, positions } });
      await write({ log, subject: "show", kind: "show", body: show });
      for (const { subject, body } of assigns) await write({ log, subject, kind: "assign", body });
      await syncNow(); // may be a run that began before the show was written
      if (!(await openShow(log))) await syncNow().then(() => openShow(log));
      location.hash = "#/";
    } catch (error) {
      setTrouble(sentence(error));
    }
  }
  const set = (/** @type {string} */ name) => (/** @type {string} */ text) =>
    setPlan({ ...plan, [name]: text });
  const coming = crew.map(({ person }) => person).filter((person) => !left.includes(person));
  return html`<${Page} title="Make a show" needsShow=${false}>
    <section class="card"><${Field} label="Show" name="title" value=${plan.title} set=${set("title")} /><${Field} label="Site" name="site" value=${plan.site} set=${set("site")} />
      <div class="field-row"><${Field} label="Starts" name="starts" type="date" value=${plan.starts} set=${set("starts")} /><${Field} label="Ends" name="ends" type="date" value=${plan.ends} set=${set("ends")} /></div>
      <${Field} label="Time zone" name="zone" value=${plan.zone} set=${set("zone")} /></section>
    <${Several} legend="Who" options=${crew.map(({ person, name }) => ({ id: person, label: name }))} values=${coming}
      set=${(/** @type {string[]} */ picked) => setLeft(crew.map(({ person }) => person).filter((person) => !picked.includes(person)))} />
    ${positions.map((position, index) => html`<${PositionForm} key=${position.id} position=${position} kit=${kit} set=${(/** @type {any} */ changed) => setPositions(positions.with(index, changed))} />`)}
    <div class="pair"><button type="button" class="act" onClick=${() => setPositions([...positions, emptyPosition(String(positions.length + 1))])}>One more position</button>
      ${positions.length > 1 && html`<button type="button" class="act" onClick=${() => setPositions(positions.slice(0, -1))}>One position less</button>`}</div>
    <button type="button" class="act main" onClick=${make}>Make this show</button>
    <${Trouble} words=${trouble} />
  </${Page}>`;
}
