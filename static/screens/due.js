import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { falling } from "../kit/falling.js";
import { pieceOf } from "../kit/pieces.js";
import { Page, Trouble, withShow } from "../parts/page.js";
import { Options } from "../parts/pick.js";
import { post, sentence } from "../parts/server.js";
import { definition, kitNow, kitOf, mayDo } from "../parts/show.js";

/** @typedef {ReturnType<typeof falling>} Falling */

const SPANS = [
  { id: "8", label: "8 weeks" },
  { id: "26", label: "26 weeks" },
];

/** What falls due, week by week, from what this phone holds. */
function FallsDue() {
  const [weeks, setWeeks] = useState("8");
  const today = new Date().toISOString().slice(0, 10);
  const { starts } = definition();
  const isAhead = starts > today;
  const from = isAhead ? starts : today;
  const told = falling(kitNow().map(pieceOf), from, Number(weeks));
  return html`<${Page} title="Falls due" back="#/van/pack" backWord="Vehicles" wall>
    <p>From ${isAhead ? `the show's first day, ${from},` : `today, ${from},`} to ${told.until}. A thing is in date on its day.</p>
    <${Options} legend="How far ahead?" name="weeks" two options=${SPANS} value=${weeks} pick=${setWeeks} />
    ${told.overdue.length > 0 && html`<section class="list" aria-labelledby="overdue"><h2 id="overdue">Overdue: ${told.overdue.length}</h2><${Things} due=${told.overdue} late /></section>`}
    ${told.weeks.length === 0 && html`<p>Nothing falls due in these weeks.</p>`}
    <div class="walls">${told.weeks.map(({ starts: monday, due }) => html`<section class="list" key=${monday} aria-label=${`Week of ${monday}`}><h2>Week of ${monday}</h2><${Things} due=${due} /></section>`)}</div>
    ${mayDo(["chief"], true) && html`<${Calendar} />`}
  </${Page}>`;
}

/** @param {{ due: Falling["overdue"], late?: boolean }} props */
function Things({ due, late = false }) {
  return html`${due.map(({ piece, due: day }) => {
    const home = kitOf(piece.tag)?.home;
    return html`<a class="slip" key=${piece.tag} href=${`#/k/${piece.tag}`}><strong>${piece.tag}, ${piece.name}</strong>${home ? ` in ${home}` : ""}<br />
      <span class=${late ? "alarm" : ""}>${piece.interval?.of ?? "due"} by ${day}</span>${piece.interval && html`<br /><span class="small soft">${piece.interval.rule}</span>`}</a>`;
  })}`;
}

/** The private address under which a calendar program reads the same. */
function Calendar() {
  const [address, setAddress] = useState("");
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  async function renew() {
    setTrouble(null);
    try {
      setAddress((await post("/api/kit/calendar", {})).address);
    } catch (error) {
      setTrouble(`${sentence(error)} The address is made with the server in reach.`);
    }
  }
  return html`<section class="card" aria-labelledby="calendar"><h2 id="calendar">In a calendar</h2>
    <p>A private address gives this to any program that reads iCalendar. Whoever has the address reads what the unit owns; a new one puts the old out of use.</p>
    ${address && html`<p class="code" role="status">${address}</p><p>It is told this once: keep it now.</p>`}
    <button type="button" class="act" onClick=${renew}>Make a new address</button>
    <${Trouble} words=${trouble} /></section>`;
}

export const DueScreen = withShow(FallsDue, "Falls due");
