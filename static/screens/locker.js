import { html } from "htm/preact";
import { listDifferences } from "../kit/changing.js";
import { Differences } from "../parts/change.js";
import { overdue } from "../parts/door.js";
import { Page, withShow } from "../parts/page.js";
import { byWhom, placeWord, states } from "../parts/say.js";
import { allSheets, definition, kitName, lockersNow, lockerView, mayDo } from "../parts/show.js";
import { SheetSlip } from "./positions.js";

/** One locker: its sheets, what belongs in it, what is in it and does not. @param {{ rest: string }} props */
function OneLocker({ rest }) {
  const locker = definition().lockers.find(({ id }) => id === rest);
  if (!locker) return html`<${Page} title="No such locker"><p>This unit has no locker ${rest}.</p></${Page}>`;
  const view = lockerView(rest);
  const next = lockersNow().find(({ id }) => id === rest)?.holds ?? [];
  const differing = listDifferences(locker.holds, next);
  return html`<${Page} title=${`Locker ${rest}`} back="#/van/pack" backWord="Vehicles">
    <h2>${locker.name}</h2>
    ${allSheets()
      .filter(({ id }) => id.startsWith(`locker/${rest}/`))
      .map(({ id }) => html`<${SheetSlip} key=${id} id=${id} />`)}
    <section class="list" aria-labelledby="holds"><h2 id="holds">Belongs in it: ${view.holds.length}</h2>
      ${view.holds.map(
        ({
          tag,
          number,
          state,
          place,
        }) => html`<a class="slip" key=${tag} href=${`#/k/${tag}`}><strong>${kitName(tag)}</strong>${number !== "1" && ` × ${number}`}
          ${state && html`<br />${state}`}${overdue(tag) && html`<br /><strong class="alarm">Overdue, ${overdue(tag)}</strong>`}
          ${place && html`<br /><span class="small soft">at ${placeWord(place.body.where)}, ${byWhom(place)}</span>`}</a>`,
      )}</section>
    ${differing.length > 0 && html`<section class="slip" aria-labelledby="next"><h2 id="next">From the next show on</h2><${Differences} differences=${differing} none="" say=${kitName} /></section>`}
    ${
      view.strangers.length > 0 &&
      html`<section class="list"><h2>In it, belongs elsewhere</h2>${view.strangers.map(
        ({ tag, home }) =>
          html`<a class="slip" key=${tag} href=${`#/k/${tag}`}><strong>${kitName(tag)}</strong><br />belongs in ${home}</a>`,
      )}</section>`
    }
    ${view.events.map((event) => html`<p class="slip" key=${event.name}><strong>${states(event)}</strong><br /><span class="small soft">${byWhom(event)}</span></p>`)}
    ${mayDo(["chief"], true) && html`<a class="act" href=${`#/change-list/${rest}`}>Change the list of ${rest}</a>`}
    <div class="pair"><a class="act" href=${`#/event/locker/${rest}`}>Something happened</a><a class="act" href=${`#/fault/locker/${rest}`}>Raise a fault</a></div>
  </${Page}>`;
}

export const LockerScreen = withShow(OneLocker, "Locker");
