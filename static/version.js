// The service worker as the page sees it: registered, a new version noticed and offered, never forced.
import { book } from "./logbook/book.js";
import { scriptUrl } from "./script-url.js";

/** @type {ServiceWorker | null} */
let waiting = null;
let asked = false;
let startedElsewhere = false;

/** @param {ServiceWorkerRegistration} registration */
function offer(registration) {
  waiting = registration.waiting;
  const offered = waiting !== null && navigator.serviceWorker.controller !== null;
  book.versionOffered.value = offered || startedElsewhere;
}

/** Registers the worker; with no signal the one that is here goes on. */
export async function register() {
  let served = navigator.serviceWorker.controller !== null;
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (asked) location.reload();
    // Another tab took the new version: this page is an old one on a new worker, and is told so.
    startedElsewhere ||= served;
    served = true;
    book.versionOffered.value ||= startedElsewhere;
  });
  navigator.serviceWorker.addEventListener("message", ({ data }) => {
    if (typeof data?.core === "boolean") book.coreReady.value = data.core;
  });
  const registration = await navigator.serviceWorker.register(scriptUrl("/sw.js"), {
    updateViaCache: "none",
  });
  registration.addEventListener("updatefound", () => {
    registration.installing?.addEventListener("statechange", () => offer(registration));
  });
  offer(registration);
  const { active } = await navigator.serviceWorker.ready;
  active?.postMessage("fill-core");
}

/** Looks for a new version. */
export async function look() {
  await (await navigator.serviceWorker.getRegistration())?.update();
}

/** The person takes the offered version: this page starts again with it. */
export function takeVersion() {
  asked = true;
  if (startedElsewhere) location.reload();
  else waiting?.postMessage("take-over");
}
