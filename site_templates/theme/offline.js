// Tells in the foot of the page how far the site is saved for use without signal, and asks the
// browser to save it. Loaded after the page is whole. Its words stand before it: `refgenKept`.
(function () {
  "use strict";
  const place = document.getElementById("_kept"), words = window.refgenKept;
  const root = document.documentElement.getAttribute("data-root");
  if (!place) return; // where the site is served for editing, nothing is kept
  let revision = "", saved = false;

  function say(name, values) {
    let text = words["offline_" + name];
    for (const key of Object.keys(values || {})) text = text.replace("{" + key + "}", String(values[key]));
    place.textContent = text;
    place.setAttribute("data-now", name);
    place.hidden = false;
  }
  function now() { return place.getAttribute("data-now"); }
  function remember(name, value) {
    try { localStorage.setItem("refgen:" + name, value); } catch (e) { /* not remembered */ }
  }
  function recalled(name) {
    try { return localStorage.getItem("refgen:" + name); } catch (e) { return null; }
  }

  // ---- what the worker tells

  function checkedOn() {
    const then = recalled("checked"), language = document.documentElement.lang;
    return then ? new Date(then).toLocaleString(language, { dateStyle: "medium", timeStyle: "short" }) : "–";
  }
  async function whole() {
    saved = true;
    say("saved", { revision: revision, checked: checkedOn() });
    const storage = navigator.storage;
    if (!storage || !storage.persist) return;
    let sure = await storage.persisted();
    if (!sure && !recalled("asked")) { // once: some browsers put the question to the reader
      remember("asked", "yes");
      sure = await storage.persist();
    }
    if (!sure && now() === "saved") {
      place.textContent += " " + words.offline_unsure;
    }
  }
  function addressHere() {
    const from = new URL(root || "./", location.href).pathname;
    const path = decodeURIComponent(location.pathname.slice(from.length));
    if (path === "" || path.endsWith("/")) return path + "index.html";
    return path.split("/").pop().includes(".") ? path : path + ".html"; // the worker serves both
  }
  function withdraw(pages) {
    const reason = (pages || {})[addressHere()];
    let line = document.getElementById("_withdrawn");
    if (reason === undefined) { if (line && !line.hasAttribute("data-fixed")) line.remove(); return; }
    if (!line) {
      line = document.createElement("p");
      line.id = "_withdrawn";
      line.className = "withdrawn";
      line.setAttribute("role", "alert");
      const text = document.getElementById("_text");
      text.insertBefore(line, text.firstChild);
    }
    line.textContent = words.offline_withdrawn.replace("{reason}", reason);
  }
  // Not before the page knows its own revision.
  function hear(event) { known.then(function () { heard(event); }); }
  function heard(event) {
    const told = event.data || {};
    if (told.is === "saving" && !saved) say("saving", told);
    else if (told.is === "failed" && !saved) {
      if (told.full) say("full");
      else say("failed");
    }
    else if (told.is === "withdrawn") withdraw(told.pages);
    else if (told.is === "whole" && !saved) {
      // The first time, or mended. A newer revision is offered when it waits.
      if (told.revision === revision) whole();
    } else if (told.is === "status") {
      withdraw(told.withdrawn);
      revision = told.revision;
      if (told.done === told.all) whole();
      else {
        say("partly", told);
        event.source.postMessage("mend");
      }
    }
  }

  // ---- a new revision

  let agreed = false;
  function offer(use) {
    let line = document.getElementById("_ready");
    if (!line) {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = words.offline_use;
      line = document.createElement("p");
      line.id = "_ready";
      line.className = "ready";
      line.setAttribute("role", "status");
      line.append(words.offline_ready + " ", button);
      place.after(line);
    }
    line.querySelector("button").onclick = use;
  }
  function offerWaiting(worker) {
    offer(function () {
      agreed = true;
      worker.postMessage("use");
    });
  }
  function follow(registration) {
    const serving = navigator.serviceWorker.controller;
    if (registration.waiting && serving) offerWaiting(registration.waiting);
    function watch(worker) {
      if (!worker) return;
      worker.addEventListener("statechange", function () {
        if (worker.state === "installed" && navigator.serviceWorker.controller) offerWaiting(worker);
        // The worker has told already if it was for want of room.
        if (worker.state === "redundant" && !saved && now() !== "full") say("failed");
      });
    }
    watch(registration.installing);
    registration.addEventListener("updatefound", function () { watch(registration.installing); });
    if (registration.active) registration.active.postMessage("status");
    // Without signal this fails, and the time of the last check stands.
    function look() { check(registration).catch(function () {}); }
    look();
    // A page may stay open for days, in a pocket, and come back to signal there.
    addEventListener("online", look);
    document.addEventListener("visibilitychange", function () { if (!document.hidden) look(); });
  }
  async function check(registration) {
    const first = !registration.active, last = Date.parse(recalled("checked") || "");
    if (!first && Date.now() - last < 600000) return;
    if (!first) await registration.update();
    remember("checked", new Date().toISOString());
    if (saved && now() === "saved") whole();
  }

  function keep() {
    const workers = navigator.serviceWorker;
    let served = !!workers.controller;
    workers.addEventListener("message", hear);
    workers.startMessages();
    workers.addEventListener("controllerchange", function () {
      if (agreed) location.reload();
      else if (served) offer(function () { location.reload(); }); // agreed to on another page
      served = true;
    });
    const registered = workers.register(root + "sw.js", { updateViaCache: "none" });
    registered.catch(function () { /* told below */ });
    known.then(function () { return registered; }).then(follow, function () {
      if (!served) say("failed");
    });
  }

  // What a phone needs to put the site on its home screen: asked for only after the first view.
  function linkManifest() {
    const link = document.createElement("link");
    link.rel = "manifest";
    link.href = root + "site.webmanifest";
    document.head.appendChild(link);
  }

  const known = new Promise(function (know) {
    const script = document.createElement("script");
    script.src = root + "assets/revision.js";
    script.onload = script.onerror = function () {
      revision = window.refgenRevision || "";
      know();
    };
    document.head.appendChild(script);
  });
  if (location.protocol === "file:") known.then(function () { say("folder", { revision: revision }); });
  else if (!/^https?:$/.test(location.protocol)) return;
  else if (!("serviceWorker" in navigator)) say("unable");
  else {
    linkManifest();
    keep();
  }
})();
