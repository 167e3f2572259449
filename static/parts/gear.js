// The lifting gear chosen for a position, beside the steps that are about it.
import { html } from "htm/preact";
import { pieceWith } from "../kit/pieces.js";
import { liftStops } from "../kit/register.js";
import { definition, kitName, positionView } from "./show.js";

/** What is chosen, what stops it, and the way to choose. @param {{ subject: string }} props the step's */
export function GearChosen({ subject }) {
  const position = subject.split("/")[1] ?? "";
  const { gear } = positionView(position);
  const tags = gear.tags ?? [];
  const stopped = tags.filter((tag) => stopsOf(tag).length > 0);
  return html`<div class="list"><p><strong>Gear:</strong> ${gear.state === "disputed" ? html`<strong class="alarm">disputed</strong>` : tags.join(", ") || "none chosen yet"}</p>
    ${stopped.map(
      (tag) =>
        html`<p key=${tag}><strong class="alarm">Not to be lifted with: ${kitName(tag)}.</strong> ${stopsOf(
          tag,
        )
          .map(({ says }) => says)
          .join(" ")}</p>`,
    )}
    <a class="act" href=${`#/gear/${position}`}>Choose the gear</a></div>`;
}

/** Why a piece may not be assigned to a lift of this show. @param {string} tag */
export function stopsOf(tag) {
  const piece = pieceWith(tag);
  return piece
    ? liftStops(piece, definition().ends)
    : [{ stop: "unknown", says: "Not on this show's list." }];
}
