// Steps and checklists ticked off while working. Ticks stand in the phone's store under the page's
// path and the mark of its content, so they outlive a locked phone and never cover changed steps.
(function () {
  "use strict";
  var page = window.refgenPage, words = window.refgenWords, name = "ticks:" + location.pathname;
  var ticked = [], mark = "", controls = [], clear = null;

  function read() {
    try {
      var kept = JSON.parse(page.recall(name) || "null");
      if (!kept || !Array.isArray(kept.ids)) return [];
      if (kept.mark === mark) return kept.ids;
      if (kept.ids.length) page.tell(words.here_ticks_changed);
    } catch (e) { /* unreadable: as if nothing had been ticked */ }
    page.keep(name, null);
    return [];
  }
  function show() {
    controls.forEach(function (control) {
      var done = ticked.indexOf(control.id) >= 0;
      if (control.input) control.input.checked = done;
      else control.button.setAttribute("aria-pressed", String(done));
      control.item.toggleAttribute("data-done", done);
    });
    var count = controls.filter(function (control) { return ticked.indexOf(control.id) >= 0; }).length;
    clear.hidden = count === 0;
    clear.textContent = words.here_ticks_clear.replace("{count}", count).replace("{all}", controls.length);
    clear.removeAttribute("data-sure");
  }
  function set(id, done) {
    ticked = ticked.filter(function (other) { return other !== id; });
    if (done) ticked.push(id);
    page.keep(name, ticked.length ? JSON.stringify({ mark: mark, ids: ticked }) : null);
    show();
  }

  function stepControl(item, number) {
    var button = document.createElement("button"), sign = document.createElement("span");
    button.type = "button";
    button.className = "tick";
    button.setAttribute("aria-label", words.here_step_done.replace("{number}", number));
    sign.setAttribute("aria-hidden", "true");
    button.appendChild(sign);
    item.querySelector(".num").after(button);
    button.onclick = function () { set(item.id, ticked.indexOf(item.id) < 0); };
    controls.push({ id: item.id, item: item, button: button });
  }
  function boxControl(item, input) {
    input.addEventListener("change", function () { set(item.id, input.checked); });
    controls.push({ id: item.id, item: item, input: input });
  }
  function clearButton(after) {
    var line = document.createElement("p");
    clear = document.createElement("button");
    clear.type = "button";
    clear.className = "choose";
    // Two presses: a glove lands on things.
    clear.onclick = function () {
      if (!clear.hasAttribute("data-sure")) {
        clear.setAttribute("data-sure", "");
        clear.textContent = words.here_ticks_sure;
        setTimeout(show, 5000);
      } else {
        ticked = [];
        page.keep(name, null);
        show();
        // The button is gone: who works by keyboard begins again at the first tick.
        var first = controls.filter(function (control) { return !control.item.closest("[hidden]"); })[0];
        if (first) (first.input || first.button).focus();
      }
    };
    line.appendChild(clear);
    after.after(line);
  }

  document.addEventListener("DOMContentLoaded", function () {
    page.each(".steps", function (list) {
      Array.prototype.filter.call(list.children, function (item) {
        return item.id && item.querySelector(".num");
      }).forEach(function (item, index) { stepControl(item, index + 1); });
    });
    page.each(".ticks li[id]", function (item) { boxControl(item, item.querySelector("input")); });
    if (!controls.length) return;
    mark = document.querySelector("main").getAttribute("data-mark");
    var last = controls[controls.length - 1].item.parentNode;
    clearButton(last);
    ticked = read();
    show();
    // The same page open twice, or shown again from the browser's own store.
    addEventListener("storage", function () { ticked = read(); show(); });
    addEventListener("pageshow", function (event) { if (event.persisted) { ticked = read(); show(); } });
  });
})();
