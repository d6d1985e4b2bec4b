// Keeps the whole site for use without signal, and serves it. `refgen/offline.py` puts before this
// text what the site consists of: SITE, or null where no page may be kept; and `unpack.js`.
//
// A kept file is stored under its address and hash, and stored only if its bytes have that hash:
// so a half-done upload can never be kept as if it were whole, and what a new revision shares with
// an old one is copied instead of fetched. A revision that is not whole never serves; the one
// before it goes on. It gives way only when the reader says so.
"use strict";

const HERE = self.registration.scope;
const PREFIX = "refgen " + HERE + " ";
const NOTES = PREFIX + "notes"; // what must outlive a worker's short life
const NAME = SITE && PREFIX + SITE.revision;
const FILES = new Map(SITE ? SITE.files : []); // hashes by address
const AT_ONCE = 6;
const PATIENCE = 5000; // milliseconds to wait for the network for a page that is not kept
const TYPES = {
  html: "text/html; charset=utf-8", css: "text/css; charset=utf-8",
  js: "text/javascript; charset=utf-8", json: "application/json", svg: "image/svg+xml",
  png: "image/png", jpg: "image/jpeg", jpeg: "image/jpeg", webp: "image/webp", gif: "image/gif",
  ico: "image/x-icon", csv: "text/csv; charset=utf-8", txt: "text/plain; charset=utf-8",
  pdf: "application/pdf", woff2: "font/woff2", webmanifest: "application/manifest+json"
};

