import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { differences, spoken, sumFaults } from "../kit/changing.js";
import { DATES, faultsIn, TYPES, tagFaults } from "../kit/fields.js";
import { isLifting, pieceOf } from "../kit/pieces.js";
import { laidOver, recordOf, unknown } from "../kit/records.js";
import { asking } from "../kit/register.js";
import { lacking, schedule } from "../kit/schedule.js";
import { keepFile } from "../logbook/files.js";
import { Before, Differences, isOpen, Wrong } from "../parts/change.js";
import { onFrom, Page, Trouble, withShow } from "../parts/page.js";
import { Field } from "../parts/pick.js";
import { sentence } from "../parts/server.js";
import { current, definition, kitOf, lockersNow, mayDo, writeRecord } from "../parts/show.js";

/** @typedef {import("../parts/shapes.js").Kit} Kit */
/** @typedef {import("../kit/records.js").Fields} Fields */

const CHIEF = ["chief"];

/** What a thing is, changed by a chief: an entry like any other. Without a tag: a new thing. @param {{ rest: string }} props */
function ChangeThing({ rest }) {
  const item = kitOf(rest) ?? unknown(rest);
  const [tag, setTag] = useState(rest);
  const [given, setGiven] = useState(item);
  const [gone, setGone] = useState("");
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const isNew = !kitOf(rest);
  const back = rest ? `#/k/${rest}` : "#/van/pack";
  if (!mayDo(CHIEF, true))
    return html`<${Page} title="Change" back=${back} backWord="Back"><p>For the chief. What a thing is, is a record of the unit's.</p></${Page}>`;
  const top = `kit/${tag}`;
  const wasGone = rest ? recordOf(current().fold.held, top).fields.gone : undefined;
  const settles = !isNew && (isOpen(top) || wasGone !== undefined);
  const changed = gone.trim() ? { gone: gone.trim() } : changes(isNew ? unknown(tag) : item, given, settles);
  const faults = gone.trim() ? [] : [...(isNew ? tagFaults(tag) : []), ...faultsIn(whole(changed, isNew))];
  const reason = (/** @type {string} */ field) => faults.find((one) => one.field === field)?.reason ?? null;
  const set = (/** @type {Partial<Kit>} */ part) => setGiven({ ...given, ...part });
  const taken = isNew && kitOf(tag) !== undefined;
  async function keep() {
    const address = location.hash;
    setTrouble(null);
    try {
      const answered = changed.dates?.examined !== undefined && !isNew ? asking(pieceOf(item)) : [];
      await writeRecord(top, changed, answered);
      onFrom(address, gone.trim() ? "#/van/pack" : `#/k/${tag}`);
    } catch (error) {
      setTrouble(sentence(error));
    }
  }
  return html`<${Page} title=${rest ? `Change ${rest}` : "A new thing"} back=${back} backWord="Back">
    ${!isNew && html`<${Before} top=${top} changed=${(/** @type {Fields} */ fields) => told(rest, fields)} />`}
    ${wasGone && html`<p><strong class="alarm">Gone: ${wasGone}.</strong> Written again, it is the unit's again.</p>`}
    <section class="card">
      ${isNew && html`<${Field} label="Tag" name="tag" value=${tag} set=${setTag} /><${Wrong} words=${taken ? "this tag is something else's" : tag && reason("tag")} />`}
      <${Field} label="What it is called" name="name" value=${given.name} set=${(/** @type {string} */ name) => set({ name })} /><${Wrong} words=${given.name && reason("name")} />
      <${TypePick} value=${given.type} set=${(/** @type {string} */ type) => set({ type })} />
      <div class="field-row"><${Field} label="How many" name="number" value=${given.number} set=${(/** @type {string} */ number) => set({ number })} />
        <${Field} label="Mass of one, kg" name="mass_kg" value=${given.mass_kg ?? ""} set=${(/** @type {string} */ mass) => set({ mass_kg: mass || null })} /></div>
      <${Wrong} words=${reason("number")} /><${Wrong} words=${reason("mass_kg")} /></section>
    <section class="card"><h2>Dates</h2>${DATES.map((which) => html`<${Field} key=${which} label=${dateWords[which]} name=${`date-${which}`} type="date" value=${given.dates[which] ?? ""} set=${(/** @type {string} */ day) => set({ dates: withValue(given.dates, which, day) })} /><${Wrong} words=${reason(`dates.${which}`)} />`)}</section>
    ${isLifting(given) && html`<${Report} given=${given} set=${set} />`}
    <${More} given=${given} set=${set} reason=${reason} />
    ${!isNew && html`<section class="card"><${Field} label="It is the unit's no longer, because" name="gone" value=${gone} set=${setGone} /></section>`}
    ${!isNew && !gone.trim() && html`<section class="card" aria-labelledby="differs"><h2 id="differs">What you change</h2><${Differences} differences=${differences(item, given)} none="Nothing yet." say=${spoken} /></section>`}
    ${!gone.trim() && html`<${Sums} tag=${tag} number=${given.number} />`}
    <button type="button" class="act main" disabled=${faults.length > 0 || taken || Object.keys(changed).length === 0} onClick=${keep}>${gone.trim() ? `Write that ${rest} is gone` : `Write it: ${Object.keys(changed).map(fieldWord).join(", ") || "nothing changed"}`}</button>
    <${Trouble} words=${trouble} />
  </${Page}>`;
}

const dateWords = {
  made: "Made",
  examined: "Last thorough examination",
  tested: "Last test",
  due: "Next due, as the report says",
};

/** @param {string} name */
const fieldWord = (name) =>
  ({ mass_kg: "mass", about: "what is told of it" })[name] ?? name.replaceAll("_", " ");

/** What a record says otherwise than the show was made with. @param {string} tag @param {Fields} fields */
function told(tag, fields) {
  if (fields.gone !== undefined) return [{ what: "gone", was: null, now: fields.gone }];
  const made = definition().kit.find((item) => item.tag === tag) ?? unknown(tag);
  return differences(made, laidOver(made, fields)).map((one) => ({ ...one, what: spoken(one.what) }));
}

/** Whether the lockers' lists hold as many of it as there are. @param {{ tag: string, number: string }} props */
function Sums({ tag, number }) {
  return sumFaults(tag ? [{ tag, number }] : [], lockersNow()).map(
    ({ says }) => html`<p key=${says}><strong>${says}.</strong> Change the lockers' lists to fit.</p>`,
  );
}

