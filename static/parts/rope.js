import { html } from "htm/preact";
import { Crossing, Knot, LooseEnd, OpenKnot, Ring, TwoStrands, Whipping } from "./pen.js";

/** @typedef {"done"|"next"|"wait"|"disputed"|"again"|"struck"|"crossed"|"open"|"signed"|"frayed"|"unsigned"|"rope"|"dots"} Mark */

const middle = 28;

/** Where in its row the rope turns into something else: from y, down to y. @type {Partial<Record<Mark, [number, number]>>} */
const gaps = { disputed: [10, 62], crossed: [10, 58], again: [16, 56] };

/**
 * The piece of the sheet's rope beside one row: rope above the mark, rope or dots below it.
 * The words stand beside it, so it is hidden from a screen reader.
 * @param {{ mark: Mark, below?: "rope" | "dots" | "none", tight?: boolean }} props
 */
export function RopeMark({ mark, below = "rope", tight = false }) {
  const dotted = mark === "wait" || mark === "dots";
  const [top, bottom] = gaps[mark] ?? [36, 36];
  return html`<svg class="mark" aria-hidden="true" focusable="false">
    <${Line} from=${0} to=${top} dotted=${dotted || mark === "unsigned"} />
    ${below !== "none" && html`<${Rest} from=${bottom} dotted=${below === "dots"} />`}
    <g transform=${`translate(${middle} ${gaps[mark] ? top : 36})`}>${drawn(mark, tight)}</g>
  </svg>`;
}

/** @param {Mark} mark @param {boolean} tight */
function drawn(mark, tight) {
  if (mark === "done") return html`<${Knot} tight=${tight} />`;
  if (mark === "next") return html`<${Ring} />`;
  if (mark === "wait" || mark === "open" || mark === "unsigned") return html`<${Ring} small />`;
  if (mark === "disputed") return html`<${TwoStrands} />`;
  if (mark === "crossed") return html`<${Crossing} />`;
  if (mark === "again") return html`<g transform="translate(0 20)"><${OpenKnot} /></g>`;
  if (mark === "struck") return html`<${LooseEnd} />`;
  if (mark === "signed")
    return html`<g transform="translate(-22 -4)"><g transform="translate(22 0)"><${Whipping} /></g></g>`;
  if (mark === "frayed") return html`<${Whipping} frayed />`;
  return null;
}

/** @param {{ from: number, to: number, dotted: boolean }} props */
function Line({ from, to, dotted }) {
  if (dotted) return html`<line class="dots" x1=${middle} x2=${middle} y1=${from} y2=${to} />`;
  return html`<rect x="22" width="12" y=${from} height=${to - from} fill="url(#lay)" />`;
}

/** From y to the row's foot, however high the row is. @param {{ from: number, dotted: boolean }} props */
function Rest({ from, dotted }) {
  if (dotted) return html`<line class="dots" x1=${middle} x2=${middle} y1=${from + 8} y2="100%" />`;
  return html`<svg y=${from} height="100%" width="56" overflow="hidden">
    <rect x="22" width="12" y="0" height="100%" fill="url(#lay)" />
  </svg>`;
}
