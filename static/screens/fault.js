import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { Page, Trouble, withShow } from "../parts/page.js";
import { Field } from "../parts/pick.js";
import { subjectWords } from "../parts/say.js";
import { definition, kitName, kitOf, write } from "../parts/show.js";

const common = [
  "No picture",
  "Picture comes and goes",
  "No talkback",
  "Noise or hum",
  "Damaged",
  "Does not move freely",
  "Missing",
  "Wet inside",
];

/** A fault: the second touch writes it; words, the item and a photo can follow. @param {{ rest: string }} props */
function RaiseFault({ rest }) {
  const [text, setText] = useState("");
  const [written, setWritten] = useState(/** @type {string | null} */ (null));
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const [tag, setTag] = useState(rest.startsWith("kit/") ? (rest.split("/")[1] ?? "") : "");
  async function raise(/** @type {string} */ words) {
    try {
      await write({ subject: rest, kind: "fault", body: { text: words, ...(tag ? { about: tag } : {}) } });
      setWritten(words);
    } catch (error) {
      setTrouble(error instanceof Error ? error.message : String(error));
    }
  }
  const at = rest === "show" ? "The whole show" : subjectWords(rest);
  if (written) {
    return html`<${Page} title="Fault"><p role="status"><strong>Written: ${written}.</strong><br />${at}</p>
      <a class="act main" href=${`#/photo/${rest}`}>Add a photo</a>
      <a class="act" href=${`#/remark/${rest}`}>Write more about it</a>
      ${tag && kitOf(tag) && html`<a class="act" href=${`#/k/${tag}`}>Say in what state ${tag} is</a>`}
      <button type="button" class="act" onClick=${() => history.back()}>Back to work</button></${Page}>`;
  }
  return html`<${Page} title="Fault">
    <h2>${at}</h2>
    <div class="options two">${common.map((words) => html`<button type="button" class="act" key=${words} onClick=${() => raise(words)}>${words}</button>`)}</div>
    <div class="field"><label for="tag">Which thing of kit, if it is known</label>
      <select id="tag" value=${tag} onChange=${(/** @type {any} */ change) => setTag(change.currentTarget.value)}>
        <option value="">Not known</option>${definition().kit.map((item) => html`<option key=${item.tag} value=${item.tag}>${kitName(item.tag)}</option>`)}</select></div>
    <${Field} label="Or in your own words" name="fault-text" lines value=${text} set=${setText} />
    <button type="button" class="act main" disabled=${!text.trim()} onClick=${() => raise(text.trim())}>Raise this fault</button>
    <${Trouble} words=${trouble} />
  </${Page}>`;
}

export const FaultScreen = withShow(RaiseFault, "Fault");
