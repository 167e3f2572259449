import { html } from "htm/preact";
import { useEffect } from "preact/hooks";
import { inputsOf, loadOf } from "../kit/loading.js";
import { Page, withShow } from "../parts/page.js";
import { definition } from "../parts/show.js";
import { useComputed } from "../trade/compute.js";
import { start } from "../trade/core.js";
import { Drawing, shown, Verdict } from "../trade/verdict.js";

/** @typedef {import("../kit/loading.js").Load} Load */

/** A vehicle with every locker filled as listed: its masses, axles, sides, and what taking a heavy thing out does. @param {{ rest: string }} props */
function LoadedVehicle({ rest }) {
  const load = loadOf(definition(), rest);
  if (!load) return html`<${Page} title="No such vehicle"><p>This show has no vehicle ${rest}.</p></${Page}>`;
  const vehicle = definition().vehicles.find(({ id }) => id === rest);
  return html`<${Page} title="Loading" back="#/van/pack" backWord="Vehicles">
    <h2>${vehicle?.name}</h2>
    <p>Every locker filled as it is listed, driver, fuel and water as the vehicle was weighed.</p>
    <${Masses} load=${load} />
    <${Untold} words=${load.untold} />
    <${Within} load=${load} />
  </${Page}>`;
}

/** @param {{ load: Load }} props */
function Masses({ load }) {
  const whole = load.lockers.reduce((sum, { mass_kg }) => sum + Number(mass_kg), 0);
  return html`<section class="card"><h3>What the lockers weigh</h3><dl class="facts figures">${load.lockers.map(
    ({ locker, mass_kg }) => html`<dt key=${locker}>${locker}, ${nameOf(locker)}</dt><dd>${mass_kg} kg</dd>`,
  )}<dt><strong>All of it</strong></dt><dd><strong>${Number(whole.toFixed(1))} kg</strong></dd></dl></section>`;
}

/** @param {string | undefined} locker */
const nameOf = (locker) => definition().lockers.find(({ id }) => id === locker)?.name ?? "";

/** @param {{ words: string[] }} props */
function Untold({ words }) {
  if (words.length === 0) return null;
  return html`<section class="card" aria-label="Not known"><p class="alarm"><strong>Not known, so nothing here is called within a limit:</strong></p>
    <ul class="list">${words.map((one) => html`<li key=${one}>${one}</li>`)}</ul></section>`;
}

/** @param {{ load: Load }} props */
function Within({ load }) {
  const input = inputsOf(load);
  const { computed, current } = useComputed("vehicle-load", input);
  useEffect(() => {
    start().catch(() => {}); // said in place of the verdict
  }, []);
  const { answer, problems, cannot } = computed;
  const told = answer && load.untold.length > 0 ? withheld(answer) : answer;
  return html`<section class="card" role="status" aria-label="Verdict" aria-busy=${!current}>
    ${told && html`<${Verdict} answer=${withoutNumbered(told)} /><${Drawing} name="vehicle-load" input=${input} /><${ComesOut} load=${load} figures=${told.figures} />`}
    ${problems.map(({ field, sentence }) => html`<p class="alarm" key=${field}>${field}: ${sentence}</p>`)}
    ${cannot && html`<p class="verdict">No verdict here</p><p>${cannot} The masses above are the lists' own; hold the vehicle's weighed axles against its plate.</p>`}
    ${!told && !cannot && problems.length === 0 && html`<p>The arithmetic is starting on this phone.</p>`}
  </section>`;
}

/** The axles once one heavy thing is out, the rest aboard. @param {{ load: Load, figures: import("../trade/core.js").Answer["figures"] }} props */
function ComesOut({ load, figures }) {
  if (load.things.length === 0) return null;
  const axle = (/** @type {string} */ name) => `${shown(Number(figures[name]?.value))} kg`;
  return html`<h3>With one thing out, all else aboard</h3><dl class="facts figures">${load.things.map(
    ({ tag, mass_kg }, index) =>
      html`<dt key=${tag}>${tag}, ${mass_kg} kg</dt><dd>front ${axle(`without_${index + 1}_front_kg`)}, rear ${axle(`without_${index + 1}_rear_kg`)}</dd>`,
  )}</dl>`;
}

/** The figures of single things stand by their tags instead. @param {import("../trade/core.js").Answer} answer */
function withoutNumbered(answer) {
  const figures = Object.entries(answer.figures).filter(([name]) => !/^(without|hold)_\d/.test(name));
  return { ...answer, figures: Object.fromEntries(figures) };
}

/** What would be within cannot be told while something is unknown; beyond stays beyond. @param {import("../trade/core.js").Answer} answer */
const withheld = (answer) =>
  answer.verdict === "within limits" ? { ...answer, verdict: "cannot tell" } : answer;

export const LoadingScreen = withShow(LoadedVehicle, "Loading");
