import { html } from "htm/preact";
import { useEffect, useState } from "preact/hooks";
import { digestOf } from "../logbook/files.js";
import { current, devicesView, personOfKey } from "./show.js";

/** @typedef {import("../logbook/chains.js").Heads} HeadsOfOne */

/** How far each phone's entries are here, and one word for all of it: phones that show the same word hold the same. */
export function Heads() {
  const devices = Object.entries(devicesView());
  const word = useWord(devices);
  if (devices.length === 0) return null;
  return html`<section class="list" aria-labelledby="heads"><h2 id="heads">What this phone holds of the show</h2>
    <p class="verdict">${word}</p>
    <p>A phone that shows the same word holds the same entries.</p>
    <ul class="list">${devices.map(
      ([kid, heads]) => html`<li class="slip" key=${kid}><strong>${personOfKey(kid)}</strong>, ${heard(heads)}
      ${heads.forked && html`<br /><strong>Forked: two ends, both kept</strong>`}
      ${heads.gaps.length > 0 && html`<br /><strong class="alarm">Written, not arrived: ${heads.gaps.map(range).join(", ")}</strong>`}</li>`,
    )}</ul></section>`;
}

/** @param {HeadsOfOne} heads */
function heard({ tips }) {
  return (
    tips.map((name) => `number ${current().fold.entry(name)?.number}`).join(" and ") ||
    "no entry in order yet"
  );
}

/** @param {[number, number]} gap */
const range = ([first, last]) => (first === last ? `${first}` : `${first} to ${last}`);

/** The first letters of the digest of all heads, in two groups. @param {[string, HeadsOfOne][]} devices */
function useWord(devices) {
  const [word, setWord] = useState("");
  const all = devices
    .flatMap(([, { tips }]) => tips)
    .sort()
    .join("\n");
  useEffect(() => {
    digestOf(/** @type {ArrayBuffer} */ (new TextEncoder().encode(all).buffer)).then((digest) => {
      const letters = digest.replace(/[^A-Za-z0-9]/g, "").toUpperCase();
      setWord(`${letters.slice(0, 4)} ${letters.slice(4, 8)}`);
    });
  }, [all]);
  return word;
}
