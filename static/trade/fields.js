// One field of a declared computation, asked as its kind wants: number pad, choice, date, text, answers by name, rows.
import { html } from "htm/preact";
import { useState } from "preact/hooks";
import { Keys } from "../parts/number-pad.js";
import { Options, Field as TextField } from "../parts/pick.js";

/** @typedef {import("./forms.js").Field} Field */
/** @typedef {import("./core.js").Problem} Problem */
/**
 * What every kind gets: its path in the input, the raw value, where to put a new one, what is wrong with it.
 * @typedef {{ field: Field, path: string, value: any, set: (value: any) => void, problems: Problem[], from?: string }} Props
 */

const MOST_AS_BUTTONS = 6;

/** @param {Props} props */
export function OneField(props) {
  const Kind = kinds[props.field.kind];
  return html`<div class="ask"><${Kind} ...${props} />
    ${props.from && html`<p class="small soft">${props.from}</p>`}
    ${props.field.kind !== "table" && html`<${Wrong} problems=${props.problems} path=${props.path} />`}</div>`;
}

/** @param {{ problems: Problem[], path: string }} props */
function Wrong({ problems, path }) {
  const own = problems.filter(({ field }) => field === path || field.startsWith(`${path}.`));
  return own.map(
    ({ field, sentence }) =>
      html`<p class="alarm small" id=${`wrong-${path}`} key=${field}>${field.slice(path.length + 1)} ${sentence}.</p>`,
  );
}

/** Label, unit and what is taken if it is left out. @param {Field} field */
function asked({ label, unit, default: usual, needed }) {
  const left = needed || usual === "" ? "" : usual === null ? ", may be left out" : `, usually ${usual}`;
  return `${capital(label)}${unit ? `, ${unit}` : ""}${left}`;
}

/** @param {string} text */
const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/** @param {{ field: Field, id: string }} props */
function Help({ field, id }) {
  const { help, low, high, unit, kind } = field;
  const range = kind === "quantity" ? `${low} to ${high}${unit ? ` ${unit}` : ""}` : "";
  const said = [help, range].filter(Boolean).join("; ");
  return said && html`<p class="small soft" id=${id}>${said}</p>`;
}

/** @param {Props} props */
function QuantityField({ field, path, value = "", set }) {
  const [pad, setPad] = useState(false);
  const typed = (/** @type {any} */ event) => set(event.currentTarget.value.trim().replace(",", "."));
  return html`<div class="field"><label for=${path}>${asked(field)}</label>
    <div class="figure typed"><input id=${path} type="text" inputmode=${pad ? "none" : "decimal"} autocomplete="off" value=${value}
        aria-describedby=${`help-${path}`} onInput=${typed} />
      <span>${field.unit}</span>
      <button type="button" class="act" aria-expanded=${pad} aria-label=${`Number pad for ${field.label}`} onClick=${() => setPad(!pad)}>${pad ? "Close" : "Pad"}</button></div>
    <${Help} field=${field} id=${`help-${path}`} />
    ${pad && html`<${Keys} figure=${value} set=${set} />`}</div>`;
}

/** @param {Props} props */
function ChoiceField({ field, path, value, set }) {
  const options = field.options ?? [];
  const now = value ?? field.default ?? null;
  if (options.length > MOST_AS_BUTTONS) {
    return html`<div class="field"><label for=${path}>${capital(field.label)}</label>
      <select id=${path} value=${now ?? ""} onChange=${(/** @type {any} */ event) => set(event.currentTarget.value)}>
        ${now === null && html`<option value="">Pick one</option>`}
        ${options.map((option) => html`<option key=${option} value=${option}>${option}</option>`)}</select>
      <${Help} field=${field} id=${`help-${path}`} /></div>`;
  }
  return html`<${Options} legend=${asked({ ...field, default: "" })} name=${path} two value=${now} pick=${set}
      options=${options.map((id) => ({ id, label: id.replaceAll("-", " ") }))} />
    <${Help} field=${field} id=${`help-${path}`} />`;
}

