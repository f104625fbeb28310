/**
 * Keeps every file of one build, so that the page opens without a network; the build fills in the version and the list. Files of a build have their contents in
 * their names, so what is kept is what is asked for. A newer build takes over once it has all of its files and no page of the older one is open.
 */
const CACHE = `slumpline ${'VERSION'}`;
const FILES = ['FILES'];

self.addEventListener('install', (event) => {
  event.waitUntil(caches.open(CACHE).then((cache) => cache.addAll(FILES)));
});

self.addEventListener('activate', (event) => {
  const others = caches
    .keys()
    .then((names) => Promise.all(names.filter((name) => name.startsWith('slumpline ') && name !== CACHE).map((name) => caches.delete(name))));
  event.waitUntil(others.then(() => self.clients.claim()));
});

self.addEventListener('fetch', (event) => {
  const { request } = event;
  if (request.method !== 'GET' || new URL(request.url).origin !== self.location.origin) return;
  // The page itself: what the network has, so that a new build is seen; without one what is kept.
  if (request.mode === 'navigate') event.respondWith(fetch(request).catch(() => caches.match('./', { ignoreSearch: true })));
  else event.respondWith(caches.match(request).then((kept) => kept ?? fetch(request)));
});