function urlOf(address) {
  return HERE + address.split("/").map(encodeURIComponent).join("/");
}
function keyOf(address) {
  return urlOf(address) + "?sha256=" + FILES.get(address);
}
function addressOf(url) {
  const path = url.href.slice(HERE.length).split(/[?#]/)[0];
  try { return decodeURIComponent(path); } catch (e) { return path; }
}
function typeOf(address) {
  return TYPES[address.split(".").pop().toLowerCase()] || "application/octet-stream";
}

// ---- notes

async function note(name, value) {
  const notes = await caches.open(NOTES);
  await notes.put(HERE + name, new Response(JSON.stringify(value)));
}
async function noted(name) {
  const found = await (await caches.open(NOTES)).match(HERE + name);
  return found ? found.json() : null;
}

async function tell(message) {
  const pages = await self.clients.matchAll({ type: "window", includeUncontrolled: true });
  for (const page of pages) if (page.url.startsWith(HERE)) page.postMessage(message);
}

// ---- keeping

async function digest(bytes) {
  const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(hash, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

async function store(cache, address, bytes) {
  if (!(await digest(bytes)).startsWith(FILES.get(address))) {
    throw new Error(address + " is not the file of revision " + SITE.revision);
  }
  await cache.put(keyOf(address), new Response(bytes, { headers: { "content-type": typeOf(address) } }));
}

async function lacking(cache) {
  const have = new Set((await cache.keys()).map((request) => request.url));
  return SITE.files.map((file) => file[0]).filter((address) => !have.has(keyOf(address)));
}

// Run through addresses, some at once; a failure ends it when those under way have ended.
async function each(addresses, act) {
  const left = addresses.slice();
  async function run() {
    try { while (left.length) await act(left.shift()); } catch (error) {
      left.length = 0;
      throw error;
    }
  }
  const runs = Array.from({ length: AT_ONCE }, run);
  const failed = (await Promise.allSettled(runs)).find((one) => one.status === "rejected");
  if (failed) throw failed.reason;
}

async function copyKept(cache, addresses) {
  for (const name of await caches.keys()) {
    if (!name.startsWith(PREFIX) || name === NAME || name === NOTES) continue;
    const old = await caches.open(name);
    const have = new Set((await old.keys()).map((request) => request.url));
    await each(addresses.filter((address) => have.has(keyOf(address))), async (address) => {
      const kept = await old.match(keyOf(address));
      if (kept) await cache.put(keyOf(address), kept);
    });
  }
}

// The pack is all texts one after another, in the order of the list and as long as it says.
async function takeFromPack(cache, addresses, step) {
  const response = await fetch(urlOf(SITE.pack), { cache: "no-cache" });
  if (!response.ok) return;
  const places = new Map();
  let size = 0;
  for (const [address, , length] of SITE.files) {
    if (length) places.set(address, [size, size += length]);
  }
  const texts = unpack(new Uint8Array(await response.arrayBuffer()), size);
  await each(addresses.filter((address) => places.has(address)), async (address) => {
    try {
      await store(cache, address, texts.slice(...places.get(address)));
    } catch (error) {
      if (error.name === "QuotaExceededError") throw error;
      return; // of another revision: the file itself may be right
    }
    await step();
  });
}

// Fetch all that is not kept yet. Whatever was stored before a failure is there for the next try.
async function keepAll() {
  const cache = await caches.open(NAME), all = SITE.files.length;
  await copyKept(cache, await lacking(cache));
  let missing = await lacking(cache), done = all - missing.length, told = 0;
  async function step() {
    done += 1;
    if (Date.now() - told < 200) return;
    told = Date.now();
    await tell({ is: "saving", done: done, all: all });
  }
  async function fetchEach(addresses) {
    await each(addresses, async (address) => {
      // The hash decides, not the status: a host may give out 404.html with status 404.
      const response = await fetch(urlOf(address), { cache: "no-cache" });
      await store(cache, address, await response.arrayBuffer());
      await step();
    });
  }
  if (missing.length > all / 2) {
    const packed = new Set(SITE.files.filter((file) => file[2]).map((file) => file[0]));
    const both = await Promise.allSettled([
      takeFromPack(cache, missing, step), fetchEach(missing.filter((address) => !packed.has(address)))
    ]);
    // Whatever else has failed is tried once more, file by file.
    const full = both.find((one) => one.reason && one.reason.name === "QuotaExceededError");
    if (full) throw full.reason;
    missing = await lacking(cache);
    done = all - missing.length;
  }
  await fetchEach(missing);
}

async function keepOrTell() {
  try {
    await keepAll();
  } catch (error) {
    await tell({ is: "failed", full: error.name === "QuotaExceededError" });
    throw error;
  }
  await tell({ is: "whole", revision: SITE.revision });
}

// What is withdrawn is told first: the worker that knows it may still have much to fetch, and the
// reader need not have agreed to its revision.
async function install() {
  await tell({ is: "withdrawn", pages: SITE.withdrawn });
  try { await note("withdrawn", SITE.withdrawn); } catch (e) { /* no room: told again by the next try */ }
  await keepOrTell();
}

// ---- taking over

let former; // {cache, pages}: the revision before, and the pages opened under it
async function formerly() {
  if (former === undefined) former = await noted("former");
  return former;
}

async function activate() {
  const before = await noted("in-use");
  const pages = await self.clients.matchAll({ type: "window" });
  const kept = before && before !== NAME ? { cache: before, pages: pages.map((page) => page.id) } : null;
  for (const name of await caches.keys()) {
    if (name.startsWith(PREFIX) && ![NAME, NOTES, before].includes(name)) await caches.delete(name);
  }
  await note("former", former = kept);
  await note("in-use", NAME);
  await self.clients.claim();
}

// The revision before goes when no page that was opened under it is left.
async function tidy() {
  const kept = await formerly();
  if (!kept) return;
  const open = await self.clients.matchAll({ type: "window", includeUncontrolled: true });
  if (open.some((page) => kept.pages.includes(page.id))) return;
  await note("former", former = null);
  await caches.delete(kept.cache);
}

// ---- serving

async function fromFormer(page, address) {
  const kept = await formerly();
  if (!kept || !kept.pages.includes(page)) return null;
  const cache = await caches.open(kept.cache), url = urlOf(address) + "?sha256=";
  const key = (await cache.keys()).find((request) => request.url.startsWith(url));
  return key ? cache.match(key) : null;
}

async function kept(address) {
  const cache = await caches.open(NAME), found = await cache.match(keyOf(address));
  if (found) return found;
  // The browser has cleared it. Only its right bytes are kept again.
  const response = await fetch(urlOf(address), { cache: "no-cache" });
  const bytes = await response.arrayBuffer();
  try {
    await store(cache, address, bytes);
    return cache.match(keyOf(address));
  } catch (e) { /* of another revision, or no room */ }
  if (!response.ok) throw new Error(address + " is neither kept nor to be had");
  return new Response(bytes, { headers: { "content-type": typeOf(address) } });
}

// In place of a page: that there is none, or, without signal, that it takes signal to know. The page
// that says so has both texts; should it be gone too, one sentence is left.
async function instead(reached) {
  let page, headers = { "content-type": TYPES.html };
  try { page = await (await kept("404.html")).text(); } catch (e) {
    page = '<!doctype html><meta charset="utf-8"><meta name="viewport" content="width=device-width"><p>' + SITE.lost;
  }
  if (!reached) {
    page = page.replace(/<div data-reached>[^]*?<\/div>/, "").replace(/<template data-unreached>([^]*?)<\/template>/, "$1");
  }
  // Its links are written from the root, and the address asked for may lie deeper.
  page = page.replace(/ (href|src|data-root)="(?![a-z]+:|[/#])/g, ' $1="' + HERE);
  return new Response(page, { status: reached ? 404 : 503, headers: headers });
}

function inTime(promise) {
  return Promise.race([promise, new Promise((_, reject) => setTimeout(reject, PATIENCE, new Error("late")))]);
}

// Pages that are not of this revision but newer: what they load is not taken from it either.
const newer = new Set();

async function answer(event, address) {
  const request = event.request, goes = request.mode === "navigate";
  if (!goes) {
    const old = await fromFormer(event.clientId, address);
    if (old) return old;
    if (newer.has(event.clientId)) try { return await inTime(fetch(request)); } catch (e) { /* what there is */ }
  }
  const index = address === "" || address.endsWith("/") ? address + "index.html" : address;
  if (!goes) return FILES.has(index) ? kept(index) : fetch(request);
  try {
    if (FILES.has(index)) return await kept(index);
    if (FILES.has(address + ".html")) return await kept(address + ".html");
    if (FILES.has(address + "/index.html")) return Response.redirect(urlOf(address) + "/", 302);
    // Not of this revision: a newer page, or none at all.
    const response = await inTime(fetch(request));
    if (response.status === 404) return instead(true);
    newer.add(event.resultingClientId);
    return response;
  } catch (e) { return instead(false); } // no signal
}

function serve(event) {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || !url.href.startsWith(HERE)) return;
  const address = addressOf(url);
  if (address === "sw.js" || address === SITE.pack) return;
  event.respondWith(answer(event, address));
  if (event.request.mode === "navigate") event.waitUntil(tidy());
}

// ---- what pages ask

async function status() {
  const cache = await caches.open(NAME);
  return {
    is: "status", revision: SITE.revision, all: SITE.files.length,
    done: SITE.files.length - (await lacking(cache)).length, withdrawn: await noted("withdrawn")
  };
}

function hear(event) {
  if (event.data === "use") self.skipWaiting();
  else if (event.data === "status") event.waitUntil(status().then((s) => event.source.postMessage(s)));
  else if (event.data === "mend") event.waitUntil(keepOrTell().catch(() => null));
}

// ---- where no page may be kept

async function retire() {
  await self.registration.unregister();
  for (const name of await caches.keys()) if (name.startsWith(PREFIX)) await caches.delete(name);
  for (const page of await self.clients.matchAll({ type: "window" })) page.navigate(page.url);
}

if (SITE) {
  self.addEventListener("install", (event) => event.waitUntil(install()));
  self.addEventListener("activate", (event) => event.waitUntil(activate()));
  self.addEventListener("fetch", serve);
  self.addEventListener("message", hear);
} else {
  self.addEventListener("install", () => self.skipWaiting());
  self.addEventListener("activate", (event) => event.waitUntil(retire()));
}
