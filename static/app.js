// Boots the phone app: fit or not, whose, then the screen that the address names.
import { effect, signal } from "@preact/signals";
import { html } from "htm/preact";
import { render } from "preact";
import { book, start } from "./logbook/book.js";
import { unfitFor } from "./logbook/fitness.js";
import { Notices } from "./parts/notices.js";
import { Edge, Page } from "./parts/page.js";
import { JoinScreen } from "./screens/join.js";
import { routes } from "./screens/routes.js";
import { UnfitScreen } from "./screens/unfit.js";
import { warm } from "./trade/core.js";
import { look, register } from "./version.js";

const root = /** @type {HTMLElement} */ (document.getElementById("app"));
const address = signal(read());

/** The address as words: a label's /k/TAG is the screen of what it names. */
function read() {
  const tag = location.pathname.match(/^\/k\/([^/]+)$/)?.[1];
  const path = tag && location.hash === "" ? `k/${tag}` : location.hash.replace(/^#\/?/, "");
  return location.pathname === "/join" ? "join" : decoded(path);
}

/** What somebody mistyped behind a percent sign names no screen, and stops none. @param {string} path */
function decoded(path) {
  try {
    return decodeURIComponent(path);
  } catch {
    return path;
  }
}

function Screen() {
  const [first = "", ...rest] = address.value.split("/");
  if (book.writer.value === null) return html`<${JoinScreen} />`;
  const route = routes.find(({ path }) => path === first);
  if (!route)
    return html`<${Page} title="No such page" needsShow=${false}><p>Nothing stands at this address.</p></${Page}>`;
  return html`<${route.screen} key=${address.value} rest=${rest.join("/")} />`;
}

function App() {
  return html`<${Notices} /><main><${Screen} /></main><${Edge} />`;
}

/** @param {unknown} error */
function say(error) {
  book.trouble.value = error instanceof Error ? error.message : String(error);
}

addEventListener("unhandledrejection", ({ reason }) => say(reason));
addEventListener("hashchange", () => {
  address.value = read();
});
addEventListener("popstate", () => {
  address.value = read();
});

const reasons = unfitFor();
root.textContent = "";
if (reasons.length > 0) {
  render(html`<${UnfitScreen} reasons=${reasons} />`, root);
} else {
  await start().catch(say);
  render(html`<${App} />`, root);
  register().catch(say);
  effect(() => {
    if (book.coreReady.value) warm();
  });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") look().catch(() => {}); // with no signal there is nothing to look at
  });
}
