/** The kinds of entry: what a body must look like, who may write it, and by what two of one kind agree. */

import { isDecimal, plain } from "./decimal.js";

/** @typedef {import("./ijson.js").Json} Json */
/** @typedef {{[member: string]: Json}} Members */

/**
 * As much of JSON Schema as the kinds use; `"format": "decimal"` marks a figure.
 * @typedef {{type?: string | string[], required?: string[], properties?: Record<string, Schema>, items?: Schema,
 *   enum?: Json[], oneOf?: Schema[], pattern?: string, minLength?: number, maxLength?: number, minItems?: number,
 *   format?: string, minimum?: number, maximum?: number}} Schema
 * @typedef {{does: "states" | "adds", agree: string[], roles: string[] | null, schema: Schema, file?: Schema,
 *   sheet?: Schema}} Kind `file`: what a file that the body names must hold, and each sheet among it
 * @typedef {Record<string, Kind>} Kinds
 */

/** @type {Record<string, (value: Json) => boolean>} */
const TYPES = {
  object: (value) => typeof value === "object" && value !== null && !Array.isArray(value),
  array: Array.isArray,
  string: (value) => typeof value === "string",
  integer: (value) => typeof value === "number",
  boolean: (value) => typeof value === "boolean",
  null: (value) => value === null,
};

/**
 * Whether a value is what a schema asks for; members that it does not name are allowed.
 *
 * @param {Json} value
 * @param {Schema} schema
 * @returns {boolean}
 */
export function fits(value, schema) {
  if (schema.type && ![schema.type].flat().some((type) => TYPES[type]?.(value))) return false;
  if (schema.enum && !schema.enum.includes(value)) return false;
  if (schema.oneOf && schema.oneOf.filter((one) => fits(value, one)).length !== 1) return false;
  if (typeof value === "string") return textFits(value, schema);
  if (typeof value === "number")
    return value >= (schema.minimum ?? value) && value <= (schema.maximum ?? value);
  if (Array.isArray(value)) return listFits(value, schema);
  return typeof value !== "object" || value === null || membersFit(value, schema);
}

/**
 * @param {string} text
 * @param {Schema} schema
 */
function textFits(text, { minLength = 0, maxLength = Infinity, pattern, format }) {
  const characters = [...text].length;
  if (characters < minLength || characters > maxLength) return false;
  if (format === "decimal" && !isDecimal(text)) return false;
  return pattern === undefined || new RegExp(pattern, "u").test(text);
}

/**
 * @param {Json[]} list
 * @param {Schema} schema
 */
function listFits(list, { minItems = 0, items }) {
  return list.length >= minItems && (items === undefined || list.every((item) => fits(item, items)));
}

/**
 * @param {Members} members
 * @param {Schema} schema
 */
function membersFit(members, { required = [], properties = {} }) {
  return (
    required.every((member) => Object.hasOwn(members, member)) &&
    Object.entries(properties).every(([member, schema]) => {
      const value = Object.hasOwn(members, member) ? members[member] : undefined;
      return value === undefined || fits(value, schema);
    })
  );
}

/**
 * What an entry states, as one text: two entries agree where these are equal.
 *
 * Figures go by value; an absent member states something else than any value of it.
 *
 * @param {string} kind
 * @param {Kind} rule
 * @param {Members} body
 */
export function statement(kind, { agree, schema }, body) {
  const stated = agree.map((member) => {
    const value = Object.hasOwn(body, member) ? body[member] : undefined;
    if (value === undefined) return "absent";
    const figure = schema.properties?.[member]?.format === "decimal" && isDecimal(value);
    return canonical(figure ? plain(value) : value);
  });
  return [kind, ...stated].join("\n");
}

/**
 * JSON with the members of objects in order, so that equal values are equal texts.
 * @param {Json} value
 * @returns {string}
 */
function canonical(value) {
  if (Array.isArray(value)) return `[${value.map(canonical).join()}]`;
  if (typeof value !== "object" || value === null) return JSON.stringify(value);
  const members = Object.keys(value).sort();
  return `{${members.map((member) => `${JSON.stringify(member)}:${canonical(value[member] ?? null)}`).join()}}`;
}
