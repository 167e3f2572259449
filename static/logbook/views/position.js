/** A position: what stands there, its sheets, its faults and what happened to it. */

import { isSlot, tagsIn } from "../positions.js";
import { sheets } from "../sheets.js";
import { settled, standing } from "../values.js";
import { progress, signaturesOn } from "./sheet.js";
import { countingOf, isAtOrBelow, shown, valuesShown } from "./shown.js";

/** @typedef {import("../fold.js").Fold} Fold */
/** @typedef {import("../held.js").Held} Held */
/** @typedef {import("./shown.js").Shown} Shown */
/** @typedef {{state: string, tag?: string | null, tags?: string[], values: Shown[]}} Link */
/** @typedef {{id: string, stage: string, done: number, total: number, signed: boolean, changed: boolean}} Progress */
/**
 * `gear`: the lifting gear chosen for its lifts.
 * @typedef {{id: string, chain: Record<string, Link>, gear: Link, given_up: Shown | null, sheets: Progress[], faults: Shown[],
 *   events: Shown[]}} PositionView
 */

const LINKS = /** @type {const} */ (["lens", "body", "run", "control"]);

/** The slots that hold more than one tag. */
const SEVERAL = ["run", "gear"];

/**
 * @param {Fold} fold
 * @param {import("./definition.js").Definition} _definition every view of one thing is asked for alike
 * @param {string} id
 * @returns {PositionView}
 */
export function positionView({ held }, _definition, id) {
  const here = `position/${id}`;
  const tops = [here, `run/${id}`];
  /** @param {{subject: string}} entry */
  const isHere = ({ subject }) => tops.some((top) => isAtOrBelow(subject, top)) && !isSlot(subject);
  return {
    id,
    chain: Object.fromEntries(LINKS.map((link) => [link, linkView(held, `${here}/chain/${link}`, link)])),
    gear: linkView(held, `${here}/chain/gear`, "gear"),
    given_up: givenUp(held, id),
    sheets: [...sheets(held).values()]
      .filter((sheet) => tops.some((top) => isAtOrBelow(sheet.id, top)))
      .map((sheet) => ({
        id: sheet.id,
        stage: sheet.stage,
        ...progress(held, sheet.steps),
        ...signedState(held, sheet.id),
      })),
    faults: countingOf(held, "fault", isHere),
    events: countingOf(held, "event", isHere),
  };
}

/**
 * The choice by which a position was given up; null while it is not, or was restored.
 *
 * @param {Held} held
 * @param {string} id
 */
export function givenUp(held, id) {
  const choice = settled(held, `position/${id}/given-up`);
  return choice?.kind === "choice" && choice.body.choice !== "restored" ? shown(choice) : null;
}

/**
 * `signed`: by a name since which nothing has changed; `changed`: signed, and all names put to it are overtaken.
 *
 * @param {Held} held
 * @param {string} sheet
 */
export function signedState(held, sheet) {
  const signatures = signaturesOn(held, sheet);
  const signed = signatures.some(({ changed }) => !changed);
  return { signed, changed: signatures.length > 0 && !signed };
}

/**
 * @param {Held} held
 * @param {string} slot
 * @param {string} link
 * @returns {Link}
 */
function linkView(held, slot, link) {
  const tags = tagsIn(held, slot);
  const stands = SEVERAL.includes(link) ? { tags: [...(tags ?? [])] } : { tag: tags?.[0] ?? null };
  return { state: standing(held, slot).state, ...stands, values: valuesShown(held, slot) };
}
