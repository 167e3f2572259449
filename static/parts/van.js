import { html } from "htm/preact";
import { Knot, TagOnString, Turn } from "./pen.js";

/** @typedef {import("./shapes.js").Locker} Locker */
/** @typedef {"shut" | "short" | "part" | "stranger" | "none"} DoorMark */
/** @typedef {{ locker: Locker, href: string, count: string, mark: DoorMark, words: string, tagged?: boolean }} Door */

const width = 336;
const roof = 34;
const sill = 168;

/**
 * A vehicle as one faces it: lockers where they are, in their widths; its front to the left on its left side,
 * to the right on its right side.
 * @param {{ name: string, drawn: string, side: "left" | "right" | "rear", doors: Door[] }} props
 */
export function Van({ name, drawn, side, doors }) {
  const rear = side === "rear";
  return html`<svg class="van" viewBox=${`0 0 ${width} 214`} role="group" aria-label=${`${name}, ${side} side`}>
    <g aria-hidden="true" transform=${side === "right" ? `translate(${width} 0) scale(-1 1)` : ""}>
      ${rear ? html`<${RearBody} />` : html`<${SideBody} drawn=${drawn} />`}
    </g>
    ${placed(doors, side, drawn).map((spot) => html`<${DoorDrawn} ...${spot} />`)}
  </svg>`;
}

/** @param {{ drawn: string }} props */
function SideBody({ drawn }) {
  const cab =
    drawn === "van"
      ? "M4 182V140C4 126 30 122 44 118L66 52Q72 22 86 22H322Q332 22 332 32V182Z"
      : "M4 182V112Q4 104 12 100L26 52Q28 46 36 46H72V182ZM72 22H332V182H72Z";
  const glass = drawn === "van" ? "M58 110L74 60Q76 54 82 54V110Z" : "M20 100L32 58H62V100Z";
  return html`<path class="pen filled" d=${cab} /><path class="pen" d=${glass} />
    <path class="pen thin" d="M4 148H16" />
    ${[56, 278].map((x) => html`<circle class="pen filled" cx=${x} cy="184" r="25" /><circle class="pen filled" cx=${x} cy="184" r="10" />`)}`;
}

function RearBody() {
  return html`<rect class="pen filled" x="46" y="14" width="244" height="170" />
    <path class="pen thin" d="M46 176H290M58 184V206H86V184M250 184V206H278V184" />`;
}

/** Lays the doors out: rows from the roof down, places from the front. @param {Door[]} doors @param {string} side @param {string} drawn */
function placed(doors, side, drawn) {
  const [left, right] = side === "rear" ? [56, 280] : [drawn === "van" ? 90 : 80, 326];
  const rows = [...new Set(doors.map((door) => door.locker.row))].sort((a, b) => a - b);
  const height = (sill - roof) / Math.max(rows.length, 1);
  return rows.flatMap((row, index) => {
    const inRow = doors
      .filter((door) => door.locker.row === row)
      .sort((a, b) => a.locker.place - b.locker.place);
    const total = inRow.reduce((sum, door) => sum + Number(door.locker.width), 0);
    let x = left;
    return inRow.map((door) => {
      const wide = ((right - left) * Number(door.locker.width)) / total;
      const spot = {
        door,
        x: side === "right" ? width - x - wide : x,
        y: roof + index * height,
        wide: wide - 6,
        high: height - 6,
      };
      x += wide;
      return spot;
    });
  });
}

/** @param {{ door: Door, x: number, y: number, wide: number, high: number }} props */
function DoorDrawn({ door, x, y, wide, high }) {
  const alarmed = door.mark === "short" ? "alarmed" : "";
  const low = high < 100;
  const size = wide < 62 || door.count.length > 7 ? 17 : 20;
  return html`<a href=${door.href} aria-label=${`${door.locker.id} ${door.count}, ${door.locker.name}, ${door.words}`}>
    <g transform=${`translate(${x} ${y})`}>
      <rect class="door" width=${wide} height=${high} />
      <text class="number" x="8" y="27">${door.locker.id}</text>${" "}
      ${door.tagged && html`<g transform=${`translate(${wide - 36} 2)`}><${TagOnString} /></g>`}
      <g transform=${low ? `translate(${wide - 28} ${high / 2 - 8}) scale(.7)` : `translate(${wide / 2} ${high / 2 + 5})`}>
        <${DoorState} mark=${door.mark} wide=${low ? 44 : wide} />
      </g>
      <text class=${alarmed} text-anchor="middle" x=${wide / 2} y=${high - 10} font-size=${size}>${door.count}</text>
    </g>
  </a>`;
}

/** Full and tagged shut, short, part in, holding a stranger; nothing while untouched. @param {{ mark: DoorMark, wide: number }} props */
function DoorState({ mark, wide }) {
  const reach = Math.min(wide / 2 - 8, 26);
  if (mark === "shut") return html`<${Knot} />`;
  if (mark === "short")
    return html`<rect class="pen alarmed dashed" x="-19" y="-15" width="38" height="30" />`;
  if (mark === "part") {
    return html`<g class="thin-rope"><${Turn} d=${`M${-reach} 0H-2`} /></g>
      <line class="dots" x1="8" x2=${reach} y1="0" y2="0" />`;
  }
  if (mark === "stranger")
    return html`<rect class="pen thin" x="-17" y="-12" width="34" height="24" /><path class="pen thin filled" d="M9 -2L30 -8L34 12L13 18Z" />`;
  return html`<line class="dots" x1=${-reach} x2=${reach} y1="0" y2="0" />`;
}
