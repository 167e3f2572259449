import { html } from "htm/preact";
import { roleWord } from "./say.js";
import { people } from "./show.js";

/**
 * One of several, each a full-width target.
 * @param {{ legend: string, name: string, options: { id: string, label: string, more?: string }[], value: string | null,
 *   pick: (id: string) => void, two?: boolean, wide?: boolean }} props
 */
export function Options({ legend, name, options, value, pick, two = false, wide = false }) {
  return html`<fieldset><legend>${legend}</legend>
    <div class=${two ? "options two" : wide ? "options wide" : "options"}>${options.map(
      ({ id, label, more }) => html`<label class="option" key=${id}>
        <input type="radio" name=${name} value=${id} checked=${value === id} onChange=${() => pick(id)} />
        <span>${label}${more && html`<br /><span class="soft small">${more}</span>`}</span></label>`,
    )}</div></fieldset>`;
}

/** Somebody of the crew. @param {{ legend: string, name: string, value: string | null, pick: (person: string | null) => void, not?: string | undefined }} props */
export function PersonPick({ legend, name, value, pick, not }) {
  const options = people().filter(({ person }) => person !== not);
  return html`<div class="field"><label for=${name}>${legend}</label>
    <select id=${name} value=${value ?? ""} onChange=${(/** @type {any} */ event) => pick(event.currentTarget.value || null)}>
      <option value="">Pick from the crew</option>
      ${options.map((one) => html`<option key=${one.person} value=${one.person}>${one.name}, ${one.roles.map(roleWord).join(", ")}</option>`)}
    </select></div>`;
}

/** @param {{ label: string, value: string, set: (text: string) => void, name: string, type?: string, lines?: boolean, required?: boolean }} props */
export function Field({ label, value, set, name, type = "text", lines = false, required = false }) {
  const typed = (/** @type {any} */ event) => set(event.currentTarget.value);
  return html`<div class="field"><label for=${name}>${label}</label>
    ${
      lines
        ? html`<textarea id=${name} value=${value} onInput=${typed} maxlength="400" required=${required}></textarea>`
        : html`<input id=${name} type=${type} value=${value} onInput=${typed} maxlength="400" required=${required} autocomplete="off" />`
    }</div>`;
}

/** Several of many. @param {{ legend: string, options: { id: string, label: string }[], values: string[], set: (ids: string[]) => void }} props */
export function Several({ legend, options, values, set }) {
  const turn = (/** @type {string} */ id) =>
    set(values.includes(id) ? values.filter((one) => one !== id) : [...values, id]);
  return html`<fieldset><legend>${legend}</legend><div class="options two">${options.map(
    ({ id, label }) => html`<label class="option" key=${id}>
      <input type="checkbox" checked=${values.includes(id)} onChange=${() => turn(id)} /><span>${label}</span></label>`,
  )}</div></fieldset>`;
}
