// sw.js keeps one complete version of the app on the device. A version is
// either all there or not used: install checks every file against its hash,
// and a new version waits beside the old one until the person switches.
"use strict";

const VERSION = "{{.Version}}";
// Path below the scope -> hash of its bytes. "" and "plans/" are pages.
const FILES = new Map({{.Files}});

const SCOPE = new URL(registration.scope);
const OWN = "duskline " + SCOPE.pathname + " "; // no other app's cache begins so
const NAME = OWN + VERSION;

// A file under asset/ has its hash in its name: the browser's own cache may
// hold it. If what it holds is damaged, ask the server past that cache.
async function fetchWhole(path) {
  const url = new URL(path, SCOPE);
  const integrity = FILES.get(path);
  const get = async (cache) => {
    const r = await fetch(new Request(url, { cache, integrity, credentials: "same-origin" }));
    if (!r.ok) throw new Error(path + ": " + r.status);
    return r;
  };
  const r = path.startsWith("asset/") ? await get("default").catch(() => get("reload")) : await get("no-cache");
  // A page may not be answered with a response that was redirected.
  return r.redirected ? new Response(r.body, { status: r.status, headers: r.headers }) : r;
}

async function fetchAndKeep(cache, path) {
  const r = await fetchWhole(path);
  await cache.put(new URL(path, SCOPE), r.clone());
  return r;
}

async function install() {
  const before = await caches.has(NAME);
  const cache = await caches.open(NAME);
  try {
    await Promise.all([...FILES.keys()].map(async (path) => {
      const url = new URL(path, SCOPE);
      if (before && (await cache.match(url))) return;
      if (path.startsWith("asset/")) {
        for (const name of await ownCaches()) {
          const old = await caches.match(url, { cacheName: name, ignoreVary: true });
          if (old) return cache.put(url, old);
        }
      }
      await fetchAndKeep(cache, path);
    }));
  } catch (x) {
    if (!before) await caches.delete(NAME);
    throw x;
  }
}

async function ownCaches() {
  return (await caches.keys()).filter((name) => name.startsWith(OWN) && name !== NAME);
}

async function activate() {
  for (const name of await ownCaches()) await caches.delete(name);
  await clients.claim();
}

// answer finds path in the cache. The browser may have emptied the cache to
// make room: then all of it is filled again from the network; and if the
// server by then has another version of a page, that one is as good.
let filling = null;
async function answer(request, path) {
  try {
    const cache = await caches.open(NAME);
    const kept = await cache.match(new URL(path, SCOPE), { ignoreVary: true });
    if (kept) return kept;
    const fresh = await fetchAndKeep(cache, path);
    filling ??= install().catch(() => {}).finally(() => (filling = null));
    return fresh;
  } catch (x) {
    return fetch(request);
  }
}

// elsewhere is a page that the app does not have: the server's answer, and the
// app's first page if there is no server.
async function elsewhere(request) {
  try {
    return await fetch(request);
  } catch (x) {
    return Response.redirect(SCOPE.href);
  }
}

oninstall = (e) => e.waitUntil(install());
onactivate = (e) => e.waitUntil(activate());
onmessage = (e) => {
  if (e.data === "take-over") skipWaiting(); // sent on the person's tap only
};
onfetch = (e) => {
  const url = new URL(e.request.url);
  if (e.request.method !== "GET" || url.origin !== SCOPE.origin || !url.pathname.startsWith(SCOPE.pathname)) return;
  let path = url.pathname.slice(SCOPE.pathname.length);
  if (e.request.mode === "navigate") {
    path = path.replace(/(^|\/)index\.html$/, "$1");
    if (!FILES.has(path) && FILES.has(path + "/")) {
      e.respondWith(Response.redirect(new URL(path + "/" + url.search, SCOPE)));
    } else if (!FILES.has(path)) {
      e.respondWith(elsewhere(e.request));
      return;
    }
  }
  if (!FILES.has(path)) return;
  const answered = answer(e.request, path);
  e.respondWith(answered);
  e.waitUntil(answered.then(() => filling));
};
