// The site's own service worker keeps pages for use without a connection; in the preview they would
// be stale. This one stands in its place and takes itself away.
self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil((async () => {
  for (const name of await caches.keys()) await caches.delete(name);
  await self.registration.unregister();
})()));
