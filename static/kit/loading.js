/** What a vehicle carries by its lockers' lists, as `vehicle-load` asks for it; the same as `server/kit/loading.py`. */

/**
 * @typedef {{ tag: string, mass_kg: string | null }} Thing
 * @typedef {{ id: string, vehicle: string, holds: { tag: string, number: string }[], about?: Record<string, string> }} Locker
 * @typedef {{ vehicles: { id: string, about?: Record<string, string> }[], lockers: Locker[], kit: Thing[] }} Unit
 * @typedef {Record<string, string>} Row
 * @typedef {{ about: Record<string, string>, lockers: Row[], things: Row[], untold: string[] }} Load
 */

/** From this mass on a thing is looked at by itself: what taking it out does, what restrains it. House figure. */
const HEAVY_KG = 25;
const MOST_HEAVY = 10;
const FIGURES = [
  "wheelbase_m",
  "unladen_front_kg",
  "unladen_rear_kg",
  "track_m",
  "plate_gross_kg",
  "plate_front_kg",
  "plate_rear_kg",
];

/**
 * What a vehicle carries with every locker filled as listed; its heaviest things are taken out heaviest first.
 * `untold` says what is missing: with any, no answer may be called within a limit. Undefined for no such vehicle.
 *
 * @param {Unit} unit
 * @param {string} id
 * @returns {Load | undefined}
 */
export function loadOf({ vehicles, lockers, kit }, id) {
  const vehicle = vehicles.find((one) => one.id === id);
  if (!vehicle) return undefined;
  const about = vehicle.about ?? {};
  const things = new Map(kit.map((item) => [item.tag, item]));
  const own = lockers.filter((locker) => locker.vehicle === id);
  const listed = own.flatMap((locker) =>
    locker.holds.map(({ tag }) => ({ locker, tag, mass: things.get(tag)?.mass_kg ?? null })),
  );
  return {
    about: Object.fromEntries(
      FIGURES.filter((name) => name in about).map((name) => [name, about[name] ?? ""]),
    ),
    lockers: own.filter(isPlaced).map((locker) => lockerRow(locker, things)),
    things: listed
      .filter(({ mass }) => Number(mass ?? 0) >= HEAVY_KG)
      .sort((a, b) => Number(b.mass) - Number(a.mass) || (a.tag < b.tag ? -1 : 1))
      .slice(0, MOST_HEAVY)
      .filter(({ locker }) => isPlaced(locker))
      .map(({ locker, tag, mass }) => ({ tag, mass_kg: mass ?? "", locker: locker.id })),
    untold: [
      ...listed
        .filter(({ mass }) => mass === null)
        .map(({ locker, tag }) => `${locker.id}: the mass of ${tag} is not known`),
      ...own
        .filter((locker) => !isPlaced(locker))
        .map((locker) => `${locker.id}: where it lies (p_m) is not known`),
      ...FIGURES.filter((name) => !(name in about)).map((name) => `${id}: ${name} is not known`),
    ],
  };
}

/** @param {Load} load @returns {Record<string, unknown>} what `vehicle-load` is asked */
export const inputsOf = ({ about, lockers, things }) => ({ ...about, lockers, things });

/** @param {Locker} locker */
const isPlaced = ({ about }) => about !== undefined && "p_m" in about;

/** @param {Locker} locker @param {Map<string, Thing>} things @returns {Row} */
function lockerRow({ id, holds, about = {} }, things) {
  const grams = holds.reduce(
    (sum, { tag, number }) => sum + Number(number) * Math.round(1000 * Number(things.get(tag)?.mass_kg ?? 0)),
    0,
  );
  return { locker: id, mass_kg: String(grams / 1000), forward_m: about.p_m ?? "", left_m: about.y_m ?? "0" };
}
