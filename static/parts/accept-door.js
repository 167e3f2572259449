import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { write } from "../logbook/book.js";
import { keepFile } from "../logbook/files.js";
import { Trouble } from "./page.js";
import { preview, TakePhoto } from "./photo.js";
import { Field, Several } from "./pick.js";
import { sentence } from "./server.js";
import { Van } from "./van.js";

/** @typedef {import("./shapes.js").Definition} Definition */
/** @typedef {import("./shapes.js").Locker} Locker */

/** Every side of every vehicle, with what was accepted at each door. @param {{ definition: Definition, report: any, href: (id: string) => string }} props */
export function AcceptDoors({ definition, report, href }) {
  const said = (/** @type {string} */ id) =>
    report.accepted.filter((/** @type {any} */ one) => one.body.locker === id);
  const sides = definition.vehicles.flatMap((vehicle) =>
    /** @type {const} */ (["left", "right", "rear"]).map((side) => ({
      vehicle,
      side,
      lockers: definition.lockers.filter((one) => one.vehicle === vehicle.id && one.side === side),
    })),
  );
  return html`<div class="walls">${sides
    .filter(({ lockers }) => lockers.length > 0)
    .map(
      ({
        vehicle,
        side,
        lockers,
      }) => html`<section key=${vehicle.id + side}><h2>${vehicle.name}, ${side} side</h2>
      <${Van} name=${vehicle.name} drawn=${vehicle.drawn} side=${side} doors=${lockers.map((locker) => doorOf(locker, said(locker.id), href(locker.id)))} /></section>`,
    )}</div>`;
}

/** @param {Locker} locker @param {any[]} said @param {string} href @returns {import("./van.js").Door} */
function doorOf(locker, said, href) {
  const exceptions = said.flatMap(({ body }) => body.exceptions ?? []);
  if (said.length === 0) return { locker, href, count: "to see", mark: "none", words: "not looked at yet" };
  const count = exceptions.length === 0 ? "as said" : `${exceptions.length} not`;
  return {
    locker,
    href,
    count,
    mark: exceptions.length === 0 ? "shut" : "short",
    words: exceptions.length === 0 ? "as the report says" : "otherwise than the report says",
  };
}

/**
 * One door: as the report says, in one touch; otherwise, with what and a photo.
 * @param {{ locker: Locker, report: any, log: string, pdf?: string, done: (name: string) => void }} props
 */
export function AcceptDoor({ locker, report, log, pdf, done }) {
  const [otherwise, setOtherwise] = useState(false);
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const missing = [...report.missing, ...report.astray, ...report.away]
    .filter((/** @type {any} */ row) => row.locker === locker.id)
    .map((/** @type {any} */ row) => row.tag);
  const flagged = [...report.unserviceable, ...report.suspect, ...report.overdue]
    .map(({ tag }) => tag)
    .filter((tag) => locker.holds.some((held) => held.tag === tag));
  async function keep(
    /** @type {"as the report says" | "otherwise"} */ seen,
    /** @type {object[]} */ exceptions,
  ) {
    try {
      const name = await write({
        log,
        subject: `locker/${locker.id}/accept`,
        kind: "accept",
        body: { locker: locker.id, seen, exceptions, ...(pdf ? { report: pdf } : {}) },
      });
      done(name);
    } catch (error) {
      setTrouble(sentence(error));
    }
  }
  return html`<h2>${locker.id}, ${locker.name}</h2>
    <section class="list" aria-labelledby="says"><h3 id="says">The report says</h3>
      ${missing.length > 0 && html`<p><strong class="alarm">Not in it:</strong> ${missing.join(", ")}</p>`}
      ${flagged.length > 0 && html`<p><strong>Tagged:</strong> ${flagged.join(", ")}</p>`}
      <ul>${locker.holds.filter(({ tag }) => !missing.includes(tag)).map(({ tag, number }) => html`<li key=${tag}><strong>${tag}</strong>${number === "1" ? "" : ` × ${number}`}</li>`)}</ul></section>
    <div class="list"><button type="button" class="act main" onClick=${() => keep("as the report says", [])}>As the report says</button>
      <button type="button" class="act" aria-expanded=${otherwise} onClick=${() => setOtherwise(true)}>Otherwise</button></div>
    ${otherwise && html`<${Exceptions} locker=${locker} keep=${(/** @type {object[]} */ exceptions) => keep("otherwise", exceptions)} />`}
    <${Trouble} words=${trouble} />`;
}

/** @param {{ locker: Locker, keep: (exceptions: object[]) => void }} props */
function Exceptions({ locker, keep }) {
  const [tags, setTags] = useState(/** @type {string[]} */ ([]));
  const [texts, setTexts] = useState(/** @type {Record<string, string>} */ ({}));
  const [photo, setPhoto] = useState(/** @type {{ file: string, url: string } | null} */ (null));
  const ready = tags.length > 0 && tags.every((tag) => texts[tag]?.trim());
  async function taken(/** @type {File} */ file) {
    setPhoto({ file: await keepFile(await file.arrayBuffer(), file.type), url: await preview(file) });
  }
  return html`<section class="card"><${Several} legend="What is otherwise?" options=${[...locker.holds.map(({ tag }) => ({ id: tag, label: tag })), { id: locker.id, label: "the locker itself" }]} values=${tags} set=${setTags} />
    ${tags.map((tag) => html`<${Field} key=${tag} label=${`${tag}: what was seen`} name=${`seen-${tag}`} value=${texts[tag] ?? ""} set=${(/** @type {string} */ text) => setTexts({ ...texts, [tag]: text })} />`)}
    ${photo && html`<img class="photo" src=${photo.url} alt="The photo just taken" />`}
    <${TakePhoto} words=${photo ? "Take the photo again" : "Add a photo"} taken=${taken} />
    <button type="button" class="act main" disabled=${!ready} onClick=${() => keep(tags.map((tag) => ({ tag, text: texts[tag]?.trim(), ...(photo ? { photo: photo.file } : {}) })))}>Accept with ${tags.length || "no"} ${tags.length === 1 ? "exception" : "exceptions"}</button></section>`;
}
