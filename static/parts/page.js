import { html } from "htm/preact";
import { useEffect } from "preact/hooks";
import { book } from "../logbook/book.js";
import { PenDefs } from "./pen.js";
import { ShowList } from "./show-list.js";
import "./look.js";

/**
 * One screen: its name, the way back, what stands on it.
 * @param {{ title: string, back?: string, backWord?: string, wall?: boolean, needsShow?: boolean, children?: any }} props
 */
export function Page({ title, back = "#/", backWord = "Stages", wall = false, needsShow = true, children }) {
  useEffect(() => {
    document.title = `${title}, Handline`;
  }, [title]);
  return html`<div class=${wall ? "page wall" : "page"}>
    <${PenDefs} />
    <header class="head"><h1>${title}</h1>${back && html`<a href=${back}>${backWord}</a>`}</header>
    ${needsShow && !book.show.value ? html`<${NoShow} />` : children}
  </div>`;
}

function NoShow() {
  return html`<p>No show is open on this phone. Pick one.</p>
    <${ShowList} />
    <a class="act" href="#/accept-report">Open a report's PDF</a>`;
}

/** Draws a screen only when a show is open. @param {(props: { rest: string }) => any} screen @param {string} title */
export function withShow(screen, title) {
  return (/** @type {{ rest: string }} */ props) =>
    book.show.value ? html`<${screen} ...${props} />` : html`<${Page} title=${title} />`;
}

/** Goes back from a screen when its work is written, unless somebody has left it meanwhile. @param {string} address its hash */
export function backFrom(address) {
  if (location.hash === address) history.back();
}

/** Goes on to another screen when work is written, unless somebody has left this one meanwhile. @param {string} address its hash @param {string} next */
export function onFrom(address, next) {
  if (location.hash === address) location.hash = next;
}

/** The bottom edge, on every screen: what is unsent, who writes, which show. */
export function Edge() {
  const unsent = book.unsent.value;
  const writer = book.writer.value;
  if (!writer) return null;
  const [count, where] =
    unsent > 0 ? [`${unsent} unsent`, "on this phone only"] : ["Nothing unsent", "all of it has arrived"];
  return html`<footer class="edge">
    <a href="#/unsent"><span><strong>${count}</strong>,${" "}</span><span>${where}</span></a>
    <a href="#/people"><span><strong>${writer.name}</strong> writing,${" "}</span>
      <span>${book.show.value?.definition.title ?? "no show open"}</span></a>
  </footer>`;
}

/** What went wrong with the last touch, read out at once. @param {{ words: string | null }} props */
export function Trouble({ words }) {
  return html`<p role="alert" class=${words ? "alarm" : "unseen"}>${words ?? ""}</p>`;
}
