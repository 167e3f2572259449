import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { isLifting, pieceOf } from "../kit/pieces.js";
import { hoistStops, liftStops } from "../kit/register.js";
import { backFrom, Page, Trouble, withShow } from "../parts/page.js";
import { roleWords } from "../parts/say.js";
import { sentence } from "../parts/server.js";
import { current, definition, kitName, mayDo, positionView, write } from "../parts/show.js";

const LIFT_LEADER = ["lift-leader"];

/** The gear of a position's lifts, chosen from what is marked, in date and not failed. @param {{ rest: string }} props */
function ChooseGear({ rest }) {
  const { gear } = positionView(rest);
  const chosen = gear.tags ?? [];
  const [tags, setTags] = useState(chosen);
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const { ends, kit } = definition();
  const pieces = kit.filter(isLifting).map((item) => {
    const piece = pieceOf(item);
    return { item, piece, stops: liftStops(piece, ends), waits: hoistStops(piece, ends, current().log) };
  });
  const may = mayDo(LIFT_LEADER, true);
  const turn = (/** @type {string} */ tag) =>
    setTags(tags.includes(tag) ? tags.filter((one) => one !== tag) : [...tags, tag]);
  const used = pieces.filter(({ item }) => tags.includes(item.tag));
  const weakest = [...used].sort((a, b) => Number(a.piece.about.wll_kg) - Number(b.piece.about.wll_kg))[0];
  const barred = used.some(({ stops }) => stops.length > 0);
  async function keep() {
    setTrouble(null);
    const address = location.hash;
    try {
      await write({ subject: `position/${rest}/chain/gear`, kind: "assign", body: { tags }, own: true });
      backFrom(address);
    } catch (error) {
      setTrouble(sentence(error));
    }
  }
  return html`<${Page} title=${`Gear ${rest}`} back=${`#/position/${rest}`} backWord="The position">
    <p class="caution"><strong>Caution.</strong> The mark on each piece governs, for its configuration. A competent person chooses. Local rules come first.</p>
    ${weakest && html`<p>Least mark among them: <strong>${weakest.piece.about.wll_kg} kg</strong>, ${kitName(weakest.item.tag)}, ${weakest.piece.about.configuration ?? "no configuration written"}. What each takes is figured on the plan.</p>`}
    <fieldset class="list"><legend>Gear of this position's lifts</legend>${pieces.map(
      ({ item, piece, stops, waits }) => html`<label class="option" key=${item.tag}>
        <input type="checkbox" checked=${tags.includes(item.tag)} disabled=${!may || (stops.length > 0 && !tags.includes(item.tag))} onChange=${() => turn(item.tag)} />
        <span><strong>${kitName(item.tag)}</strong><br />${piece.about.wll_kg ? `${piece.about.wll_kg} kg` : "no mark"}
          ${stops.map(({ says }) => html`<br /><strong class="alarm">${says}</strong>`)}
          ${stops.length === 0 && waits.map(({ says }) => html`<br /><span class="small">${says}</span>`)}</span></label>`,
    )}</fieldset>
    ${!may && html`<p>For ${roleWords(LIFT_LEADER)}.</p>`}
    ${barred && html`<p><strong class="alarm">Take out what may not be lifted with.</strong></p>`}
    <button type="button" class="act main" disabled=${!may || barred || tags.join() === chosen.join()} onClick=${keep}>Write this gear: ${tags.length} ${tags.length === 1 ? "piece" : "pieces"}</button>
    <${Trouble} words=${trouble} />
    <a class="act" href="#/register">The lifting register</a>
  </${Page}>`;
}

export const GearScreen = withShow(ChooseGear, "Gear");
