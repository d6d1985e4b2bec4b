// The pages last looked at and a few pinned ones, on the home page. Kept on this phone only.
(function () {
  "use strict";
  var page = window.refgenPage, words = window.refgenWords;
  var root = new URL(page.base || "./", location.href).pathname;
  var SEEN = 6, PINNED = 12;

  // Only pages of this site: a path below its root, never another scheme or host.
  function proper(entry) {
    return Array.isArray(entry) && /^[a-z0-9-]+\/[a-z0-9-]+\.html$|^[a-z0-9-]+\.html$/.test(entry[0]) &&
      typeof entry[1] === "string";
  }
  function list(name) {
    try {
      var kept = JSON.parse(page.recall(name + ":" + root) || "[]");
      return Array.isArray(kept) ? kept.filter(proper) : [];
    } catch (e) { return []; }
  }
  function put(name, entries) {
    page.keep(name + ":" + root, entries.length ? JSON.stringify(entries) : null);
  }
  function without(entries, address) {
    return entries.filter(function (entry) { return entry[0] !== address; });
  }

  function rows(title, entries, before) {
    if (!entries.length) return;
    var section = document.createElement("section"), head = document.createElement("h2");
    var rows = document.createElement("ul");
    section.className = "links";
    head.textContent = title;
    rows.className = "rows";
    entries.forEach(function (entry) {
      var item = document.createElement("li"), link = document.createElement("a");
      link.href = page.base + entry[0];
      link.textContent = entry[1];
      item.appendChild(link);
      rows.appendChild(item);
    });
    section.append(head, rows);
    before.before(section);
  }
  function pinButton(address, title) {
    var line = document.createElement("p"), button = document.createElement("button");
    button.type = "button";
    button.className = "choose pin";
    function show() {
      var pinned = list("pinned").some(function (entry) { return entry[0] === address; });
      button.textContent = pinned ? words.here_unpin : words.here_pin;
    }
    button.onclick = function () {
      var pinned = list("pinned"), others = without(pinned, address);
      if (others.length === pinned.length) others.unshift([address, title]);
      put("pinned", others.slice(0, PINNED));
      show();
    };
    line.appendChild(button);
    document.querySelector(".page-foot").before(line);
    show();
  }

  document.addEventListener("DOMContentLoaded", function () {
    var main = document.querySelector("main"), address = decodeURIComponent(location.pathname.slice(root.length));
    if (address === "" || address === "index.html") {
      var before = document.querySelector("#_more").parentNode;
      rows(words.here_pinned, list("pinned"), before);
      rows(words.here_seen, list("seen"), before);
    } else if (main.getAttribute("data-kind") !== "pages" && !main.hasAttribute("data-moved")) {
      var title = document.querySelector("h1").textContent;
      put("seen", [[address, title]].concat(without(list("seen"), address)).slice(0, SEEN));
      pinButton(address, title);
    }
  });
})();
