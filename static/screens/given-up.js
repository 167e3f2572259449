import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { Page, Trouble, withShow } from "../parts/page.js";
import { Field, Options } from "../parts/pick.js";
import { byWhom } from "../parts/say.js";
import { positionView, write } from "../parts/show.js";
import { Speaker } from "../parts/speaker.js";

const ways = [
  { id: "out", label: "Out", more: "no picture from this position" },
  { id: "picture only", label: "Picture only", more: "no zoom, focus or control from the truck" },
  { id: "no talkback", label: "No talkback", more: "picture, but nobody can be told" },
  { id: "restored", label: "Restored", more: "all of it works again" },
];

/** A position given up, and who was told. @param {{ rest: string }} props */
function GiveUp({ rest }) {
  const [choice, setChoice] = useState(/** @type {string | null} */ (null));
  const [who, setWho] = useState("");
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const now = positionView(rest).given_up;
  async function keep() {
    try {
      await write({
        subject: `position/${rest}/given-up`,
        kind: "choice",
        body: { choice, told: { who: who.trim() } },
      });
      location.hash = `#/position/${rest}`;
    } catch (error) {
      setTrouble(error instanceof Error ? error.message : String(error));
    }
  }
  return html`<${Page} title=${`Position ${rest}`} back=${`#/position/${rest}`} backWord="The position">
    <h2>Given up, or back again</h2>
    ${now && html`<p class="slip"><strong>${now.body.choice}</strong><br /><span class="small soft">${byWhom(now)}${now.body.told?.who && `, told: ${now.body.told.who}`}</span></p>`}
    <${Speaker} open />
    <${Options} legend="What is left of it?" name="given-up" options=${ways} value=${choice} pick=${setChoice} />
    <${Field} label="Who in the truck was told" name="told" value=${who} set=${setWho} />
    <button type="button" class="act main" disabled=${!choice || !who.trim()} onClick=${keep}>${choice ? `Write it: ${choice}` : "Say what is left of it"}</button>
    <${Trouble} words=${trouble} />
  </${Page}>`;
}

export const GivenUpScreen = withShow(GiveUp, "Given up");
