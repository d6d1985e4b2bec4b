// The search's page: what is typed, and the list of what is found. Every word it shows comes from
// the page. The index is another script, loaded on first use and without fetch, so that it also
// runs from a folder.
const FORMAT = 2;
const base = document.documentElement.getAttribute("data-root");
let data = null, waiting = null;

function load() {
  waiting = waiting || new Promise(function (resolve, reject) {
    const script = document.createElement("script");
    script.src = base + "assets/search-index.js";
    script.onload = function () {
      const index = window.refgenIndex;
      if (!index || index.format !== FORMAT) { reject(new Error("index")); return; }
      data = unpack(index);
      resolve(data);
    };
    script.onerror = function () { reject(new Error("index")); };
    document.head.appendChild(script);
  });
  return waiting;
}

window.refgenSearch = {
  cut: cut, root: root, load: load, unpack: unpack,
  find: function (query) { return find(data, query); }
};

const input = document.getElementById("q");
if (!input) return; // the functions alone, in a page of a test
const list = document.getElementById("found"), told = document.getElementById("count");
const main = document.querySelector("main");
let active = -1, timer = 0;

function options() { return list.children; }
function choose(n) {
  const all = options();
  active = n;
  for (let i = 0; i < all.length; i += 1) all[i].setAttribute("aria-selected", String(i === n));
  if (n < 0) { input.removeAttribute("aria-activedescendant"); return; }
  input.setAttribute("aria-activedescendant", all[n].id);
  all[n].scrollIntoView({ block: "nearest" });
}
function element(name, text) {
  const made = document.createElement(name);
  made.textContent = text;
  return made;
}
function option(hit, n) {
  const link = document.createElement("a");
  link.setAttribute("role", "option");
  link.setAttribute("aria-selected", "false");
  link.id = "found-" + n;
  link.href = base + hit.record.address;
  link.appendChild(element("b", hit.record.title));
  if (hit.record.kind) { link.append(" "); link.appendChild(element("small", hit.record.kind)); }
  if (hit.record.line) { link.append(" "); link.appendChild(element("span", hit.record.line)); }
  return link;
}
function say(name, n) {
  told.textContent = name ? told.getAttribute("data-" + name).replace("{count}", String(n)) : "";
}
function keepAddress() {
  clearTimeout(timer);
  timer = 0;
  const query = input.value.trim(), address = new URL(location.href);
  if (query) address.searchParams.set("q", query); else address.searchParams.delete("q");
  if (address.href !== location.href) history.replaceState(history.state, "", address.href);
}
function show() {
  const query = input.value.trim();
  list.textContent = "";
  choose(-1);
  if (!query || !data) {
    list.hidden = true;
    input.setAttribute("aria-expanded", "false");
    say(query ? "waiting" : "");
    return;
  }
  const answer = find(data, input.value);
  answer.hits.forEach(function (hit, n) { list.appendChild(option(hit, n)); });
  const many = answer.hits.length;
  list.hidden = !many;
  input.setAttribute("aria-expanded", String(many > 0));
  say(!answer.fits ? (many ? "near" : "none") : many === 1 ? "one" : "many", many);
}
function start() {
  load().then(show, function () { if (input.value.trim()) say("failed"); })
    .then(function () { main.removeAttribute("data-waiting"); });
}

input.addEventListener("input", function () {
  start();
  show();
  clearTimeout(timer);
  timer = setTimeout(keepAddress, 300);
});
input.addEventListener("keydown", function (event) {
  const many = options().length;
  if (event.isComposing) return;
  if (event.key === "ArrowDown" && many) choose((active + 1) % many);
  else if (event.key === "ArrowUp" && many) choose(active > 0 ? active - 1 : many - 1);
  else if (event.key === "Enter" && active >= 0) options()[active].click();
  // On a phone Enter puts the keyboard away, so that the results are seen.
  else if (event.key === "Enter" && many && matchMedia("(pointer: coarse)").matches) input.blur();
  else if (event.key === "Enter" && many) choose(0);
  else if (event.key === "Escape" && active >= 0) choose(-1);
  else if (event.key === "Escape") { input.value = ""; show(); keepAddress(); }
  else return;
  event.preventDefault();
});
list.addEventListener("click", keepAddress);
window.addEventListener("pagehide", function () { if (timer) keepAddress(); });

input.closest(".find").hidden = false;
// The address before what the browser kept of the field: coming back shows what was left.
input.value = new URLSearchParams(location.search).get("q") || input.value;
// What is found would push what stands below it away from under the thumb, so that comes with it.
if (input.value) { main.setAttribute("data-waiting", ""); start(); show(); }
else {
  if (document.readyState === "complete") start();
  else document.addEventListener("refgen:seen", start);
}
if (!input.value || matchMedia("(pointer: fine)").matches) input.focus();
