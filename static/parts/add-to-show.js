// What a chief adds to a show that runs: a thing of kit, somebody of the crew. Either travels as a file of its own.
import { html } from "htm/preact";
import { useEffect, useState } from "preact/hooks";
import { keepFile } from "../logbook/files.js";
import { Trouble } from "./page.js";
import { Field, Options } from "./pick.js";
import { Pick } from "./position-form.js";
import { roleWord } from "./say.js";
import { get, sentence } from "./server.js";
import { definition, kitOf } from "./show.js";

/** @typedef {{ keep: (body: () => Promise<object> | object) => void, stop: boolean }} FormProps */

const TAG = /^[A-Za-z0-9._-]{1,60}$/;

/** The body of an amend that adds to the show. @param {object} added */
async function adding(added) {
  const octets = new TextEncoder().encode(JSON.stringify(added));
  return { change: "add-sheets", digest: await keepFile(octets.buffer, "application/json") };
}

/** @param {FormProps} props */
export function AddKit({ keep, stop }) {
  const [tag, setTag] = useState("");
  const [name, setName] = useState("");
  const [type, setType] = useState("");
  const [home, setHome] = useState("");
  const types = [...new Set(definition().kit.map((item) => item.type))].sort();
  const known = kitOf(tag) !== undefined;
  function body() {
    const item = {
      tag,
      name: name.trim(),
      type,
      number: "1",
      mass_kg: null,
      home: home || null,
      dates: {},
      about: {},
    };
    return adding({ kit: [item] });
  }
  return html`<section class="card"><${Field} label="Tag, as on the thing" name="tag" value=${tag} set=${(/** @type {string} */ text) => setTag(text.trim())} />
    <${Field} label="What it is" name="kit-name" value=${name} set=${setName} />
    <${Pick} id="kit-type" label="Type" options=${types} value=${type} set=${setType} empty />
    <${Pick} id="kit-home" label="Locker it belongs in" options=${definition().lockers.map(({ id }) => id)} value=${home} set=${setHome} empty />
    ${known && html`<p>${tag} is in this show already.</p>`}
    <button type="button" class="act main" disabled=${stop || known || !TAG.test(tag) || !name.trim() || !type} onClick=${() => keep(body)}>Add this thing</button></section>`;
}

/** @param {FormProps} props */
export function AddPerson({ keep, stop }) {
  const [crew, setCrew] = useState(/** @type {import("./shapes.js").Person[]} */ ([]));
  const [person, setPerson] = useState(/** @type {string | null} */ (null));
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  useEffect(() => {
    get("/api/crew").then(
      ({ people }) => setCrew(people.map(withRoles)),
      (error) => setTrouble(`${sentence(error)} The crew's list needs the server.`),
    );
  }, []);
  const here = new Set(definition().people.map((one) => one.person));
  const others = crew.filter(({ person: id, roles }) => !here.has(id) && !roles.includes("server"));
  const picked = others.find((one) => one.person === person);
  return html`<section class="card">
    <${Options} legend="Who joins the show?" name="person" value=${person} pick=${setPerson}
      options=${others.map(({ person: id, name, roles }) => ({ id, label: name, more: roles.map(roleWord).join(", ") }))} />
    ${others.length === 0 && html`<p>Everybody who was invited is in this show. Invite whoever is new from Crew and devices first.</p>`}
    <button type="button" class="act main" disabled=${stop || !picked} onClick=${() => keep(() => adding({ people: [picked] }))}>Add to the show</button>
    <${Trouble} words=${trouble} /></section>`;
}

/** Somebody of the crew's list, with the roles on all their cards. @param {any} listed @returns {import("./shapes.js").Person} */
export function withRoles({ person, name, devices }) {
  const roles = devices.flatMap((/** @type {any} */ device) => device.roles);
  return { person, name, roles: [...new Set(roles)].sort() };
}
