// Served in place of a bad worker: it removes the caches and itself, and answers nothing.

const leaving = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));

leaving.addEventListener("install", (event) => {
  event.waitUntil(leaving.skipWaiting());
});

leaving.addEventListener("activate", (event) => {
  event.waitUntil(withdraw());
});

async function withdraw() {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith("handline-")).map((name) => caches.delete(name)));
  await leaving.registration.unregister();
}
