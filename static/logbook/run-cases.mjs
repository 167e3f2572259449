/** Answers a file of cases in the form of the shared vectors: `node run-cases.mjs FILE` prints a JSON array. */

import { readFile } from "node:fs/promises";
import { dirname, resolve } from "node:path";
import { Fold } from "./fold.js";
import * as views from "./views.js";

/**
 * @typedef {{name: string, log: string, unit_key: import("./jws.js").Jwk, sheets: {id: string, text: string}[],
 *   cards: string[], entries: string[], files?: Record<string, string>,
 *   carried_over?: import("./fold.js").Carried[],
 *   definition?: import("./views/definition.js").Definition, views?: [keyof typeof views, ...string[]][]}} Case
 *   `views`: a view's name and what it is asked for, `["sheet", "position/2/rig"]`; it needs `definition`
 */

/** @param {string[]} words of the command */
async function main(words) {
  const [file, ...rest] = words;
  if (file === undefined || rest.length > 0)
    throw new Error("Name one file of cases: node run-cases.mjs FILE");
  const { kinds, cases } = await readCases(file);
  const answers = [];
  for (const one of cases) answers.push(await answer(kinds, one));
  process.stdout.write(`${JSON.stringify(answers)}\n`);
}

/** @param {string} file */
async function readCases(file) {
  const { kinds, cases } = await readJson(file);
  if (!Array.isArray(cases)) throw new Error(`${file} has no list "cases".`);
  const rules = typeof kinds === "string" ? await readJson(resolve(dirname(file), kinds)) : kinds;
  if (typeof rules !== "object" || rules === null) {
    throw new Error(`${file} has no "kinds": a path from there, or the kinds themselves.`);
  }
  return { kinds: rules, cases };
}

/** @param {string} file */
async function readJson(file) {
  const text = await readFile(file, "utf8").catch(() => {
    throw new Error(`${file} cannot be read.`);
  });
  try {
    return JSON.parse(text);
  } catch (fault) {
    throw new Error(`${file} is not JSON: ${fault instanceof Error ? fault.message : fault}`);
  }
}

/**
 * @param {import("./kinds.js").Kinds} kinds
 * @param {Case} one
 */
async function answer(kinds, one) {
  try {
    const fold = new Fold({ ...one, unitKey: one.unit_key, kinds });
    await fold.addCards(one.cards);
    await fold.addCarried(one.carried_over ?? []);
    await fold.addEntries(one.entries);
    if (one.views === undefined) return fold.answer();
    return { ...fold.answer(), views: one.views.map(([view, ...of]) => viewOf(fold, one, view, of)) };
  } catch (fault) {
    throw new Error(
      `The case ${one.name} cannot be folded: ${fault instanceof Error ? fault.message : fault}`,
    );
  }
}

/**
 * @param {Fold} fold
 * @param {Case} one
 * @param {string} view
 * @param {string[]} of
 */
function viewOf(fold, { definition }, view, of) {
  const show = /** @type {Record<string, ((...asked: any[]) => unknown) | undefined>} */ (views)[view];
  if (show === undefined) throw new Error(`there is no view called ${view}.`);
  return show(fold, definition, ...of);
}

main(process.argv.slice(2)).catch((fault) => {
  process.stderr.write(`${fault.message}\n`);
  process.exitCode = 2;
});
