// Keeps the page for times without a connection. The network goes first. Whoever serves this script
// fills in the version and the list of files.
const KEPT = "guardcell-VERSION";
const PARTS = ["PARTS"];

self.addEventListener("install", (e) => {
  e.waitUntil(caches.open(KEPT).then((c) => c.addAll(PARTS)).then(() => self.skipWaiting()));
});
self.addEventListener("activate", (e) => {
  e.waitUntil(caches.keys().then((keys) => Promise.all(keys.filter((k) => k.startsWith("guardcell-") && k !== KEPT).map((k) => caches.delete(k)))).then(() => self.clients.claim()));
});
self.addEventListener("fetch", (e) => {
  const url = new URL(e.request.url);
  const known = url.origin === location.origin && e.request.method === "GET" && PARTS.some((p) => new URL(p, location.href).pathname === url.pathname);
  if (!known) return;
  e.respondWith(fetch(e.request).then(async (response) => {
    if (response.ok) await (await caches.open(KEPT)).put(url.pathname, response.clone());
    return response;
  }).catch(async () => (await caches.match(url.pathname)) ?? Response.error()));
});
