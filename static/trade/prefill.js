// What a computation is filled in with: from the kit, from what stands in the chain now, from the show.

/**
 * What a source is read from; a link that is unset, disputed or empty has no tags.
 * @typedef {{ tag: string, number: string, mass_kg: string | null, dates: Record<string, string | undefined>,
 *   about: Record<string, string> }} Thing
 * @typedef {Record<string, string>} Row
 * @typedef {{ kit: (tag: string) => Thing | undefined, chain: (link: string) => string[],
 *   vehicle: (id: string) => { about: Record<string, string>, lockers: Row[], things: Row[] } | undefined,
 *   show: Record<string, string> }} Stock
 * @typedef {import("./forms.js").Field} Field
 * @typedef {{ value: string | Row[] | Row | null, words: string }} Filled what to fill in, and where it is from or why not
 */

const LINKS = /** @type {Record<string, string>} */ ({
  lens: "lens",
  body: "body",
  run: "drum",
  control: "control unit",
  gear: "lifting gear",
});

/**
 * Each declared field that the step fills in.
 * @param {Record<string, string>} from @param {Field[]} fields @param {Stock} stock @returns {Record<string, Filled>}
 */
export function prefill(from, fields, stock) {
  return Object.fromEntries(
    fields
      .filter(({ name }) => name in from)
      .map((field) => [field.name, filled(String(from[field.name]), field, stock)]),
  );
}

/** @param {string} source @param {Field} field @param {Stock} stock @returns {Filled} */
function filled(source, field, stock) {
  if (source.startsWith("show:")) return ofShow(source.slice("show:".length), stock);
  if (source.startsWith("vehicle:")) return ofVehicle(source.slice("vehicle:".length), field, stock);
  if (/^(kit|chain):/.test(source)) return ofThings(source, field, stock);
  return { value: field.kind === "names" ? pairs(source) : source, words: "from the sheet" };
}

/** `L: live, N: neutral` @param {string} text @returns {Row} */
function pairs(text) {
  const parts = text.split(",").map((pair) => pair.split(":"));
  return Object.fromEntries(parts.map(([name = "", ...rest]) => [name.trim(), rest.join(":").trim()]));
}

/** The day on which the show starts or ends. @param {string} what @param {Stock} stock @returns {Filled} */
function ofShow(what, { show }) {
  const day = show[what]?.slice(0, 10) ?? null;
  return { value: day, words: day ? "from the show" : "the show does not say" };
}

/** `VEHICLE.field`; for a table `VEHICLE`: a row for each of its lockers, or of its heaviest things. @param {string} source @param {Field} field @param {Stock} stock @returns {Filled} */
function ofVehicle(source, field, stock) {
  const [id = "", what = ""] = source.split(".");
  const vehicle = stock.vehicle(id);
  const rows = field.name === "things" ? vehicle?.things : vehicle?.lockers;
  const value = field.kind === "table" ? rows : vehicle?.about[what];
  return { value: value ?? null, words: value === undefined ? `${id} does not say` : `from ${id}` };
}

/** @param {string} source @param {Field} field @param {Stock} stock @returns {Filled} */
function ofThings(source, field, stock) {
  const { tags, what, missing } = named(source, stock);
  if (tags.length === 0) return { value: null, words: missing };
  const things = tags.map((tag) => ({ tag, thing: stock.kit(tag) }));
  const words = `from ${tags.join(", ")}`;
  if (field.kind === "table") return { value: things.map(({ tag, thing }) => row(tag, thing, field)), words };
  const values = things.map(({ thing }) => (thing && what ? fieldOf(thing, what) : undefined));
  const lacking = things.filter((_, index) => values[index] === undefined).map(({ tag }) => tag);
  if (lacking.length > 0) return { value: null, words: `${lacking.join(", ")} does not say` };
  return { value: together(/** @type {string[]} */ (values)), words };
}

/**
 * The things that a source names, and which of their fields: `kit:TAG.field`, `chain:LINK.field`; for a table,
 * one or more `kit:TAG` or `chain:LINK`.
 * @param {string} source @param {Stock} stock
 */
function named(source, stock) {
  const parts = source.split(/\s+/).map((part) => {
    const [, room = "", id = "", what = ""] = part.match(/^(kit|chain):([^.]+)\.?(.*)$/) ?? [];
    return { tags: room === "kit" ? [id] : stock.chain(id), what, id };
  });
  return {
    tags: parts.flatMap(({ tags }) => tags),
    what: parts[0]?.what,
    missing: `no ${LINKS[parts[0]?.id ?? ""] ?? "thing"} stands there yet`,
  };
}

/** @param {Thing} thing @param {string} what @returns {string | undefined} */
function fieldOf(thing, what) {
  if (what === "tag") return thing.tag;
  if (what === "number") return thing.number;
  if (what === "mass_kg") return thing.mass_kg ?? undefined;
  if (what === "next_examination") return thing.dates.due;
  return thing.about[what] ?? thing.dates[what];
}

/** One thing's own, or the sum over the drums of a run. @param {string[]} values */
function together(values) {
  if (values.length === 1) return values[0] ?? null;
  const sum = values.reduce((total, value) => total + Number(value), 0);
  return Number.isFinite(sum) ? String(Number(sum.toFixed(6))) : null;
}

/** @param {string} tag @param {Thing | undefined} thing @param {Field} table @returns {Row} */
function row(tag, thing, table) {
  const cells = (table.columns ?? []).map(({ name }) => [
    name,
    name === "tag" ? tag : thing && fieldOf(thing, name),
  ]);
  return Object.fromEntries(cells.filter(([, value]) => value !== undefined));
}
