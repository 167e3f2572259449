// Talks to the server. Nothing here decides what becomes of an entry: whoever asks keeps what was not answered.
import { signSession } from "./keys.js";
import { keepSetting, setting } from "./store.js";

/** No answer, or none to be believed: no signal, a captive portal, a gateway. What was to be sent is kept. */
export class NoAnswer extends Error {}

/** The server answered, and not with what was asked for. */
export class Refusal extends Error {
  /** @param {number} status @param {string} detail a sentence for the person */
  constructor(status, detail) {
    super(detail);
    this.status = status;
  }
}

const ANSWER_WITHIN_MS = 60_000;
const IN_JSON = { "Content-Type": "application/json" };

/**
 * @param {string} method @param {string} path @param {BodyInit | null} [body] @param {Record<string, string>} [headers]
 * @returns {Promise<Response>} any answer of the server, also a refusing one
 */
async function ask(method, path, body = null, headers = {}) {
  try {
    return await fetch(path, {
      method,
      body,
      headers,
      credentials: "same-origin",
      cache: "no-store",
      redirect: "error",
      signal: AbortSignal.timeout(ANSWER_WITHIN_MS),
    });
  } catch (error) {
    throw new NoAnswer("No answer from the server.", { cause: error });
  }
}

/** @param {Response} response @returns {Promise<Refusal>} */
export async function refusal(response) {
  const problem = await response.json().catch(() => ({}));
  const text = [problem?.detail, problem?.title].find((part) => typeof part === "string" && part !== "");
  return new Refusal(response.status, text ?? `The server answered ${response.status}.`);
}

/**
 * The answer's JSON. An answer that is not JSON is a portal's or a gateway's, and no answer.
 * @param {Response} response @returns {Promise<any>}
 */
async function json(response) {
  if (!response.ok) throw await refusal(response);
  if (response.status === 204) return null;
  try {
    return await response.json();
  } catch (error) {
    throw new NoAnswer("Something between this phone and the server answered in its place.", {
      cause: error,
    });
  }
}

/** Asks without a session: enrolment and what leads to a session. @param {string} path @param {unknown} [body] */
export async function askOpenly(path, body) {
  return json(
    await (body === undefined ? ask("GET", path) : ask("POST", path, JSON.stringify(body), IN_JSON)),
  );
}

/** Setting: the key whose session the browser's one cookie is. */
export const SESSION_OF = "session-of";

/** @type {Map<string, Promise<void>>} */
const renewing = new Map();

/**
 * Proves the key again; the many that meet a 401 at once share one renewal.
 * @param {import("./store.js").KeyRow} key
 */
function renew(key) {
  const open = renewing.get(key.kid) ?? openSession(key).finally(() => renewing.delete(key.kid));
  renewing.set(key.kid, open);
  return open;
}

/** @param {import("./store.js").KeyRow} key */
async function openSession(key) {
  const { nonce } = await askOpenly("/api/nonce");
  const session = await signSession(key, location.origin, nonce);
  await askOpenly("/api/sessions", { session, card: key.card });
  await keepSetting(SESSION_OF, key.kid);
}

/** A line to the server that proves one key, where the session was lost or is another key's of this phone. */
export class Line {
  /** @param {import("./store.js").KeyRow} key */
  constructor(key) {
    this.key = key;
  }

  /**
   * @param {string} method @param {string} path @param {BodyInit | null} [body] @param {Record<string, string>} [headers]
   * @returns {Promise<Response>} an answer that is no 401
   * @throws {NoAnswer | Refusal}
   */
  async ask(method, path, body = null, headers = {}) {
    if ((await setting(SESSION_OF)) !== this.key.kid) await renew(this.key);
    const first = await ask(method, path, body, headers);
    if (first.status !== 401) return first;
    await renew(this.key);
    const second = await ask(method, path, body, headers);
    if (second.status === 401) throw await refusal(second);
    return second;
  }

  /** @param {string} path */
  async get(path) {
    return json(await this.ask("GET", path));
  }

  /**
   * What stands at a path, where it is another than what is held.
   * @param {string} path @param {string | null} tag the ETag of the answer that is held
   * @returns {Promise<{answer: any, tag: string | null} | null>} null: what is held still stands
   */
  async getChanged(path, tag) {
    const response = await this.ask("GET", path, null, tag === null ? {} : { "If-None-Match": tag });
    if (response.status === 304) return null;
    return { answer: await json(response), tag: response.headers.get("ETag") };
  }

  /** @param {string} path @param {unknown} body */
  async post(path, body) {
    return json(await this.ask("POST", path, JSON.stringify(body), IN_JSON));
  }

  /** @param {import("./store.js").FileRow} file */
  async putFile(file) {
    await json(await this.ask("PUT", `/api/files/${file.sha256}`, file.bytes, { "Content-Type": file.type }));
  }

  /** @param {string} sha256 @returns {Promise<{bytes: ArrayBuffer, type: string} | null>} null: not arrived there either */
  async getFile(sha256) {
    const response = await this.ask("GET", `/api/files/${sha256}`);
    if (response.status === 404) return null;
    if (!response.ok) throw await refusal(response);
    const type = response.headers.get("Content-Type") ?? "application/octet-stream";
    return { bytes: await response.arrayBuffer(), type };
  }
}
