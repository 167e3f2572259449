// The verdict that follows the fields as they change: one computation at a time, the latest input after each.
import { useEffect, useRef, useState } from "preact/hooks";
import { assess, BadInput, core } from "./core.js";

/** @typedef {import("./core.js").Answer} Answer */
/**
 * The last answer, and the input it belongs to; what is wrong with the input, or why nothing can be computed.
 * @typedef {{ input: string, answer: Answer | null, problems: import("./core.js").Problem[], cannot: string }} Computed
 */

/** @param {string} name @param {Record<string, unknown>} input @returns {{ computed: Computed, current: boolean }} */
export function useComputed(name, input) {
  const [computed, setComputed] = useState(
    /** @type {Computed} */ ({ input: "", answer: null, problems: [], cannot: "" }),
  );
  const text = JSON.stringify(input);
  const latest = useRef(text);
  const busy = useRef(false);
  const gone = useRef(false);
  latest.current = text;
  useEffect(() => {
    if (!busy.current) follow();
  }, [text, core.value.state === "ready"]);
  useEffect(
    () => () => {
      gone.current = true;
    },
    [],
  );

  async function follow() {
    busy.current = true;
    let done = "";
    while (done !== latest.current && !gone.current) {
      done = latest.current;
      const answered = await answer(name, done);
      if (!gone.current) setComputed({ input: done, ...answered });
    }
    busy.current = false;
  }
  return { computed, current: computed.input === text };
}

/** @param {string} name @param {string} text @returns {Promise<Omit<Computed, "input">>} */
async function answer(name, text) {
  try {
    return { answer: await assess(name, JSON.parse(text)), problems: [], cannot: "" };
  } catch (error) {
    if (error instanceof BadInput) return { answer: null, problems: error.problems, cannot: "" };
    return { answer: null, problems: [], cannot: error instanceof Error ? error.message : String(error) };
  }
}
