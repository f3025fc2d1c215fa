// The service worker: the whole page works without a network after the first visit. web/build puts the list of files here and this file
// beside index.html. A new version is fetched whole, waits until the person takes it (web/offline.js), and only then replaces the old one.
const kVersion = '@version@';
const kFiles = /** @type {[string, boolean][]} */ (['@files@']); // address, and whether its name carries its content's hash
const kPrefix = 'tiepoint-';
const kCache = kPrefix + kVersion;

/** A file whose name carries its hash never changes: one that an older cache has is not fetched again. */
async function store(cache, address, named) {
  const old = named ? await caches.match(address) : undefined;
  const answer = old ?? await fetch(address, {cache: named ? 'default' : 'no-cache'});
  if (!answer.ok) throw new Error(`${address}: ${answer.status}`);
  await cache.put(address, answer);
}

async function install() {
  const cache = await caches.open(kCache);
  await Promise.all(kFiles.map(([address, named]) => store(cache, new URL(address, self.registration.scope).href, named)));
}

async function activate() {
  for (const name of await caches.keys())
    if (name.startsWith(kPrefix) && name !== kCache) await caches.delete(name);
  await self.clients.claim();
}

self.addEventListener('install', (event) => event.waitUntil(install()));
self.addEventListener('activate', (event) => event.waitUntil(activate()));
self.addEventListener('message', (event) => {
  if (event.data === 'take-over') self.skipWaiting();
});
self.addEventListener('fetch', (event) => {
  const {request} = event;
  if (request.method !== 'GET' || new URL(request.url).origin !== self.location.origin) return;
  event.respondWith((async () => {
    const cache = await caches.open(kCache);
    return (await cache.match(request, {ignoreSearch: true})) ?? fetch(request);
  })());
});
