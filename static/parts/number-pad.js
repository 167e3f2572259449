import { html } from "htm/preact";

const FIGURE = /^-?(0|[1-9][0-9]*)(\.[0-9]+)?$/;

/** Whether it is a figure of the logbook: plain decimal text, at most 32 characters. @param {string} text */
export const isFigure = (text) => text.length <= 32 && FIGURE.test(text);

const keys = ["7", "8", "9", "4", "5", "6", "1", "2", "3", "±", "0", "."];

/** A figure typed with gloves on, or on any keyboard. @param {{ figure: string, set: (figure: string) => void, unit: string }} props */
export function NumberPad({ figure, set, unit }) {
  const typed = (/** @type {any} */ event) => set(event.currentTarget.value.trim().replace(",", "."));
  return html`<div class="list"><div class="figure"><label class="unseen" for="figure">Figure${unit && ` in ${unit}`}</label>
      <input id="figure" type="text" inputmode="decimal" autocomplete="off" value=${figure} onInput=${typed} /><span>${unit}</span></div>
    <${Keys} figure=${figure} set=${set} /></div>`;
}

/** The pad alone, for whatever field it types into. @param {{ figure: string, set: (figure: string) => void }} props */
export function Keys({ figure, set }) {
  return html`<div class="pad">${keys.map(
    (key) =>
      html`<button type="button" class="act" key=${key} aria-label=${key === "±" ? "Change the sign" : key === "." ? "Decimal point" : key} onClick=${() => set(pressed(figure, key))}>${key}</button>`,
  )}</div>
    <button type="button" class="act" disabled=${figure === ""} onClick=${() => set(figure.slice(0, -1))}>Rub out one</button>`;
}

/** @param {string} figure @param {string} key */
function pressed(figure, key) {
  if (key === "±") return figure.startsWith("-") ? figure.slice(1) : `-${figure}`;
  if (key === ".")
    return figure.includes(".") ? figure : `${figure === "" || figure === "-" ? `${figure}0` : figure}.`;
  return /^-?0$/.test(figure) ? figure.replace("0", key) : figure + key;
}

/**
 * Within or beyond the step's own limits, and whose they are.
 * @param {import("./shapes.js").Step} step @param {string} figure
 */
export function plainVerdict({ low, high, unit, limit_of: whose }, figure) {
  const limits = [low !== null && `not below ${low}`, high !== null && `not above ${high}`]
    .filter(Boolean)
    .join(", ");
  const said = limits ? `Limit: ${limits} ${unit ?? ""}${whose ? `, ${whose}` : ""}.` : "";
  if (!isFigure(figure))
    return { word: "", more: said || "No limit is set for this reading.", beyond: false };
  if (!limits)
    return {
      word: "cannot tell",
      more: "No limit is set for this reading. It is kept as read.",
      beyond: false,
    };
  const value = Number(figure);
  const under = low !== null && value < Number(low);
  const over = high !== null && value > Number(high);
  if (under || over) {
    const by = Number(Math.abs(value - Number(under ? low : high)).toPrecision(6));
    return {
      word: "beyond limits",
      more: `${by} ${unit ?? ""} ${under ? "below" : "above"}. ${said}`,
      beyond: true,
    };
  }
  const near = [low, high].filter((limit) => limit !== null).map((limit) => Math.abs(value - Number(limit)));
  return {
    word: "within limits",
    more: `${Number(Math.min(...near).toPrecision(6))} ${unit ?? ""} from the nearer limit. ${said}`,
    beyond: false,
  };
}
