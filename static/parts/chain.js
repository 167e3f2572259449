import { html } from "htm/preact";

/** @typedef {{ tag: string, length_m: number }} Drum */
/**
 * A chain as it stands: lens, body, run, control unit, joined by one line. A drum is a ring as large as its length.
 * @param {{ lens: string | null, body: string | null, drums: Drum[], control: string | null, broken?: boolean }} props
 */
export function ChainDrawn({ lens, body, drums, control, broken = false }) {
  const from = 118;
  const to = 286;
  const step = (to - from) / (drums.length + 1);
  return html`<svg class="chain" viewBox="0 0 336 72" aria-hidden="true" focusable="false">
    <rect x="34" y="30" width=${from - 34} height="12" fill="url(#lay-across)" />
    <path class="pen filled" d="M6 20L40 26V46L6 52Z" stroke-dasharray=${lens ? "" : "6 5"} />
    <rect class="pen filled" x="58" y="14" width="60" height="44" stroke-dasharray=${body ? "" : "6 5"} />
    <path class="pen" d="M58 14L50 22V50L58 58M74 14V6H104V14" />
    <line class=${broken ? "dots" : "pen thin"} x1=${from} x2=${to} y1="36" y2="36" />
    ${drums.map(
      (drum, index) => html`<g transform=${`translate(${from + step * (index + 1)} 36)`}>
      <circle class="ring-edge" r=${radius(drum, step)} /><circle class="ring-body" r=${radius(drum, step)} /><circle class="pen thin" r="3" />
    </g>`,
    )}
    <rect class="pen filled" x=${to} y="10" width="44" height="52" stroke-dasharray=${control ? "" : "6 5"} />
    <path class="pen thin" d="M294 24H322M294 34H322M294 44H308" />
  </svg>`;
}

/** Area as length, so 300 m looks like three times 100 m; never wider than its place on the line. @param {Drum} drum @param {number} step */
function radius(drum, step) {
  return Math.max(6, Math.min(Math.sqrt(drum.length_m) * 1.45, step / 2 - 2, 30));
}

/** The same in words. @param {{ lens: string | null, body: string | null, drums: Drum[], control: string | null, names: (tag: string) => string }} props */
export function ChainWords({ lens, body, drums, control, names }) {
  const run = drums.map((drum) => `${drum.tag} ${drum.length_m} m`).join(", ");
  return html`<dl class="chain-words">
    <dt>Lens</dt><dd>${lens ? names(lens) : "none"}</dd>
    <dt>Body</dt><dd>${body ? names(body) : "none"}</dd>
    <dt>Run</dt><dd>${run || "none"}</dd>
    <dt>Control unit</dt><dd>${control ? names(control) : "none"}</dd>
  </dl>`;
}