/** @param {Props} props */
function PlainField({ field, path, value = "", set }) {
  return html`<${TextField} label=${asked(field)} name=${path} value=${value} set=${set} type=${field.kind === "day" ? "date" : "text"} />
    <${Help} field=${field} id=${`help-${path}`} />`;
}

/** Answers under names: each name's own pick, or lines of `name: text`. @param {Props} props */
function NamesField({ field, path, value = {}, set }) {
  const { keys = [], options = [] } = field;
  if (keys.length > 0 && options.length > 0) {
    return html`<p><strong>${capital(field.label)}</strong></p><${Help} field=${field} id=${`help-${path}`} />
      ${keys.map(
        (
          key,
        ) => html`<${Options} key=${key} legend=${capital(key.replaceAll("-", " "))} name=${`${path}.${key}`} two value=${value[key] ?? null}
        pick=${(/** @type {string} */ id) => set({ ...value, [key]: id })} options=${options.map((id) => ({ id, label: id.replaceAll("-", " ") }))} />`,
      )}`;
  }
  return html`<${Lines} field=${field} path=${path} value=${value} set=${set} />`;
}

/** @param {Props} props */
function Lines({ field, path, value, set }) {
  const [text, setText] = useState(
    Object.entries(value)
      .map((pair) => pair.join(": "))
      .join("\n"),
  );
  const typed = (/** @type {any} */ event) => {
    setText(event.currentTarget.value);
    const pairs = event.currentTarget.value
      .split("\n")
      .map((/** @type {string} */ line) => line.split(":"))
      .filter(([name = ""]) => name.trim())
      .map((/** @type {string[]} */ [name = "", ...rest]) => [name.trim(), rest.join(":").trim()]);
    set(Object.fromEntries(pairs));
  };
  return html`<div class="field"><label for=${path}>${asked(field)}, one a line, name: what</label>
    <textarea id=${path} value=${text} onInput=${typed} aria-describedby=${`help-${path}`}></textarea>
    <${Help} field=${field} id=${`help-${path}`} /></div>`;
}

/** Rows of readings, added and taken out. @param {Props} props */
function TableField({ field, path, value, set, problems }) {
  const rows = value ?? field.default ?? [];
  const { columns = [], most = 0 } = field;
  const change = (/** @type {number} */ index, /** @type {string} */ name, /** @type {any} */ cell) =>
    set(
      rows.map((/** @type {any} */ row, /** @type {number} */ at) =>
        at === index ? { ...row, [name]: cell } : row,
      ),
    );
  return html`<p><strong>${capital(field.label)}</strong></p><${Help} field=${field} id=${`help-${path}`} />
    <${Wrong} problems=${problems.filter((one) => one.field === path)} path=${path} />
    ${rows.map(
      (/** @type {any} */ row, /** @type {number} */ index) => html`<fieldset class="slip list" key=${index}>
        <legend>${capital(field.label)}, row ${index + 1}</legend>
        <div class="field-row">${columns.map((column) => {
          const at = `${path}[${index + 1}].${column.name}`;
          return html`<${OneField} key=${column.name} field=${column} path=${at} value=${row[column.name]} problems=${problems}
            set=${(/** @type {any} */ cell) => change(index, column.name, cell)} />`;
        })}</div>
        <${Wrong} problems=${problems.filter((one) => one.field === `${path}[${index + 1}]`)} path=${`${path}[${index + 1}]`} />
        <button type="button" class="act" onClick=${() => set(rows.filter((/** @type {any} */ _, /** @type {number} */ at) => at !== index))}>Take row ${index + 1} out</button>
      </fieldset>`,
    )}
    <button type="button" class="act" disabled=${rows.length >= most} onClick=${() => set([...rows, repeated(rows.at(-1), columns)])}>Add a row: ${field.label}</button>`;
}

/** A new row starts with what was picked in the last, for instance the channel. @param {any} last @param {Field[]} columns */
function repeated(last, columns) {
  const picked = columns.filter(({ kind, name }) => kind === "choice" && last?.[name] !== undefined);
  return Object.fromEntries(picked.map(({ name }) => [name, last[name]]));
}

const kinds = {
  quantity: QuantityField,
  choice: ChoiceField,
  text: PlainField,
  day: PlainField,
  names: NamesField,
  table: TableField,
};
