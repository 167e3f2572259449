// What each computation asks, as its declaration says: there before Python is, and without it.

/**
 * @typedef {{ name: string, label: string, help: string, needed: boolean, default: any,
 *   kind: "quantity" | "choice" | "text" | "day" | "names" | "table", unit?: string, low?: number, high?: number,
 *   whole?: boolean, options?: string[], keys?: string[], least?: number, most?: number, columns?: Field[] }} Field
 * @typedef {{ name: string, question: string, draws: boolean, fields: Field[] }} Form
 */

const FORMS = "/static/core/forms.json";

/** @type {Promise<Record<string, Form>> | null} */
let reading = null;

/** @param {string} name @returns {Promise<Form | null>} null where this phone knows none of that name, or none at all yet */
export async function formOf(name) {
  reading ??= fetch(FORMS).then((response) => (response.ok ? response.json() : Promise.reject(response)));
  try {
    return (await reading)[name] ?? null;
  } catch {
    reading = null; // not here yet: asked again with the next form
    return null;
  }
}

/** The answers by eye: what may be left out and is picked, where a table of readings is asked too. @param {Form} form */
export function byEye({ fields }) {
  if (!fields.some(({ kind }) => kind === "table")) return [];
  return fields.filter(
    ({ kind, needed, default: usual, options = [] }) =>
      !needed && usual === null && options.length > 0 && (kind === "choice" || kind === "names"),
  );
}