/** @param {{ value: string, set: (type: string) => void }} props */
function TypePick({ value, set }) {
  return html`<div class="field"><label for="type">Sort</label><select id="type" value=${value} onChange=${(/** @type {any} */ event) => set(event.currentTarget.value)}>
    <option value="">Pick a sort</option>${TYPES.toSorted().map((type) => html`<option key=${type} value=${type}>${type.replaceAll("-", " ")}</option>`)}</select></div>`;
}

/** What the report of thorough examination says, paragraph by paragraph, and the report itself. @param {{ given: Kit, set: (part: Partial<Kit>) => void }} props */
function Report({ given, set }) {
  const [trouble, setTrouble] = useState(/** @type {string | null} */ (null));
  const lacks = lacking(schedule.value, given);
  const fields = schedule.value.filter(({ at }) => at.startsWith("about."));
  const put = (/** @type {string} */ key, /** @type {string} */ text) =>
    set({ about: withValue(given.about, key, text) });
  async function attach(/** @type {File} */ file) {
    setTrouble(null);
    try {
      put("file", await keepFile(await file.arrayBuffer(), file.type));
    } catch (error) {
      setTrouble(sentence(error));
    }
  }
  return html`<section class="card" aria-labelledby="report"><h2 id="report">Report of thorough examination</h2>
    <p class="caution"><strong>Caution.</strong> Copy what the competent person wrote; an app examines nothing. Local rules come first.</p>
    <p role="status">${lacks.length === 0 ? "Nothing of the schedule is lacking." : html`<strong>Incomplete, lacks ${lacks.length}.</strong>`}</p>
    ${fields.map((field) => {
      const key = field.at.slice("about.".length);
      const missing = lacks.includes(field) ? ", lacking" : "";
      return html`<${Field} key=${key} label=${`(${field.paragraph}) ${field.words}${missing}`} name=${`about-${key}`} value=${given.about[key] ?? ""} set=${(/** @type {string} */ text) => put(key, text)} />`;
    })}
    <label class="act file">${given.about.file ? "Attach another report" : "Attach the report, PDF or picture"}<input type="file" accept="application/pdf,image/*"
      onChange=${(/** @type {any} */ event) => event.currentTarget.files[0] && attach(event.currentTarget.files[0])} /></label>
    ${given.about.file && html`<p>A report is attached. It stays on this phone until it was sent.</p>`}
    <${Trouble} words=${trouble} /></section>`;
}

/** What else is told of it, a word and a value each. @param {{ given: Kit, set: (part: Partial<Kit>) => void, reason: (field: string) => string | null }} props */
function More({ given, set, reason }) {
  const [word, setWord] = useState("");
  const ofReport = isLifting(given) ? schedule.value.map(({ at }) => at.slice("about.".length)) : [];
  const keys = Object.keys(given.about).filter((key) => key !== "file" && !ofReport.includes(key));
  const put = (/** @type {string} */ key, /** @type {string} */ text) =>
    set({ about: { ...given.about, [key]: text } });
  return html`<section class="card"><h2>Told of it</h2>
    ${keys.map(
      (
        key,
      ) => html`<div class="list" key=${key}><${Field} label=${key.replaceAll("_", " ")} name=${`about-${key}`} value=${given.about[key] ?? ""} set=${(/** @type {string} */ text) => put(key, text)} /><${Wrong} words=${reason(`about.${key}`)} />
      <button type="button" class="act" onClick=${() => set({ about: withValue(given.about, key, "") })}>Take out ${key.replaceAll("_", " ")}</button></div>`,
    )}
    <${Field} label="One more thing to tell" name="word" value=${word} set=${setWord} />
    <button type="button" class="act" disabled=${!word.trim() || word.trim() in given.about} onClick=${() => {
      put(word.trim().replaceAll(" ", "_"), "");
      setWord("");
    }}>Add it</button></section>`;
}

/** @param {Record<string, string | undefined>} pairs @param {string} key @param {string} value @returns {Record<string, string>} */
function withValue(pairs, key, value) {
  const rest = Object.entries(pairs).filter(([name]) => name !== key);
  return /** @type {Record<string, string>} */ (Object.fromEntries(value ? [...rest, [key, value]] : rest));
}

/** The fields that are not as they were; all, where they settle something. @param {Kit} item @param {Kit} given @param {boolean} settles @returns {Fields} */
function changes(item, given, settles) {
  const fields = /** @type {const} */ (["name", "type", "number", "mass_kg", "dates", "about"]);
  const differing = fields.filter((name) => settles || text(item[name]) !== text(given[name]));
  return /** @type {Fields} */ (Object.fromEntries(differing.map((name) => [name, given[name]])));
}

/** @param {unknown} value */
const text = (value) =>
  JSON.stringify(value !== null && typeof value === "object" ? Object.entries(value).sort() : value);

/** Of a new thing, name and sort must be told. @param {Fields} changed @param {boolean} isNew @returns {Fields} */
const whole = (changed, isNew) => (isNew ? { name: "", type: "", ...changed } : changed);

export const ChangeScreen = withShow(ChangeThing, "Change");
