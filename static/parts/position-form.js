import { html } from "htm/preact";
import { Field, Several } from "./pick.js";

const ways = ["carried", "hoisted", "stretcher", "stairs", "ground"];

/** @param {string} id */
export function emptyPosition(id) {
  return {
    id,
    name: "",
    camera: "three-sensor",
    height_m: "",
    distance_m: "",
    way_up: "carried",
    tower: /** @type {string | null} */ (null),
    column: /** @type {string | null} */ (null),
    legs: /** @type {string | null} */ (null),
    chain: { lens: "", body: "", run: /** @type {string[]} */ ([]), control: "" },
  };
}

/** One position of a plan. @param {{ position: ReturnType<typeof emptyPosition>, kit: import("./shapes.js").Kit[], set: (position: any) => void }} props */
export function PositionForm({ position, kit, set }) {
  const id = `position-${position.id}`;
  const put = (/** @type {string} */ name) => (/** @type {string} */ text) =>
    set({ ...position, [name]: text });
  const link = (/** @type {string} */ name) => (/** @type {string} */ tag) => {
    const camera =
      name === "body"
        ? (kit.find((item) => item.tag === tag)?.about.camera ?? position.camera)
        : position.camera;
    set({ ...position, camera, chain: { ...position.chain, [name]: tag } });
  };
  const drums = kit.filter(({ type }) => type === "drum");
  return html`<section class="card" aria-label=${`Position ${position.id}`}><h2>Position <span class="stencil">${position.id}</span></h2>
    <${Field} label="Where" name=${`${id}-name`} value=${position.name} set=${put("name")} />
    <div class="field-row"><${Field} label="Height, m" name=${`${id}-height`} value=${position.height_m} set=${put("height_m")} /><${Field} label="Distance, m" name=${`${id}-distance`} value=${position.distance_m} set=${put("distance_m")} /></div>
    <${Pick} id=${`${id}-way`} label="How it gets there" options=${ways} value=${position.way_up} set=${put("way_up")} />
    ${position.way_up === "hoisted" && html`<${Field} label="Tower" name=${`${id}-tower`} value=${position.tower ?? ""} set=${(/** @type {string} */ text) => set({ ...position, tower: text || null })} />`}
    <div class="field-row"><${Pick} id=${`${id}-body`} label="Body" options=${tags(kit, "body")} value=${position.chain.body} set=${link("body")} empty />
      <${Pick} id=${`${id}-lens`} label="Lens" options=${tags(kit, "lens")} value=${position.chain.lens} set=${link("lens")} empty />
      <${Pick} id=${`${id}-control`} label="Control unit" options=${tags(kit, "control-unit")} value=${position.chain.control} set=${link("control")} empty />
      <${Pick} id=${`${id}-column`} label="Column" options=${tags(kit, "column")} value=${position.column ?? ""} set=${(/** @type {string} */ tag) => set({ ...position, column: tag || null })} empty />
      <${Pick} id=${`${id}-legs`} label="Legs" options=${tags(kit, "legs")} value=${position.legs ?? ""} set=${(/** @type {string} */ tag) => set({ ...position, legs: tag || null })} empty /></div>
    <details><summary class="act left">Run: ${position.chain.run.join(", ") || "no drum yet"}</summary>
      <${Several} legend="Drums, in the order they are joined" options=${drums.map(({ tag, about }) => ({ id: tag, label: `${tag}, ${about.length_m} m` }))} values=${position.chain.run} set=${(/** @type {string[]} */ run) => set({ ...position, chain: { ...position.chain, run } })} /></details>
  </section>`;
}

/** @param {import("./shapes.js").Kit[]} kit @param {string} type */
const tags = (kit, type) => kit.filter((item) => item.type === type).map(({ tag }) => tag);

/** @param {{ id: string, label: string, options: string[], value: string, set: (value: string) => void, empty?: boolean }} props */
export function Pick({ id, label, options, value, set, empty = false }) {
  return html`<div class="field"><label for=${id}>${label}</label><select id=${id} value=${value} onChange=${(/** @type {any} */ event) => set(event.currentTarget.value)}>
    ${empty && html`<option value="">none</option>`}${options.map((option) => html`<option key=${option} value=${option}>${option}</option>`)}</select></div>`;
}
