// Keeps the page itself on the device, so that it opens while the hub is gone. Only the page: what
// the book says is asked of the hub each time. A browser runs this only where it trusts the hub's
// certificate, not where a person went on past its warning.

const PAGE = ["/", "/page.css", "/page.js", "/hub.js", "/camera.js", "/show.js", "/kept.js", "/views.js", "/icon.svg"];
const STORE = "partsbench-page";
const PATIENCE_MS = 4000;

async function keep() {
  const store = await caches.open(STORE);
  await store.addAll(PAGE.map((path) => new Request(path, { cache: "reload" })));
  await self.skipWaiting();
}

// From the hub while it is there, so that a newer program brings its own page.
async function fresh(request, path) {
  try {
    const answered = await fetch(request, { signal: AbortSignal.timeout(PATIENCE_MS) });
    if (answered.ok) await (await caches.open(STORE)).put(path, answered.clone());
    return answered;
  } catch {
    return (await caches.match(path)) ?? Response.error();
  }
}

self.addEventListener("install", (event) => event.waitUntil(keep()));
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("fetch", (event) => {
  const { origin, pathname } = new URL(event.request.url);
  if (event.request.method === "GET" && origin === self.location.origin && PAGE.includes(pathname)) {
    event.respondWith(fresh(event.request, pathname));
  }
});
