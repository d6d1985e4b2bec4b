// What a page does beyond being read. A classic script, so that it also runs from a folder; every
// page stands without it. Nothing here makes HTML from text: elements are made, text is set.
(function () {
  "use strict";
  var root = document.documentElement;
  var base = root.getAttribute("data-root");

  // Storage may be shut off; then nothing is remembered and nothing breaks.
  function recall(name) {
    try { return localStorage.getItem("refgen:" + name); } catch (e) { return null; }
  }
  function keep(name, value) {
    try {
      if (value === null) localStorage.removeItem("refgen:" + name);
      else localStorage.setItem("refgen:" + name, value);
    } catch (e) { /* not remembered */ }
  }
  function each(selector, act) {
    Array.prototype.forEach.call(document.querySelectorAll(selector), act);
  }
  function tell(text, forLong) {
    var told = document.getElementById("_told");
    told.textContent = text;
    clearTimeout(tell.timer);
    tell.timer = setTimeout(function () { told.textContent = ""; }, forLong ? 8000 : 2500);
  }

  // What the scripts joined to this one share with it.
  window.refgenPage = { base: base, recall: recall, keep: keep, each: each, tell: tell };

  // ---- daylight or dark: the reader's choice before the phone's
  var look = recall("look");
  if (look === "dark" || look === "light") root.setAttribute("data-look", look);
  function darkNow() {
    var chosen = root.getAttribute("data-look");
    return chosen ? chosen === "dark" : matchMedia("(prefers-color-scheme: dark)").matches;
  }

  // ---- however large the reader's text, neither the page's end nor what has the focus lies under
  // what stays in view
  function keepClear(element, side, room) {
    if (!element || !window.ResizeObserver) return;
    new ResizeObserver(function () {
      var needed = element.offsetHeight + 14;
      if (needed <= 76 && !root.style[side]) return;
      root.style[side] = Math.max(76, needed) + "px";
      if (room) root.style.setProperty(room, element.offsetHeight + "px");
    }).observe(element);
  }

  // ---- my machine
  function machine() {
    try {
      var kept = JSON.parse(recall("machine") || "null");
      return kept && typeof kept.id === "string" && typeof kept.parts === "string" ? kept : null;
    } catch (e) { return null; }
  }
  function words(element, name) {
    var value = element.getAttribute(name);
    return value ? value.split(" ") : [];
  }
  function applies(element, parts) {
    function has(part) { return parts.indexOf(part) >= 0; }
    var all = words(element, "data-needs"), any = words(element, "data-needs-any");
    if (!all.every(has) || (any.length && !any.some(has))) return false;
    var notAll = words(element, "data-unless"), notAny = words(element, "data-unless-any");
    if (!notAll.length && !notAny.length) return true;
    return !(notAll.every(has) && (!notAny.length || notAny.some(has)));
  }
  function showFor(mine) {
    var parts = mine ? mine.parts.split(" ") : [];
    var fitted = "[data-needs],[data-needs-any],[data-unless],[data-unless-any]";
    each(fitted, function (element) { element.hidden = !!mine && !applies(element, parts); });
    each("section.links", function (section) {
      var rows = section.querySelectorAll("li");
      if (!section.querySelector("li[data-needs],li[data-needs-any],li[data-unless],li[data-unless-any]")) return;
      section.hidden = Array.prototype.every.call(rows, function (row) { return row.hidden; });
    });
    each("[data-lacks]", function (line) {
      line.hidden = !mine || parts.indexOf(line.getAttribute("data-lacks")) >= 0;
      if (mine) line.textContent = line.getAttribute("data-said").replace("{machine}", mine.title);
    });
    each("tr[data-row-machine]", function (row) {
      if (mine && row.getAttribute("data-row-machine") === mine.id) row.setAttribute("data-mine", "");
      else row.removeAttribute("data-mine");
    });
    each(".mine", function (line) {
      line.hidden = !mine || !document.querySelector(fitted);
      if (mine) line.querySelector("span").textContent = line.getAttribute("data-shown").replace("{machine}", mine.title);
      line.querySelector("button").onclick = function () {
        var heading = document.querySelector("h1");
        showFor(null);
        line.hidden = true;
        heading.tabIndex = -1;  // the button is gone: reading goes on at the heading below it
        heading.focus();
      };
    });
    each(".mine-now", function (line) {
      line.hidden = !mine;
      if (mine) line.querySelector("b").textContent = mine.title;
    });
  }

  // ---- links to copy
  function copyLink(event) {
    var address = event.currentTarget.href;
    var told = document.getElementById("_told");
    if (!navigator.clipboard) { tell(told.getAttribute("data-failed")); return; }
    navigator.clipboard.writeText(address).then(
      function () { tell(told.getAttribute("data-copied")); },
      function () { tell(told.getAttribute("data-failed")); });
  }

  // ---- the way back to the lesson that sent the reader here, kept for this tab only
  function lessonLinks() {
    if (document.querySelector("main").getAttribute("data-kind") !== "lessons") return;
    [["step", ".lesson"], ["question", ".cause"]].forEach(function (sort) {
      var places = document.querySelectorAll(sort[1]);
      Array.prototype.forEach.call(places, function (place, index) {
        Array.prototype.forEach.call(place.querySelectorAll(".rows a"), function (link) {
          link.addEventListener("click", function () {
            try {
              sessionStorage.setItem("refgen:lesson", JSON.stringify({
                to: link.pathname, from: location.pathname + location.search + "#" + place.id,
                sort: sort[0], number: index + 1, count: places.length
              }));
            } catch (e) { /* the browser's own way back remains */ }
          });
        });
      });
    });
  }
  function backToLesson() {
    var sent = null;
    try { sent = JSON.parse(sessionStorage.getItem("refgen:lesson") || "null"); } catch (e) { return; }
    if (!sent || sent.to !== location.pathname) return;
    each(".back", function (line) {
      var link = line.querySelector("a");
      // Only a path, never another scheme or host.
      link.href = location.protocol + "//" + location.host + "/" + String(sent.from).replace(/^\/+/, "");
      link.textContent = (line.getAttribute("data-" + sent.sort) || "")
        .replace("{number}", sent.number).replace("{count}", sent.count);
      line.hidden = false;
    });
  }

  // ---- files that no phone keeps: asked for first, so that without signal a sentence says so
  function askFirst(link) {
    var there = false;
    link.addEventListener("click", function (event) {
      if (there || location.protocol === "file:") { there = false; return; }
      event.preventDefault();
      var given = new AbortController();
      setTimeout(function () { given.abort(); }, 8000);
      fetch(link.href, { method: "HEAD", cache: "no-store", signal: given.signal }).then(function (answer) {
        if (!answer.ok) throw new Error(link.href);
        there = true;
        link.click();
      }).catch(function () { tell(window.refgenWords.here_needs_signal, true); });
    });
  }

  // ---- what comes when the page has loaded and been seen: the script of what it cannot show by
  // itself, how it looks on paper, and what keeps all for use without signal; while served for
  // editing nothing is
  function load(address) {
    var script = document.createElement("script");
    script.src = base + address;
    document.body.appendChild(script);
  }
  var begun = false;
  function loadOwn() {
    if (!begun) each("[data-script]", function (place) { load(place.getAttribute("data-script")); });
    begun = true;
  }
  function loadRest() {
    document.dispatchEvent(new CustomEvent("refgen:seen"));
    loadOwn();
    var styles = document.createElement("link");
    styles.rel = "stylesheet";
    styles.media = "print";
    styles.href = base + "assets/print.css";
    document.head.appendChild(styles);
    if (document.getElementById("_kept")) load("assets/offline.js");
  }
  addEventListener("load", function () {
    // A page behind another one is not painted, and not every browser tells.
    var waiting = setTimeout(go, 1000), painted = window.PerformanceObserver && new PerformanceObserver(go);
    function go() {
      clearTimeout(waiting);
      if (painted) painted.disconnect();
      loadRest();
    }
    if (painted) painted.observe({ type: "paint", buffered: true });
  });

  document.addEventListener("DOMContentLoaded", function () {
    lessonLinks();
    backToLesson();
    keepClear(document.querySelector(".bar"), "scrollPaddingBottom", "--bar");
    keepClear(document.querySelector(".ws-now"), "scrollPaddingTop");
    each(".js:not(.mine):not(.overdue):not(.mine-now)", function (element) { element.hidden = false; });
    each("button.look", function (button) {
      button.onclick = function () {
        var next = darkNow() ? "light" : "dark";
        root.setAttribute("data-look", next);
        keep("look", next);
      };
    });
    each("a[download]", askFirst);
    each("[data-copy]", function (link) { link.addEventListener("click", copyLink); });
    each("button[data-machine]", function (button) {
      button.onclick = function () {
        var id = button.getAttribute("data-machine");
        keep("machine", id ? JSON.stringify({
          id: id, title: button.getAttribute("data-title"),
          address: button.getAttribute("data-address"), parts: button.getAttribute("data-parts")
        }) : null);
        var mine = machine();
        showFor(mine);
        if (mine) tell(mine.title);
      };
    });
    showFor(machine());
    each(".checked[data-next]", function (line) {
      var due = new Date(line.getAttribute("data-next") + "T00:00:00");
      if (due < new Date()) each(".overdue", function (o) { o.hidden = false; });
    });
    // A part that has moved to another page: whoever follows an old link to it is led on.
    function leadOn() {
      var id = location.hash.slice(1), row = id && document.getElementById(id);
      if (row && row.classList.contains("moved-item")) location.replace(row.href);
    }
    addEventListener("hashchange", leadOn);
    leadOn();
    var moved = document.querySelector("main[data-moved]");
    if (moved) location.replace(moved.getAttribute("data-moved") + location.hash);
    // With a setup in the address or a machine of one's own there is an answer to wait for.
    if (/=/.test(location.hash) || machine()) loadOwn();
  });
})();
