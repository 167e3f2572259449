// What the open show offers to fill a form in with: its kit, and what stands in a position's chain now.
import { definition, kitOf, positionView } from "../parts/show.js";

/** @param {string} subject the step's @returns {import("./prefill.js").Stock} */
export function stockFor(subject) {
  const [room = "", id = ""] = subject.split("/");
  const chain = room === "position" || room === "run" ? positionView(id).chain : {};
  const { starts, ends } = definition();
  return {
    kit: kitOf,
    chain(link) {
      const slot = chain[link];
      if (slot?.state !== "settled") return [];
      return slot.tags ?? (slot.tag ? [slot.tag] : []);
    },
    show: { starts, ends },
  };
}
