// Questions that only the server can answer, with the writer's key.
import { book } from "../logbook/book.js";
import { keysWithCards } from "../logbook/keys.js";
import { Line, refusal } from "../logbook/line.js";

async function line() {
  const key = (await keysWithCards()).find(({ kid }) => kid === book.writer.value?.kid);
  if (!key) throw new Error("Nobody writes on this phone yet: open an invitation first.");
  return new Line(key);
}

/** @param {string} path @returns {Promise<any>} */
export async function get(path) {
  return (await line()).get(path);
}

/** @param {string} path @param {unknown} body @returns {Promise<any>} */
export async function post(path, body) {
  return (await line()).post(path, body);
}

/** A file that the server makes. @param {string} path @returns {Promise<Blob>} */
export async function getFile(path) {
  const answer = await (await line()).ask("GET", path);
  if (!answer.ok) throw await refusal(answer);
  return answer.blob();
}

/** An error as a sentence for the person. @param {unknown} error */
export const sentence = (error) => (error instanceof Error ? error.message : String(error));
