// What the open show offers to fill a form in with: its kit, and what stands in a position's chain now.
import { loadOf } from "../kit/loading.js";
import { definition, kitOf, positionView } from "../parts/show.js";

/** @param {string} subject the step's @returns {import("./prefill.js").Stock} */
export function stockFor(subject) {
  const [room = "", id = ""] = subject.split("/");
  const position = room === "position" || room === "run" ? positionView(id) : null;
  const { starts, ends } = definition();
  return {
    kit: kitOf,
    chain(link) {
      /** @type {import("../parts/shapes.js").SlotView | undefined} */
      const slot = link === "gear" ? position?.gear : position?.chain[link];
      if (slot?.state !== "settled") return [];
      return slot.tags ?? (slot.tag ? [slot.tag] : []);
    },
    vehicle: (own) => loadOf(definition(), own),
    show: { starts, ends },
  };
}
