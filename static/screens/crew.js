import { html } from "htm/preact";
import { useEffect, useState } from "preact/hooks";
import { book } from "../logbook/book.js";
import { Page, Trouble, withShow } from "../parts/page.js";
import { Field, Options, Several } from "../parts/pick.js";
import { roleWord } from "../parts/say.js";
import { get, post, sentence } from "../parts/server.js";
import { current, devicesView, write } from "../parts/show.js";

const roles = ["rigger", "camera", "engineer", "sound", "driver", "lift-leader", "chief"].map((id) => ({
  id,
  label: roleWord(id),
}));

/** @typedef {{ person: string, name: string, devices: { kid: string, roles: string[], revoked: boolean }[] }} Person */
/** @typedef {{ code: string, link: string, qr: string, person: string, name: string, roles: string[] }} Invitation */

/** Who is in the crew, their phones, and invitations; for the chief. */
function Crew() {
  const [crew, setCrew] = useState(
    /** @type {{ people: Person[], invitations: Invitation[] } | null} */ (null),
  );
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const ask = () =>
    get("/api/crew").then(setCrew, (error) => setTrouble(`${sentence(error)} Inviting needs the server.`));
  useEffect(() => {
    ask();
  }, []);
  if (!book.writer.value?.roles.includes("chief")) {
    return html`<${Page} title="Crew"><p>For the chief. ${book.writer.value?.name} is writing.</p></${Page}>`;
  }
  return html`<${Page} title="Crew">
    <${Invite} people=${crew?.people ?? []} made=${ask} />
    ${crew && crew.invitations.length > 0 && html`<section class="list"><h2>Not yet used: ${crew.invitations.length}</h2>${crew.invitations.map((one) => html`<${Open} key=${one.code} invitation=${one} />`)}</section>`}
    <section class="list"><h2>Phones</h2>${(crew?.people ?? []).map(
      (person) => html`<div class="card" key=${person.person}><h3>${person.name}</h3>
      ${person.devices.length === 0 && html`<p class="soft">No phone yet.</p>`}
      ${person.devices.map((device) => html`<${Device} key=${device.kid} device=${device} />`)}</div>`,
    )}</section>
    <${Trouble} words=${trouble} />
  </${Page}>`;
}

/** @param {{ people: Person[], made: () => void }} props */
function Invite({ people, made }) {
  const [name, setName] = useState("");
  const [picked, setPicked] = useState(/** @type {string[]} */ ([]));
  const [person, setPerson] = useState("");
  const [fresh, setFresh] = useState(/** @type {Invitation | null} */ (null));
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  async function invite() {
    setTrouble(null);
    try {
      setFresh(
        await post("/api/invitations", { name: name.trim(), roles: picked, ...(person ? { person } : {}) }),
      );
      setName("");
      setPicked([]);
      made();
    } catch (error) {
      setTrouble(sentence(error));
    }
  }
  return html`<section class="card"><h2>Invite</h2>
    <${Field} label="Name" name="invite-name" value=${name} set=${setName} />
    <${Several} legend="Roles" options=${roles} values=${picked} set=${setPicked} />
    <div class="field"><label for="known">Another phone of somebody known</label><select id="known" value=${person} onChange=${(
      /** @type {any} */ event,
    ) => {
      setPerson(event.currentTarget.value);
      setName(people.find((one) => one.person === event.currentTarget.value)?.name ?? name);
    }}><option value="">No, somebody new</option>${people.map((one) => html`<option key=${one.person} value=${one.person}>${one.name}</option>`)}</select></div>
    <button type="button" class="act main" disabled=${!name.trim() || picked.length === 0} onClick=${invite}>Make an invitation</button>
    <${Trouble} words=${trouble} />
    ${fresh && html`<${Open} invitation=${fresh} shown />`}</section>`;
}

/** An invitation: the code to type, the link, the picture to point a phone at. @param {{ invitation: Invitation, shown?: boolean }} props */
function Open({ invitation, shown = false }) {
  const [picture, setPicture] = useState(shown);
  const [url, setUrl] = useState("");
  useEffect(() => {
    const made = URL.createObjectURL(new Blob([invitation.qr], { type: "image/svg+xml" }));
    setUrl(made);
    return () => URL.revokeObjectURL(made);
  }, [invitation.qr]);
  return html`<div class="slip list"><strong>${invitation.name}</strong><span>${invitation.roles.map(roleWord).join(", ")}</span>
    <p class="code">${invitation.code}</p>
    ${picture && url ? html`<img class="qr" src=${url} alt=${`QR code of ${invitation.name}'s invitation`} /><p class="small">${invitation.link}</p>` : html`<button type="button" class="act" onClick=${() => setPicture(true)}>Show the QR code</button>`}</div>`;
}

/** @param {{ device: { kid: string, roles: string[], revoked: boolean } }} props */
function Device({ device }) {
  const [how, setHow] = useState(/** @type {string | null} */ (null));
  const tip = devicesView()[device.kid]?.tips.at(-1) ?? null;
  const own = device.kid === book.writer.value?.kid;
  const server = device.roles.includes("server"); // no revocation acts on it
  const revoked =
    device.revoked ||
    [...current().fold.held.ofKind("revoke")].some((entry) => entry.body.device === device.kid);
  async function act() {
    if (how === "admit")
      await write({ subject: "crew", kind: "admit", body: { device: device.kid, head: tip }, own: true });
    else
      await write({
        subject: "crew",
        kind: "revoke",
        body: { device: device.kid, head: how === "keep" ? tip : null },
        own: true,
      });
    setHow(null);
  }
  const options = revoked
    ? [{ id: "admit", label: "Admit what it wrote up to now" }]
    : [
        { id: "keep", label: "Revoke: what is here from it stands", more: "lost or left the crew" },
        { id: "none", label: "Revoke: none of it stands", more: "it was never theirs" },
      ];
  return html`<div class="slip list"><span><strong>${device.kid.slice(0, 10)}</strong>, ${device.roles.map(roleWord).join(", ")}${own ? ", this phone" : ""}${revoked && html`<br /><strong class="alarm">Revoked</strong>`}</span>
    ${
      !own &&
      !server &&
      html`<${Options} legend="This phone" name=${`device-${device.kid}`} options=${options} value=${how} pick=${setHow} />
      ${how && html`<button type="button" class="act" disabled=${how !== "none" && tip === null} onClick=${act}>Write it</button>`}`
    }</div>`;
}

export const CrewScreen = withShow(Crew, "Crew");
