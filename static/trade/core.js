// The arithmetic as screens ask for it: promises over a worker that may not be up yet, may fail, and is then replaced.
import { signal } from "@preact/signals";
import { scriptUrl } from "../script-url.js";

/**
 * @typedef {{ value: number | string | null, unit: string }} Figure
 * @typedef {{ assessment: string, core: string, verdict: string, figures: Record<string, Figure>, findings: string[],
 *   advice: string[], cautions: string[], basis: string[] }} Answer
 * @typedef {{ field: string, sentence: string }} Problem
 * @typedef {{ state: "not started" | "loading" | "ready" | "cannot", words: string }} State
 */

/** The arithmetic cannot be done on this phone now; the message is a sentence for the screen. */
export class CannotCompute extends Error {}

/** The input cannot be read: what is wrong, field by field. */
export class BadInput extends Error {
  /** @param {Problem[]} problems */
  constructor(problems) {
    super(problems.map(({ field, sentence }) => `${field}: ${sentence}`).join("\n"));
    this.problems = problems;
  }
}

const WORKER = "/static/trade/worker.js";
const LOADED_WITHIN_MS = 90_000;
const ANSWERED_WITHIN_MS = 15_000;
const NO_WEBASSEMBLY = "WebAssembly is switched off in this browser, and the arithmetic runs in it.";

/** How far the arithmetic is on this phone, with words for `cannot`. */
export const core = signal(/** @type {State} */ ({ state: "not started", words: "" }));

/** @typedef {{ resolve: (text: string) => void, reject: (error: Error) => void }} Asked */
/** @type {{ worker: Worker, ready: Promise<void>, drop: (words: string) => void, asked: Map<number, Asked> } | null} */
let running = null;
let last = 0;

/** Starts the worker where none runs. Resolves when it can compute. @throws {CannotCompute} */
export function start() {
  if (running) return running.ready;
  if (typeof WebAssembly === "undefined") {
    core.value = { state: "cannot", words: NO_WEBASSEMBLY };
    return Promise.reject(new CannotCompute(NO_WEBASSEMBLY));
  }
  core.value = { state: "loading", words: "" };
  running = begin();
  return running.ready;
}

/** Starts it when nothing else is to be done, so that it is up before anybody asks. */
export function warm() {
  const idle = globalThis.requestIdleCallback ?? ((/** @type {() => void} */ act) => setTimeout(act));
  idle(() => start().catch(() => {})); // said by `core` where somebody asks
}

function begin() {
  const worker = new Worker(scriptUrl(WORKER), { type: "module" });
  /** @type {Map<number, Asked>} */
  const asked = new Map();
  /** @type {(words: string) => void} */
  let drop = () => {};
  const ready = new Promise((/** @type {(nothing: void) => void} */ resolve, reject) => {
    const deadline = setTimeout(() => drop("it did not start in time"), LOADED_WITHIN_MS);
    drop = (words) => {
      clearTimeout(deadline);
      worker.terminate();
      const error = new CannotCompute(`The arithmetic does not run on this phone now: ${words}.`);
      for (const one of asked.values()) one.reject(error);
      asked.clear();
      if (running?.worker === worker) {
        running = null;
        core.value = { state: "cannot", words: error.message };
      }
      reject(error);
    };
    worker.addEventListener("error", (event) => drop(event.message || "its files are not on this phone yet"));
    worker.addEventListener("message", ({ data }) => {
      if (data.fatal !== undefined) return drop(lastLine(data.fatal));
      if (data.ready) {
        clearTimeout(deadline);
        core.value = { state: "ready", words: "" };
        return resolve();
      }
      asked.get(data.id)?.resolve(data.text);
      asked.delete(data.id);
    });
  });
  ready.catch(() => {}); // said by `core`; whoever waits for it hears it too
  return { worker, ready, drop: (/** @type {string} */ words) => drop(words), asked };
}

/** A Python error's last line says what it was. @param {string} text */
const lastLine = (text) => text.trim().split("\n").at(-1) ?? text;

/** @param {"assess" | "drawing"} what @param {string} name @param {unknown} input @returns {Promise<any>} */
async function ask(what, name, input) {
  await start();
  const text = JSON.stringify({ assessment: name, input });
  const answer = JSON.parse(await answered(what, text));
  if (answer.problems) throw new BadInput(answer.problems);
  return answer;
}

/** @param {string} what @param {string} text @returns {Promise<string>} */
function answered(what, text) {
  if (!running) return Promise.reject(new CannotCompute(core.value.words));
  const { worker, drop, asked } = running;
  const id = ++last;
  const late = setTimeout(() => drop("it took too long over this"), ANSWERED_WITHIN_MS);
  return new Promise((/** @type {(text: string) => void} */ resolve, reject) => {
    asked.set(id, { resolve, reject });
    worker.postMessage({ id, what, text });
  }).finally(() => clearTimeout(late));
}

/**
 * The verdict on raw input.
 * @param {string} name @param {unknown} input @returns {Promise<Answer>} @throws {BadInput | CannotCompute}
 */
export const assess = (name, input) => ask("assess", name, input);

/**
 * The figure that belongs to it, SVG; null where the computation draws none.
 * @param {string} name @param {unknown} input @returns {Promise<string | null>} @throws {BadInput | CannotCompute}
 */
export const drawing = async (name, input) => (await ask("drawing", name, input)).svg;
