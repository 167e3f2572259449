/**
 * JSON as the logbook takes it: the profile of I-JSON (RFC 7493) that two languages read alike.
 *
 * `JSON.parse` takes duplicate members, fractions, lone surrogates and any depth, so this reads by itself.
 */

const MAX_DEPTH = 16;
const WORDS = /** @type {const} */ ([
  ["true", true],
  ["false", false],
  ["null", null],
]);
/** @type {Record<string, string>} */
const ESCAPES = { '"': '"', "\\": "\\", "/": "/", b: "\b", f: "\f", n: "\n", r: "\r", t: "\t" };

/** @typedef {null | boolean | number | string | Json[] | {[member: string]: Json}} Json */

/** The octets are not the JSON that the logbook takes; the message says why. */
export class NotIJson extends Error {}

/**
 * Read UTF-8 JSON: objects, lists, strings, integers within 2^53-1, true, false, null.
 *
 * @param {Uint8Array} octets
 * @param {number} [maxDepth] the outermost value is 1
 * @returns {Json}
 * @throws {NotIJson}
 */
export function readIJson(octets, maxDepth = MAX_DEPTH) {
  return new Reader(decode(octets), maxDepth).document();
}

/** @param {Uint8Array} octets */
function decode(octets) {
  if (octets[0] === 0xef && octets[1] === 0xbb && octets[2] === 0xbf) {
    throw new NotIJson("it begins with a byte order mark");
  }
  try {
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(octets);
  } catch {
    throw new NotIJson("it is not UTF-8");
  }
}

class Reader {
  #at = 0;
  #text;
  #maxDepth;

  /**
   * @param {string} text
   * @param {number} maxDepth
   */
  constructor(text, maxDepth) {
    this.#text = text;
    this.#maxDepth = maxDepth;
  }

  document() {
    const value = this.#value(1);
    this.#blank();
    if (this.#at < this.#text.length) throw new NotIJson("something follows the value");
    return value;
  }

  #blank() {
    while (" \t\n\r".includes(this.#text.charAt(this.#at)) && this.#at < this.#text.length) this.#at += 1;
  }

  /** @param {string} mark */
  #takes(mark) {
    this.#blank();
    if (this.#text[this.#at] !== mark) return false;
    this.#at += 1;
    return true;
  }

  /** @param {string} mark */
  #expect(mark) {
    if (!this.#takes(mark)) throw new NotIJson(`it is not JSON: ${mark} is missing`);
  }

  /**
   * @param {number} depth
   * @returns {Json}
   */
  #value(depth) {
    if (depth > this.#maxDepth) throw new NotIJson(`it is nested deeper than ${this.#maxDepth}`);
    if (this.#takes("{")) return this.#object(depth);
    if (this.#takes("[")) return this.#list(depth);
    if (this.#takes('"')) return this.#string();
    const word = this.#word();
    return word === undefined ? this.#integer() : word;
  }

  /**
   * @param {number} depth
   * @returns {{[member: string]: Json}}
   */
  #object(depth) {
    // Without a prototype, a member called "__proto__" is a member like any other.
    const members = Object.create(null);
    if (this.#takes("}")) return members;
    do {
      this.#expect('"');
      const member = this.#string();
      if (member in members) throw new NotIJson(`the member ${JSON.stringify(member)} is there twice`);
      this.#expect(":");
      members[member] = this.#value(depth + 1);
    } while (this.#takes(","));
    this.#expect("}");
    return members;
  }

  /**
   * @param {number} depth
   * @returns {Json[]}
   */
  #list(depth) {
    /** @type {Json[]} */
    const items = [];
    if (this.#takes("]")) return items;
    do items.push(this.#value(depth + 1));
    while (this.#takes(","));
    this.#expect("]");
    return items;
  }

  #string() {
    const pieces = [];
    for (;;) {
      const end = this.#endOfPlain();
      pieces.push(this.#text.slice(this.#at, end));
      this.#at = end;
      const mark = this.#text[this.#at];
      this.#at += 1;
      if (mark === '"') return checked(pieces.join(""));
      if (mark !== "\\") throw new NotIJson("a string does not end, or has a control character in it");
      pieces.push(this.#escape());
    }
  }

  /** Where the next character stands that is not itself: a quote, a backslash or one that JSON forbids. */
  #endOfPlain() {
    let at = this.#at;
    while (at < this.#text.length && !'"\\'.includes(this.#text.charAt(at)) && this.#text.charAt(at) >= " ")
      at += 1;
    return at;
  }

  #escape() {
    const letter = this.#text.charAt(this.#at);
    this.#at += 1;
    const plain = Object.hasOwn(ESCAPES, letter) ? ESCAPES[letter] : undefined;
    if (plain !== undefined) return plain;
    const digits = this.#text.slice(this.#at, this.#at + 4);
    if (letter !== "u" || !/^[0-9a-fA-F]{4}$/.test(digits)) throw new NotIJson("a string has a false escape");
    this.#at += 4;
    return String.fromCharCode(Number.parseInt(digits, 16));
  }

  /** @returns {Json | undefined} */
  #word() {
    for (const [word, value] of WORDS) {
      if (this.#text.startsWith(word, this.#at)) {
        this.#at += word.length;
        return value;
      }
    }
    return undefined;
  }

  #integer() {
    const form = /-?[0-9][0-9.eE+-]*/y;
    form.lastIndex = this.#at;
    const digits = form.exec(this.#text)?.[0];
    if (digits === undefined) throw new NotIJson("it is not JSON: a value is missing");
    if (!/^-?(0|[1-9][0-9]*)$/.test(digits)) throw new NotIJson(`${digits} is not a plain integer`);
    const number = Number(digits);
    if (!Number.isSafeInteger(number)) throw new NotIJson(`${digits} is beyond 2^53-1`);
    this.#at += digits.length;
    return number === 0 ? 0 : number;
  }
}

/** @param {string} text */
function checked(text) {
  if (text.includes("\0")) throw new NotIJson("a string holds U+0000");
  if (/\p{Surrogate}/u.test(text)) throw new NotIJson("a string holds a lone surrogate");
  if (/\p{Noncharacter_Code_Point}/u.test(text)) throw new NotIJson("a string holds a noncharacter");
  return text;
}
