// Keeps the folder's own files, so that the page works without a network.
"use strict";
const cacheName = "halfpour-" + version;

addEventListener("install", (e) => e.waitUntil(caches.open(cacheName).then((cache) => cache.addAll(names))));
addEventListener("activate", (e) => e.waitUntil(caches.keys().then((all) =>
  Promise.all(all.filter((name) => name.startsWith("halfpour-") && name !== cacheName).map((name) => caches.delete(name))))));
addEventListener("fetch", (e) => {
  if (e.request.method !== "GET") return;
  e.respondWith(caches.open(cacheName).then((cache) => cache.match(e.request, { ignoreSearch: true })).then((kept) => kept ?? fetch(e.request)));
});
