import { html } from "htm/preact";

/** The lay of the rope as a pattern, upright and across; put once into the document. */
export function PenDefs() {
  return html`<svg class="defs" aria-hidden="true" focusable="false">
    <defs>
      <pattern id="lay" patternUnits="userSpaceOnUse" x="22" width="12" height="8">${[-8, 0, 8].map(Strand)}</pattern>
      <pattern id="lay-across" patternUnits="userSpaceOnUse" width="12" height="8" patternTransform="rotate(90)">
        ${[-8, 0, 8].map(Strand)}
      </pattern>
    </defs>
  </svg>`;
}

/** One strand of the lay, leaning over the rope's 12 px. @param {number} y */
function Strand(y) {
  return html`<path class="strand" d=${`M.6 ${y + 9}C-.4 ${y + 4.5} 3 ${y + 1} 11.4 ${y - 1}C12.4 ${y + 3.5} 9 ${y + 7} .6 ${y + 9}Z`} />
    <path class="strand-light" d=${`M3.2 ${y + 5.6}C4 ${y + 3.8} 6 ${y + 2.2} 8.2 ${y + 1.5}`} />`;
}

/** A bent piece of rope: edge, body, lay and light over one path. @param {{ d: string, key?: unknown }} props */
export function Turn({ d }) {
  return html`<path class="turn-edge" d=${d} /><path class="turn-body" d=${d} /><path class="turn-lay" d=${d} />
    <path class="turn-light" d=${d} transform="translate(-.6 -2.1)" />`;
}

/** Three turns and both ends: what is done. Drawn round 0,0, 40 wide. @param {{ tight?: boolean }} props */
export function Knot({ tight = false }) {
  return html`<g class=${tight ? "knot tight" : "knot"}>
    <${Turn} d="M-9 -13C-3 -17 5 -15 9 -10" />
    <${Turn} d="M-10 11C-3 7 6 9 10 14" />
    <${Turn} d="M-15 3C-8 -3 8 -1 14 6" />
    <${Turn} d="M-14 -5C-6 -12 8 -10 15 -3" />
  </g>`;
}

/** A knot that no longer holds: the turns stand open. To be looked at again. */
export function OpenKnot() {
  return html`<g>
    <g class="thin-rope"><${Turn} d="M0 -20C20 -20 22 4 2 6C-22 8 -22 -14 0 -10C16 -6 14 18 0 20" /></g>
  </g>`;
}

/** The rope parts into two strands and joins again: disputed. Drawn from 0,0 down 52. */
export function TwoStrands() {
  return html`<g class="thin-rope">
    <${Turn} d="M0 0C-2 8 -15 14 -15 26C-15 38 -2 44 0 52" />
    <${Turn} d="M0 0C2 8 15 14 15 26C15 38 2 44 0 52" />
  </g>`;
}

/** The rope crosses itself: done out of order. Drawn from 0,0 down 48. */
export function Crossing() {
  return html`<g class="thin-rope">
    <${Turn} d="M0 0C0 12 16 14 17 24C18 36 4 36 -8 30" />
    <${Turn} d="M-8 30C-18 24 -16 12 -8 14C2 18 0 34 0 48" />
  </g>`;
}

/** A loose end beside the rope: struck. Drawn round 0,0. */
export function LooseEnd() {
  return html`<g class="thin-rope"><${Turn} d="M0 -12C0 0 12 -2 14 12" /></g>
    <path class="fibre" d="M12 13L9 22M13 14L13 24M15 13L18 22" />`;
}

/** The ring on the rope's end: next. @param {{ small?: boolean }} props */
export function Ring({ small = false }) {
  if (small) return html`<circle class="small-ring" r="6" />`;
  return html`<circle class="ring-edge" r="13" /><circle class="ring-body" r="13" />`;
}

/** Twine round the rope's end: signed. Frayed: changed since signed. Drawn round 0,0. @param {{ frayed?: boolean }} props */
export function Whipping({ frayed = false }) {
  if (!frayed) {
    return html`<rect x="-6" y="-22" width="12" height="36" fill="url(#lay)" transform="translate(0 0)" />
      ${[-12, -8, -4, 0, 4].map((y) => html`<path class="twine" d=${`M-8 ${y + 1.5}L8 ${y - 1.5}`} />`)}
      <path class="fibre" d="M-4 14L-4 17M0 14L0 18M4 14L4 17" />`;
  }
  return html`${[-14, -9].map((y) => html`<path class="twine" d=${`M-8 ${y + 2}L8 ${y - 2}`} />`)}
    <path class="twine" d="M8 -6C18 -4 16 6 20 10" />
    <g class="thin-rope">
      <${Turn} d="M-2 -4C-4 6 -12 8 -13 18" /><${Turn} d="M0 -4L1 20" /><${Turn} d="M2 -4C5 6 10 8 13 16" />
    </g>
    <path class="fibre" d="M-15 20L-18 28M-12 20L-13 29M0 22L-1 31M2 22L4 30M13 18L15 27M15 17L20 25" />`;
}

/** A tag on a string: unserviceable, suspect, overdue. Drawn from 0,0, 30 by 34. */
export function TagOnString() {
  return html`<path class="pen thin" d="M0 0C2 6 6 8 10 10" />
    <path class="pen thin filled" d="M8 8L16 6L30 20L20 32L6 18Z" /><circle class="pen thin" cx="13" cy="13" r="2" />`;
}
