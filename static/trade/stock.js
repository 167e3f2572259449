// What the open show offers to fill a form in with: its kit, and what stands in a position's chain now.
import { definition, kitOf, positionView } from "../parts/show.js";

/** @param {string} subject the step's @returns {import("./prefill.js").Stock} */
export function stockFor(subject) {
  const [room = "", id = ""] = subject.split("/");
  const position = room === "position" || room === "run" ? positionView(id) : null;
  const { starts, ends, vehicles, lockers } = definition();
  return {
    kit: kitOf,
    chain(link) {
      /** @type {import("../parts/shapes.js").SlotView | undefined} */
      const slot = link === "gear" ? position?.gear : position?.chain[link];
      if (slot?.state !== "settled") return [];
      return slot.tags ?? (slot.tag ? [slot.tag] : []);
    },
    vehicle(own) {
      const about = vehicles.find((one) => one.id === own)?.about;
      return about && { about, lockers: lockers.filter(({ vehicle }) => vehicle === own).map(lockerRow) };
    },
    show: { starts, ends },
  };
}

/** A locker as a load: what its list weighs, and where it sits. @param {import("../parts/shapes.js").Locker} locker */
function lockerRow({ id, holds, about }) {
  const mass = holds.reduce(
    (sum, { tag, number }) => sum + Number(number) * Number(kitOf(tag)?.mass_kg ?? 0),
    0,
  );
  const place = { ...(about?.p_m && { forward_m: about.p_m }), ...(about?.y_m && { left_m: about.y_m }) };
  return { locker: id, mass_kg: String(Number(mass.toFixed(3))), ...place };
}
