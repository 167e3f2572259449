// A reading as it is kept: what was read, and the verdict that stood beside it.

import { byEye } from "./forms.js";

/** @typedef {import("./core.js").Answer} Answer */
/** @typedef {import("./forms.js").Form} Form */
/** @typedef {import("./forms.js").Field} Field */
/** @typedef {Record<string, any>} Given */

const MOST_CHARACTERS = 32;
export const NO_CORE = "none";
export const NOT_COMPUTED = "not computed here";

/** A number as the logbook writes figures: plain decimal text. @param {number} number */
export function decimalText(number) {
  const [, sign = "", digits = "", fraction = "", power = "0"] =
    String(number).match(/^(-?)(\d+)(?:\.(\d+))?(?:e([+-]\d+))?$/) ?? [];
  const all = digits + fraction;
  const point = digits.length + Number(power);
  const whole = point > 0 ? all.slice(0, point).padEnd(point, "0") : "0";
  const rest = point > 0 ? all.slice(point) : "0".repeat(-point) + all;
  const room = MOST_CHARACTERS - sign.length - whole.length - 1;
  const kept = rest.slice(0, Math.max(0, room)).replace(/0+$/, "");
  const text = kept ? `${whole}.${kept}` : whole;
  return sign && /[1-9]/.test(text) ? `-${text}` : text;
}

/**
 * The body of a reading entry.
 * @param {{ unit: string | null, low: string | null, high: string | null, limit_of: string,
 *   assess: null | { from: Record<string, string> } }} step
 * @param {Form} form @param {Given} given raw, as typed @param {Answer | null} answer null: not computed here
 */
export function readingBody(step, form, given, answer) {
  const limits =
    step.low === null && step.high === null
      ? {}
      : { limits: { low: step.low, high: step.high, of: step.limit_of } };
  return {
    ...principal(step, form, given, answer),
    assessment: {
      name: form.name,
      core: answer?.core ?? NO_CORE,
      verdict: answer?.verdict ?? NOT_COMPUTED,
      inputs: given,
      figures: answer ? figuresText(answer.figures) : {},
      findings: answer?.findings ?? [],
      advice: answer?.advice ?? [],
      ...limits,
    },
  };
}

/** @param {Answer["figures"]} figures */
function figuresText(figures) {
  const texts = Object.entries(figures).map(([name, { value, unit }]) => [
    name,
    { value: typeof value === "number" ? decimalText(value) : value, unit },
  ]);
  return Object.fromEntries(texts);
}

/**
 * The one figure by which the reading is told: in the step's unit where the step names one, else the first that has
 * a number; what was typed, before what was filled in, where nothing was computed; how many answers, where all was
 * judged by eye.
 * @param {{ unit: string | null, assess: null | { from: Record<string, string> } }} step
 * @param {Form} form @param {Given} given @param {Answer | null} answer
 */
function principal({ unit, assess }, form, given, answer) {
  const computed = Object.values(answer?.figures ?? {}).flatMap(({ value, unit: own }) =>
    typeof value === "number" ? [{ figure: decimalText(value), unit: own || "1" }] : [],
  );
  const isFilled = (/** @type {Field} */ { name }) => Number(name in (assess?.from ?? {}));
  const typed = typedFigures(
    form.fields.toSorted((a, b) => isFilled(a) - isFilled(b)),
    given,
  );
  const all = [...computed, ...typed];
  return (
    all.find((one) => one.unit === unit) ??
    all[0] ?? { figure: String(answers(form, given)), unit: "answers" }
  );
}

/** @param {Field[]} fields @param {Given} given @returns {{ figure: string, unit: string }[]} */
function typedFigures(fields, given) {
  return fields.flatMap((field) => {
    const value = given[field.name];
    if (field.kind === "table") {
      return (value ?? []).flatMap((/** @type {Given} */ row) => typedFigures(field.columns ?? [], row));
    }
    if (field.kind !== "quantity" || value === undefined || !Number.isFinite(Number(value))) return [];
    return [{ figure: decimalText(Number(value)), unit: field.unit || "1" }];
  });
}

/** How many things were answered by eye. @param {Form} form @param {Given} given */
function answers(form, given) {
  const counts = byEye(form).map(({ name, kind }) =>
    kind === "names" ? Object.keys(given[name] ?? {}).length : Number(name in given),
  );
  return counts.reduce((sum, count) => sum + count, 0);
}
