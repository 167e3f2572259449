import { html } from "htm/preact";
import { useEffect, useState } from "preact/hooks";
import { book, takeBack } from "../logbook/book.js";
import { Options } from "./pick.js";
import { definition, write } from "./show.js";

/** @typedef {import("./shapes.js").V} V */

const MINUTE_MS = 60_000;

/** Whether this phone's writer wrote it within the last minute; draws again when the minute is over. @param {V | undefined} entry */
export function useFresh(entry) {
  const [, again] = useState(0);
  const own = entry !== undefined && entry.key === book.writer.value?.kid;
  const left = own ? Date.parse(entry.at) + MINUTE_MS - Date.now() : 0;
  const fresh = left > 0 && left <= MINUTE_MS + 1000;
  useEffect(() => {
    if (!fresh) return undefined;
    const timer = setTimeout(() => again((count) => count + 1), left + 50);
    return () => clearTimeout(timer);
  }, [fresh, entry?.name]);
  return fresh;
}

/** One touch takes back one's own entry of the last minute. @param {{ entry: V | undefined }} props */
export function TakeBackNow({ entry }) {
  const fresh = useFresh(entry);
  if (!fresh || !entry) return null;
  return html`<button type="button" class="act take-back" onClick=${() => takeBack(entry.name)}>Take back</button>`;
}

/**
 * Later, with a reason: one's own mistake is withdrawn; what is no longer so is reopened.
 * @param {{ subject: string, values: V[] }} props
 */
export function TakeBackLater({ subject, values }) {
  const [how, setHow] = useState(/** @type {"take-back" | "reopen" | null} */ (null));
  const own = values.filter(({ by }) => by === book.writer.value?.person);
  if (values.length === 0) return null;
  const reasons = definition().reasons[how ?? ""] ?? [];
  /** @param {string} reason */
  async function act(reason) {
    if (how === "reopen") await write({ subject, kind: "reopen", body: { reason } });
    else for (const { name } of own) await takeBack(name, reason);
    setHow(null);
  }
  return html`<div class="list">
    <div class="pair">
      ${own.length > 0 && html`<button type="button" class="act" aria-pressed=${how === "take-back"} onClick=${() => setHow("take-back")}>Take back: a mistake</button>`}
      <button type="button" class="act" aria-pressed=${how === "reopen"} onClick=${() => setHow("reopen")}>No longer so</button>
    </div>
    ${how && html`<${Options} legend="Why?" name=${`why-${how}`} options=${reasons.map((reason) => ({ id: reason, label: reason }))} value=${null} pick=${act} />`}
  </div>`;
}
