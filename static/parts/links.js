// A position's chain, from its view to what is drawn.
import { kitOf } from "./show.js";

/** @param {import("./shapes.js").PositionView} view */
export function chainOf({ chain }) {
  const one = (/** @type {string} */ slot) =>
    chain[slot]?.state === "disputed" ? "disputed" : (chain[slot]?.tag ?? null);
  const tags = chain.run?.tags ?? (chain.run?.tag ? [chain.run.tag] : []);
  const drums = tags.map((tag) => ({ tag, length_m: Number(kitOf(tag)?.about.length_m ?? 0) }));
  return { lens: one("lens"), body: one("body"), drums, control: one("control") };
}
