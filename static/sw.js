// The service worker. The server puts `self.LIST = {version, shell, core};` in front of this text.

/** @typedef {{url: string, sha256: string}} Listed */

const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));
/** @type {{version: string, shell: Listed[], core: Listed[]}} */
const list = /** @type {any} */ (self).LIST;
const SHELL = `handline-shell-${list.version}`;
const CORE = "handline-core";
const PAGE = /^\/(join|k\/[^/]+)?$/;

worker.addEventListener("install", (event) => {
  event.waitUntil(install());
});

async function install() {
  const cache = await caches.open(SHELL);
  await cache.addAll(list.shell.map(({ url }) => new Request(url, { cache: "no-cache" })));
}

worker.addEventListener("activate", (event) => {
  // The page that enrolled goes on with what is cached too: it may lose its network before it is ever reloaded.
  event.waitUntil(dropOld().then(() => worker.clients.claim()));
});

/** An old shell stays while a page may still be reading from it. */
async function dropOld() {
  const pages = await worker.clients.matchAll({ includeUncontrolled: true, type: "window" });
  if (pages.length > 1) return;
  const old = (await caches.keys()).filter((name) => name.startsWith("handline-shell-") && name !== SHELL);
  await Promise.all(old.map((name) => caches.delete(name)));
}

worker.addEventListener("message", (event) => {
  if (event.data === "take-over") event.waitUntil(worker.skipWaiting());
  if (event.data === "fill-core")
    event.waitUntil(fillCore().then((filled) => event.source?.postMessage({ core: filled })));
});

/** @param {Listed} file */
const keyOf = (file) => `${file.url}?sha256=${file.sha256}`;

/** Caches what the app can start without, file by file, each checked; true when all are here. */
async function fillCore() {
  const cache = await caches.open(CORE);
  const wanted = new Set(list.core.map(keyOf));
  for (const request of await cache.keys()) {
    const { pathname, search } = new URL(request.url);
    if (!wanted.has(pathname + search)) await cache.delete(request);
  }
  let whole = true;
  for (const file of list.core) whole = (await fill(cache, file)) && whole;
  return whole;
}

/** @param {Cache} cache @param {Listed} file */
async function fill(cache, file) {
  if (await cache.match(keyOf(file))) return true;
  const response = await fetch(file.url, { cache: "no-cache" }).catch(() => null);
  if (!response?.ok) return false;
  const bytes = await response.clone().arrayBuffer();
  if ((await hex(bytes)) !== file.sha256) return false;
  await cache.put(keyOf(file), response);
  return true;
}

/** @param {ArrayBuffer} bytes */
async function hex(bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(digest, (octet) => octet.toString(16).padStart(2, "0")).join("");
}

worker.addEventListener("fetch", (event) => {
  const { method, mode, url } = event.request;
  const { origin, pathname } = new URL(url);
  if (method !== "GET" || origin !== worker.location.origin) return;
  if (mode === "navigate" && PAGE.test(pathname)) event.respondWith(cached(SHELL, "/", event.request));
  else if (pathname.startsWith("/static/")) event.respondWith(file(pathname, event.request));
});

/** @param {string} pathname @param {Request} request */
function file(pathname, request) {
  const core = list.core.find(({ url }) => url === pathname);
  return core ? cached(CORE, keyOf(core), request) : cached(SHELL, pathname, request);
}

/** @param {string} name @param {string} key @param {Request} request */
async function cached(name, key, request) {
  const cache = await caches.open(name);
  return (await cache.match(key)) ?? fetch(request);
}
