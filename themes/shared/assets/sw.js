// Offline use. The network comes first, so nothing stale is served while there is a connection;
// what was opened before is served from the cache when the network fails or keeps us waiting.
"use strict";

const KEPT = `stripewright ${self.registration.scope}`; // sites in folders of one host keep apart
const MOST = 300; // files; the oldest go first
const PATIENCE = 4000; // ms until the kept copy is shown, where there is one

let patience = PATIENCE; // none left once a line gave nothing, until it gives something again

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

const keep = async (address, response) => {
  if (!response.ok || response.type !== "basic") return false;
  const cache = await caches.open(KEPT);
  await cache.delete(address, { ignoreSearch: true });
  await cache.put(address, response);
  const all = await cache.keys();
  await Promise.all(all.slice(0, Math.max(0, all.length - MOST)).map((old) => cache.delete(old)));
  return true;
};

const kept = async (request) => (await caches.open(KEPT)).match(request, { ignoreSearch: true });

const answer = async (event) => {
  const { request } = event;
  let keeping;
  const network = fetch(request).then((response) => {
    patience = PATIENCE;
    keeping = keep(request.url, response.clone());
    return response;
  });
  event.waitUntil(network.then(() => keeping, () => undefined));
  const late = new Promise((resolve) => {
    setTimeout(() => resolve(undefined), patience);
  });
  const waited = network.then((response) => (response.status < 500 ? response : undefined), () => undefined);
  const answered = await Promise.race([waited.then((response) => response || null), late]);
  if (answered === undefined) patience = 0;
  return answered || (await kept(request)) || network;
};

self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !request.url.startsWith(self.registration.scope)) return;
  if (request.headers.has("range")) return; // part of a file
  if ((request.headers.get("accept") || "").includes("text/event-stream")) return; // never ends
  event.respondWith(answer(event));
});

// The parts of a page that was opened before this worker was there.
self.addEventListener("message", (event) => {
  const [port] = event.ports;
  const all = Array.isArray(event.data) ? event.data : [];
  event.waitUntil(Promise.all(all.map(async (address) => {
    if (!address.startsWith(self.registration.scope)) return true;
    return (await kept(address)) ? true : keep(address, await fetch(address));
  })).then((done) => port && port.postMessage(done.every(Boolean)), () => port && port.postMessage(false)));
});
