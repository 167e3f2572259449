// Where a thing is: in the vehicle, at a position, or away and by whose word.
import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { Trouble } from "./page.js";
import { Field } from "./pick.js";
import { placeWord } from "./say.js";
import { sentence } from "./server.js";
import { definition, write } from "./show.js";

/** What accounts for a thing outside the vehicles, and what has to be said with it. */
const away = [
  { where: "away/left-at-site", asks: "Where it was left, and with whom" },
  { where: "away/lent", asks: "To whom it was lent, and until when" },
  { where: "away/broken", asks: "What broke, and where the pieces are" },
  { where: "away/lost", asks: "Who looked for it, and where" },
];

/** @param {string} tag @param {string} where @param {string} [text] */
export function writePlace(tag, where, text = "") {
  return write({ subject: `kit/${tag}/place`, kind: "place", body: { where, ...(text ? { text } : {}) } });
}

/** Says where a thing is now. @param {{ tag: string, done?: () => void }} props */
export function SayPlace({ tag, done = () => {} }) {
  const [where, setWhere] = useState("");
  const [text, setText] = useState("");
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const { lockers, positions } = definition();
  const places = [
    ...lockers.map(({ id }) => `locker/${id}`),
    ...positions.map(({ id }) => `position/${id}`),
    "truck",
  ];
  const asks = away.find((one) => one.where === where)?.asks;
  async function keep() {
    setTrouble(null);
    try {
      await writePlace(tag, where, text.trim());
      setWhere("");
      setText("");
      done();
    } catch (error) {
      setTrouble(sentence(error));
    }
  }
  const option = (/** @type {string} */ one) =>
    html`<option key=${one} value=${one}>${placeWord(one)}</option>`;
  return html`<div class="field"><label for=${`place-${tag}`}>${tag} is now</label>
      <select id=${`place-${tag}`} value=${where} onChange=${(/** @type {any} */ event) => setWhere(event.currentTarget.value)}>
        <option value="">Pick a place</option>
        <optgroup label="With us">${places.map(option)}</optgroup>
        <optgroup label="Away">${away.map((one) => option(one.where))}</optgroup></select></div>
    ${asks && html`<${Field} label=${asks} name=${`away-${tag}`} value=${text} set=${setText} />`}
    <button type="button" class="act" disabled=${!where || (asks && !text.trim())} onClick=${keep}>Write where ${tag} is</button>
    <${Trouble} words=${trouble} />`;
}
