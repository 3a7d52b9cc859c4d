// Keeps the shell on the phone: a whole version or none, and served only from what was
// kept. A newer version is not even taken in before a person has agreed to it, so that
// neither a restart nor a killed browser can switch it under a running clock. What the
// first screen can do without comes after it, each part only as this version lists it;
// the list comes after it as well, known by its hash.
// It never touches the API, and never anything but its own caches.

const VERSION = /*VERSION*/;
const FILES = /*FILES*/;
const LATER = /*LATER*/;
const LIST = "/phone/later.json";
const PARTS = /^\/phone\/(?:core|css|device|screens|vendor)\//;
const PREFIX = "shell-";
const CACHE = PREFIX + VERSION;
const IN_USE = "version-in-use";
const IN_USE_URL = "/phone/version";
const ANSWER_MS = 2_000;

let fetching = null;
let listing = null;

self.addEventListener("install", (event) => {
  // Where the browser can, it reads what a start needs itself, without waking this
  // worker; what may not be here yet is asked of the worker, like all else.
  event.addRoutes?.(FILES.map((path) => route(path, { cacheName: CACHE })));
  event.waitUntil(takeIn());
});

self.addEventListener("activate", (event) => {
  event.waitUntil(takeOver());
});

self.addEventListener("message", (event) => {
  if (event.data === "later") event.waitUntil(keepLater());
});

self.addEventListener("fetch", (event) => {
  const { origin, pathname } = new URL(event.request.url);
  if (origin !== location.origin || event.request.method !== "GET") return;
  if (!FILES.includes(pathname) && !PARTS.test(pathname)) return;
  event.respondWith(serve(pathname, event.request));
});

function route(pathname, source) {
  return { condition: { urlPattern: new URLPattern({ pathname }) }, source };
}

async function takeIn() {
  const isNewer = Boolean(self.registration.active);
  if (isNewer && !(await somebodyAgrees())) {
    throw new Error("a newer version waits until somebody on this phone agrees");
  }
  await keepWhole(isNewer);
  const cache = await caches.open(IN_USE);
  await cache.put(IN_USE_URL, new Response(VERSION));
  await self.skipWaiting();
}

// Asked of the open page and never written down: a browser killed in between has not
// agreed to anything.
async function somebodyAgrees() {
  const pages = await self.clients.matchAll({
    type: "window", includeUncontrolled: true,
  });
  const answers = await Promise.all(pages.map(askPage));
  return answers.includes(VERSION);
}

function askPage(page) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => resolve(data);
    setTimeout(() => resolve(""), ANSWER_MS);
    page.postMessage("agreed?", [port2]);
  });
}

// All or nothing: the version is the hash of all hashes, so one wrong or missing file
// fails the install, and the old stays. What takes the place of another version comes
// with all that comes later too: a network that dies then must take no screen away.
async function keepWhole(isNewer) {
  const cache = await caches.open(CACHE);
  try {
    const now = Object.fromEntries(await Promise.all(FILES.map(async (path) =>
      [path, await keep(cache, path)])));
    const found = await sha256(encode(JSON.stringify({ later: LATER, now })));
    if (!found.startsWith(VERSION)) throw new Error("other bytes than this version's");
    if (isNewer) {
      await Promise.all(Object.entries(await readList()).map(([path, hash]) =>
        keep(cache, path, hash)));
    }
  } catch (fault) {
    await caches.delete(CACHE);
    throw fault;
  }
}

/** @returns {Promise<string>} the hash of what was kept */
async function keep(cache, path, wanted = "") {
  const response = await fetch(path, { cache: "no-store", credentials: "omit" });
  if (!response.ok) throw new Error(`${path}: ${response.status}`);
  const found = await sha256(await response.clone().arrayBuffer());
  if (!found.startsWith(wanted)) throw new Error(`${path}: other bytes than listed`);
  await cache.put(path, response);
  return found;
}

function encode(text) {
  return new TextEncoder().encode(text);
}

async function sha256(bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(digest, (one) => one.toString(16).padStart(2, "0")).join("");
}

// One after the other, behind whatever the page does; what fails is asked for again.
function keepLater() {
  fetching ??= keepEach().finally(() => { fetching = null; });
  return fetching;
}

async function keepEach() {
  const cache = await caches.open(CACHE);
  // Asked once for what is there: asked file by file, every start of a phone would pay.
  const here = new Set((await cache.keys()).map(({ url }) => new URL(url).pathname));
  for (const [path, hash] of Object.entries(await listed() ?? {})) {
    if (here.has(path) || await cache.match(path)) continue;
    await keep(cache, path, hash).catch(() => {});
  }
}

/** @returns {Promise<object|null>} hashes by path; null while the list is not here */
function listed() {
  listing ??= readList().catch(() => { listing = null; return null; });
  return listing;
}

async function readList() {
  const cache = await caches.open(CACHE);
  if (!(await cache.match(LIST))) await keep(cache, LIST, LATER);
  return (await cache.match(LIST)).json();
}

// Without the list nobody knows whether what the office has is of this version.
async function serve(path, request) {
  const cache = await caches.open(CACHE);
  const kept = await cache.match(path);
  if (kept || FILES.includes(path)) return kept ?? fetch(request);
  const list = await listed();
  if (list && !list[path]) return fetch(request);
  if (list) await keep(cache, path, list[path]).catch(() => {});
  return (await cache.match(path)) ?? Response.error();
}

async function takeOver() {
  await self.clients.claim();
  const all = await caches.keys();
  await Promise.all(all.filter((name) => name.startsWith(PREFIX) && name !== CACHE)
    .map((name) => caches.delete(name)));
}
