import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { countedShort, doorOf, doorsOpen, overdue } from "../parts/door.js";
import { Page, withShow } from "../parts/page.js";
import { placeWord, stageWord } from "../parts/say.js";
import { allSheets, definition, kitName, lockerView, mayDo, sheetOf, sheetView } from "../parts/show.js";
import { Van } from "../parts/van.js";

/** @typedef {"left" | "right" | "rear"} Side */

/** As many are drawn at once; of a longer convoy the rest stand by name until one is walked up to. */
const DRAWN_AT_ONCE = 3;

/** The vehicles as one faces them: the menu of a stage. @param {{ rest: string }} props */
function VanMenu({ rest }) {
  const stage = rest || "pack";
  const [first, walkTo] = useState(0);
  const { vehicles } = definition();
  const near = vehicles.slice(first, first + DRAWN_AT_ONCE);
  const far = vehicles
    .map((vehicle, index) => ({ vehicle, index }))
    .filter(({ vehicle }) => !near.includes(vehicle));
  return html`<${Page} title=${stageWord(stage)} wall>
    <div class="walls">${near.map(
      (vehicle) => html`<${Vehicle} key=${vehicle.id} vehicle=${vehicle} stage=${stage} />`,
    )}</div>
    ${far.length > 0 && html`<nav class="walls" aria-label="Further vehicles">${far.map(({ vehicle, index }) => html`<button type="button" class="act" key=${vehicle.id} onClick=${() => walkTo(index)}>Walk to ${vehicle.name}</button>`)}</nav>`}
    <${Elsewhere} stage=${stage} />
    <div class="walls"><a class="act" href="#/register">Lifting register</a><a class="act" href="#/reconcile">What is not back</a><a class="act" href="#/due">What falls due</a>
      ${mayDo(["chief"], true) && html`<a class="act" href="#/labels">Labels</a><a class="act" href="#/change">A new thing</a>`}</div>
  </${Page}>`;
}

/** @param {{ vehicle: { id: string, name: string, drawn: string }, stage: string }} props */
function Vehicle({ vehicle, stage }) {
  const lockers = definition().lockers.filter((locker) => locker.vehicle === vehicle.id);
  const sides = /** @type {Side[]} */ (
    ["left", "rear", "right"].filter((side) => lockers.some((one) => one.side === side))
  );
  const [turned, turn] = useState(0);
  const side = sides[turned % sides.length] ?? "left";
  const next = sides[(turned + 1) % sides.length] ?? "left";
  const doors = lockers.map((locker) => doorOf(locker, stage));
  const open = doorsOpen(doors, next);
  return html`<section class="list" aria-label=${vehicle.name}>
    <h2>${vehicle.name}, ${side} side</h2>
    <${Van} name=${vehicle.name} drawn=${vehicle.drawn} side=${side} doors=${doors.filter((door) => door.locker.side === side)} />
    ${sides.length > 1 && html`<button type="button" class="act" onClick=${() => turn(turned + 1)}>Walk round: ${next} side, ${open} ${open === 1 ? "door" : "doors"} open</button>`}
    <${VehicleSheet} id=${`vehicle/${vehicle.id}/${stage}`} />
    ${(stage === "pack" || stage === "stow") && html`<a class="act" href=${`#/loading/${vehicle.id}`}>Loading: ${vehicle.name}</a>`}
    ${stage === "travel" && html`<a class="act" href=${`#/tags/${vehicle.id}`}>Door tags: ${vehicle.name}</a><a class="act" href=${`#/event/vehicle/${vehicle.id}`}>Hard stop, knock: ${vehicle.name}</a>`}
    ${lockers.map((locker) => html`<${Slips} key=${locker.id} id=${locker.id} stage=${stage} />`)}
  </section>`;
}

/** @param {{ id: string }} props */
function VehicleSheet({ id }) {
  if (!sheetOf(id)) return null;
  const view = sheetView(id);
  return html`<a class="slip" href=${`#/sheet/${id}`}><strong>${view.title}</strong><br />${view.done} of ${view.total} done</a>`;
}

/** What is wrong at a locker, in words: short, strangers, what is out of order. @param {{ id: string, stage: string }} props */
function Slips({ id, stage }) {
  const view = lockerView(id);
  const door = html`<span class="stencil">${id}</span>`;
  const short = countedShort(id, stage);
  return html`${short.map((tag) => html`<a class="slip" href=${`#/k/${tag}`} key=${tag}><strong>${kitName(tag)}</strong> is not in ${door}${placeOf(tag, view)}</a>`)}
    ${view.strangers.map(({ tag, home }) => html`<a class="slip" href=${`#/k/${tag}`} key=${tag}><strong>${kitName(tag)}</strong> is in ${door}, belongs in <span class="stencil">${home}</span></a>`)}
    ${view.holds
      .filter(({ state }) => state !== null && state !== "serviceable")
      .map(
        ({ tag, state }) =>
          html`<a class="slip" href=${`#/k/${tag}`} key=${tag}><strong>${kitName(tag)}</strong>: ${state}</a>`,
      )}
    ${view.holds
      .filter(({ tag }) => overdue(tag))
      .map(
        ({ tag }) =>
          html`<a class="slip" href=${`#/k/${tag}`} key=${tag}><strong>${kitName(tag)}</strong>: overdue, ${overdue(tag)}</a>`,
      )}`;
}

/** @param {string} tag @param {import("../parts/shapes.js").LockerView} view */
function placeOf(tag, view) {
  const where = view.holds.find((held) => held.tag === tag)?.place?.body.where;
  return where ? html`<br />Last written at ${placeWord(where)}` : "";
}

/** Sheets of the stage that hang on no vehicle and no locker. @param {{ stage: string }} props */
function Elsewhere({ stage }) {
  const rest = allSheets().filter((sheet) => sheet.stage === stage && !/^(locker|vehicle)\//.test(sheet.id));
  if (rest.length === 0) return null;
  return html`<section class="list" aria-labelledby="elsewhere"><h2 id="elsewhere">Also at this stage</h2>
    <div class="walls">${rest.map((sheet) => {
      const view = sheetView(sheet.id);
      return html`<a class="slip" key=${sheet.id} href=${`#/sheet/${sheet.id}`}><strong>${sheet.title}</strong><br />${view.done} of ${view.total} done</a>`;
    })}</div></section>`;
}

export const VanScreen = withShow(VanMenu, "Vehicles");
