// A verdict as it is shown: the word, what was found, what to turn, the figures, the figure drawn, what it rests on.
import { html } from "htm/preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { drawing } from "./core.js";
import { drawn } from "./figure.js";

/** @typedef {import("./core.js").Answer} Answer */

/** Whether a verdict is one that keeps somebody from going on. @param {string} verdict */
export const isBeyond = (verdict) => verdict.startsWith("beyond") || verdict.startsWith("figures beyond");

/** @param {{ answer: Answer }} props */
export function Verdict({ answer }) {
  return html`<div class="list"><p class=${isBeyond(answer.verdict) ? "verdict alarm" : "verdict"}>${answer.verdict}</p>
    ${answer.findings.map((text) => html`<p key=${text}>${text}</p>`)}
    ${answer.advice.map((text) => html`<p class="advice" key=${text}><strong>${text}</strong></p>`)}
    <${Figures} figures=${answer.figures} />
    ${answer.cautions.map((text) => html`<p class="caution" key=${text}><strong>Caution.</strong> ${text}</p>`)}
    <details><summary>What this rests on</summary><ul class="list small">${answer.basis.map((text) => html`<li key=${text}>${text}</li>`)}
      <li>Arithmetic version ${answer.core}</li></ul></details></div>`;
}

/** @param {{ figures: Answer["figures"] }} props */
export function Figures({ figures }) {
  const rows = Object.entries(figures).filter(([, { value }]) => value !== null); // a finding says why there is none
  if (rows.length === 0) return null;
  return html`<dl class="facts figures">${rows.map(
    ([name, { value, unit }]) =>
      html`<dt key=${name}>${named(name)}</dt><dd>${typeof value === "number" ? shown(value) : value} ${unit}</dd>`,
  )}</dl>`;
}

/** `back_focus_error_um` is back focus error; the unit stands behind the figure. @param {string} name */
export function named(name) {
  return name
    .replace(/_(um|mm|m|kn|n|kg|percent|ohm|v|a|w|db|dbm|min|c|lux|per_m)$/, "")
    .replaceAll(/[._]/g, " ");
}

/** Four digits, as far as anybody reads it; the entry keeps all. @param {number} value */
export function shown(value) {
  return Math.abs(value) >= 1e6 || value === 0 ? value.toFixed(0) : String(Number(value.toPrecision(4)));
}

/** The figure that belongs to the answer, in the look's colours. @param {{ name: string, input: unknown }} props */
export function Drawing({ name, input }) {
  const place = useRef(/** @type {HTMLElement | null} */ (null));
  const [svg, setSvg] = useState(/** @type {string | null} */ (null));
  useEffect(() => {
    let late = false;
    drawing(name, input).then(
      (text) => late || setSvg(text),
      () => late || setSvg(null), // the verdict beside it already says what cannot be computed
    );
    return () => {
      late = true;
    };
  }, [name, JSON.stringify(input)]);
  useEffect(() => {
    place.current?.replaceChildren(...[svg && drawn(svg)].filter((node) => node instanceof Node));
  }, [svg]);
  return html`<div class="drawing" ref=${place} tabindex="0" role="group" aria-label="The figure"></div>`;
}
