// The verdict that stands in a reading; where the phone had none, the server's, asked for when there is signal.
import { html } from "htm/preact";
import { useEffect, useState } from "preact/hooks";
import { post, sentence } from "../parts/server.js";
import { NO_CORE } from "./reading-body.js";
import { isBeyond, Verdict } from "./verdict.js";

/** @typedef {import("./core.js").Answer} Answer */
/** @typedef {{ name: string, core: string, verdict: string, inputs: Record<string, unknown>, findings?: string[], advice?: string[] }} Assessment */

/** What the server answered to inputs, by their text, so that one question is asked once. @type {Map<string, Answer>} */
const answered = new Map();

/** @param {string} name @param {unknown} inputs @returns {Promise<Answer>} */
async function askServer(name, inputs) {
  const key = JSON.stringify([name, inputs]);
  const answer = answered.get(key) ?? (await post(`/api/assess/${name}`, inputs));
  answered.set(key, answer);
  return answer;
}

/** A reading's verdict in a few words. @param {{ assessment: Assessment }} props */
export function KeptVerdict({ assessment }) {
  const { core, verdict, findings = [], advice = [] } = assessment;
  if (core === NO_CORE)
    return html`<p>${verdict}. Kept as it was read.</p><${ServerSays} name=${assessment.name} inputs=${assessment.inputs} />`;
  return html`<p class=${isBeyond(verdict) ? "verdict alarm" : "verdict"}>${verdict}</p>
    ${findings.length + advice.length > 0 && html`<details><summary>What was found</summary><ul class="list small">${[...findings, ...advice].map((text) => html`<li key=${text}>${text}</li>`)}</ul></details>`}`;
}

/** The server's verdict on raw inputs, asked for now and whenever the signal comes back. @param {{ name: string, inputs: unknown }} props */
export function ServerSays({ name, inputs }) {
  const [answer, setAnswer] = useState(/** @type {Answer | null} */ (null));
  const [words, setWords] = useState("");
  const text = JSON.stringify(inputs);
  useEffect(() => {
    let late = false;
    const ask = () =>
      askServer(name, JSON.parse(text)).then(
        (said) => late || setAnswer(said),
        (error) => late || setWords(sentence(error)),
      );
    setAnswer(null);
    ask();
    addEventListener("online", ask);
    document.addEventListener("visibilitychange", ask);
    return () => {
      late = true;
      removeEventListener("online", ask);
      document.removeEventListener("visibilitychange", ask);
    };
  }, [name, text]);
  if (answer)
    return html`<div class="slip list"><p><strong>The server's verdict</strong>, not this phone's:</p><${Verdict} answer=${answer} /></div>`;
  return html`<p class="soft">The server has not judged it yet. ${words}</p>`;
}
